import { randomInt, randomUUID } from 'node:crypto';
import type { Kysely, Transaction } from 'kysely';
import type { Database } from '../database/tables.ts';
import type { ShopWork } from '../labsheets/index.ts';
import { listReferences, type Reference, type ShopEngine } from '../shop/index.ts';
import type { Actor } from '../web/actor.ts';
import { Conflict } from '../web/errors.ts';
import type { Values } from '../web/forms.ts';
import type { GaugeTaken, OnPaper } from './queries.ts';
import type { Outcome } from './rules.ts';
import type { SigningRole, StepState, StudentMark } from './tables.ts';

export interface Beginning {
  readonly sectionId: number;
  readonly itemId: number;
  readonly studentId: number;
  readonly barredBy: number | null;
  readonly engine: ShopEngine;
  readonly gaugeId: number | null;
  readonly wrenchId: number | null;
  readonly gauge: GaugeTaken | null;
  readonly wrench: GaugeTaken | null;
  readonly work: ShopWork;
  /** Of a sheet on paper the position is known already. */
  readonly paper: (OnPaper & { readonly position: number }) | null;
  readonly at: string;
}

/**
 * Begins a sign-off; the pump position is drawn now, among those the student has not been signed off on at this engine. Where references
 * hold for some of them, it is one of those. Throws Conflict where the student has one open.
 */
export async function beginSignOff(
  trx: Transaction<Database>,
  actor: Actor,
  given: Beginning,
  draw: (below: number) => number = (below) => randomInt(below),
): Promise<string> {
  const { engine, paper, at } = given;
  const before = await trx
    .selectFrom('sign_offs as one')
    .leftJoin('sign_off_signatures as signature', (join) =>
      join.onRef('signature.sign_off_id', '=', 'one.id').on('signature.role', '=', 'assessor'),
    )
    .where('one.section_id', '=', given.sectionId)
    .where('one.student_id', '=', given.studentId)
    .where('one.item_id', '=', given.itemId)
    .select(['one.engine_id', 'one.position', 'signature.id as signed'])
    .execute();
  if (before.some(({ signed }) => signed === null))
    throw new Conflict('This student has a sign-off open. Finish and sign that one first.');
  const lobes = await listReferences(trx, engine, at);
  const used = new Set(before.filter((one) => one.engine_id === engine.id).map(({ position }) => position));
  const fresh = lobes.filter(({ position }) => !used.has(position));
  const among = fresh.length > 0 ? fresh : lobes;
  const known = among.filter(({ state }) => state === 'holds');
  const drawn = known.length > 0 ? known : among;
  const position = paper?.position ?? drawn[draw(drawn.length)]?.position ?? 1;
  const lobe = lobes[position - 1];
  const reference: Reference | null = lobe?.state === 'holds' ? lobe.reference : null;
  const id = randomUUID();
  await trx
    .insertInto('sign_offs')
    .values({
      id,
      section_id: given.sectionId,
      item_id: given.itemId,
      student_id: given.studentId,
      barred_by: given.barredBy,
      engine_id: engine.id,
      engine_version: engine.version,
      position,
      gauge_id: given.gaugeId,
      wrench_id: given.wrenchId,
      work: JSON.stringify(given.work),
      gauges: JSON.stringify({ gauge: given.gauge, wrench: given.wrench }),
      reference: reference === null ? null : JSON.stringify(reference),
      paper: paper === null ? null : JSON.stringify({ signedBy: paper.signedBy, signedOn: paper.signedOn }),
      started_by: actor.id,
      started_at: at,
    })
    .execute();
  return id;
}

/** Where something comes from: its own number, so that what is sent twice is kept once, and the clock of the phone. */
export interface Sent {
  readonly clientId: string;
  readonly madeAt: string;
}

export interface Tick extends Sent {
  /** From 0. */
  readonly step: number;
  readonly state: StepState | StudentMark;
  readonly note: string;
}

/** Puts ticks down. One that has arrived before is passed over. Throws Conflict once the assessor has signed. */
export async function putTicks(
  trx: Transaction<Database>,
  actor: Pick<Actor, 'id'>,
  signOffId: string,
  ticks: readonly Tick[],
  arrivedAt: string,
): Promise<void> {
  const fresh = await notArrived(trx, 'sign_off_ticks', signOffId, ticks);
  if (fresh.length === 0) return;
  await refuseSigned(trx, signOffId);
  for (const { clientId, madeAt, step, state, note } of fresh)
    await trx
      .insertInto('sign_off_ticks')
      .values({
        sign_off_id: signOffId,
        ...{ step, state, note },
        person_id: actor.id,
        client_id: clientId,
        made_at: madeAt,
        arrived_at: arrivedAt,
      })
      .execute();
}

/** Puts down what was read, as typed. The same rules as for ticks. */
export async function putReading(
  trx: Transaction<Database>,
  actor: Pick<Actor, 'id'>,
  signOffId: string,
  typed: Values,
  sent: Sent,
  arrivedAt: string,
): Promise<void> {
  if ((await notArrived(trx, 'sign_off_readings', signOffId, [sent])).length === 0) return;
  await refuseSigned(trx, signOffId);
  await trx
    .insertInto('sign_off_readings')
    .values({
      sign_off_id: signOffId,
      typed: JSON.stringify(typed),
      person_id: actor.id,
      client_id: sent.clientId,
      made_at: sent.madeAt,
      arrived_at: arrivedAt,
    })
    .execute();
}

/** Signs. Throws Conflict where that role has signed already, and where the assessor would sign before the student. */
export async function sign(
  trx: Transaction<Database>,
  signOffId: string,
  given: {
    readonly role: SigningRole;
    readonly personId: number;
    readonly outcome: Outcome | null;
    readonly sent: Sent;
    readonly arrivedAt: string;
  },
): Promise<void> {
  const { role, sent } = given;
  if ((await notArrived(trx, 'sign_off_signatures', signOffId, [sent])).length === 0) return;
  const roles = await signedRoles(trx, signOffId);
  if (roles.has(role)) throw new Conflict('This is signed already.');
  if (role === 'assessor' && !roles.has('student'))
    throw new Conflict('The student signs first, then the assessor.');
  if (role === 'countersigned' && !roles.has('assessor')) throw new Conflict('Nobody has signed this yet.');
  await trx
    .insertInto('sign_off_signatures')
    .values({
      sign_off_id: signOffId,
      role,
      person_id: given.personId,
      outcome: given.outcome === null ? null : JSON.stringify(given.outcome),
      client_id: sent.clientId,
      made_at: sent.madeAt,
      arrived_at: given.arrivedAt,
    })
    .execute();
}

async function notArrived<T extends Sent>(
  db: Kysely<Database>,
  table: 'sign_off_ticks' | 'sign_off_readings' | 'sign_off_signatures',
  signOffId: string,
  sent: readonly T[],
): Promise<readonly T[]> {
  const rows = await db.selectFrom(table).where('sign_off_id', '=', signOffId).select('client_id').execute();
  const there = new Set(rows.map(({ client_id }) => client_id));
  const fresh: T[] = [];
  for (const one of sent) {
    if (there.has(one.clientId)) continue;
    there.add(one.clientId);
    fresh.push(one);
  }
  return fresh;
}

async function signedRoles(db: Kysely<Database>, signOffId: string): Promise<ReadonlySet<SigningRole>> {
  const rows = await db
    .selectFrom('sign_off_signatures')
    .where('sign_off_id', '=', signOffId)
    .select('role')
    .execute();
  return new Set(rows.map(({ role }) => role));
}

async function refuseSigned(db: Kysely<Database>, signOffId: string): Promise<void> {
  if ((await signedRoles(db, signOffId)).has('assessor'))
    throw new Conflict('This is signed and stays as it is. Begin another sign-off to do it again.');
}
