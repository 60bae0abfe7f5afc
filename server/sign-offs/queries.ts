import type { Kysely } from 'kysely';
import type { Database } from '../database/tables.ts';
import type { LengthUnit } from '../engine/index.ts';
import type { ShopWork } from '../labsheets/index.ts';
import { getEngine, type Reference, type ShopEngineContent, USUAL_GRADUATION } from '../shop/index.ts';
import { NotFound } from '../web/errors.ts';
import type { Values } from '../web/forms.ts';
import {
  agreementIn,
  type GradedShopReading,
  gradeShopReading,
  readShopReading,
  type ShopReading,
} from './reading.ts';
import { type Outcome, outcomeOf } from './rules.ts';
import type { SigningRole, StepState, StudentMark } from './tables.ts';

/** A gauge or a wrench as it was taken to the bench. */
export interface GaugeTaken {
  readonly number: string;
  readonly what: string;
  readonly dueOn: string | null;
  readonly graduation: number | null;
  /** Said where its check was overdue and it was used all the same. */
  readonly warning: string | null;
}

/** Of a sheet signed on paper. */
export interface OnPaper {
  readonly signedBy: string;
  /** Day, as `2026-11-27`. */
  readonly signedOn: string;
}

export interface SignedAs {
  readonly role: SigningRole;
  readonly name: string;
  readonly madeAt: string;
  readonly arrivedAt: string;
  /** By a substitute: it waits for a countersignature. */
  readonly substitute: boolean;
}

/** What stands beside a step. */
export interface StepShown {
  readonly text: string;
  readonly hold: boolean;
  readonly alone: boolean;
  readonly state: StepState | null;
  readonly note: string;
  /** What the student says of it. */
  readonly mark: StudentMark | null;
  readonly markedAt: string | null;
  /** The student is ready and nobody has looked since. */
  readonly waiting: boolean;
}

/** A sign-off with all that was put down, as far as whoever assesses may see it: the reference included. */
export interface SignOff {
  readonly id: string;
  readonly sectionId: number;
  readonly itemId: number;
  readonly itemTitle: string;
  readonly student: { readonly id: number; readonly name: string; readonly number: string };
  readonly barredBy: string | null;
  readonly engine: ShopEngineContent & { readonly id: number };
  readonly position: number;
  readonly gauge: GaugeTaken | null;
  readonly wrench: GaugeTaken | null;
  readonly work: ShopWork;
  readonly reference: Reference | null;
  readonly paper: OnPaper | null;
  readonly startedBy: string;
  readonly startedAt: string;
  readonly steps: readonly StepShown[];
  readonly typed: Values;
  readonly reading: ShopReading;
  readonly graded: GradedShopReading;
  /** As it stands now; what was signed for stands in `signed`. */
  readonly outcome: Outcome;
  readonly signatures: readonly SignedAs[];
  /** What the assessor signed for; null before. */
  readonly signed: Outcome | null;
  readonly photos: readonly { readonly id: number; readonly step: number | null; readonly at: string }[];
}

/** One sign-off, whole. The caller has made sure that it is theirs to see. Throws NotFound. */
export async function getSignOff(db: Kysely<Database>, id: string): Promise<SignOff> {
  const row = await heads(db).where('one.id', '=', id).executeTakeFirst();
  if (!row) throw new NotFound();
  const [ticks, readings, signatures, photos] = await Promise.all([
    db.selectFrom('sign_off_ticks').where('sign_off_id', '=', id).selectAll().orderBy('id').execute(),
    db.selectFrom('sign_off_readings').where('sign_off_id', '=', id).selectAll().orderBy('id').execute(),
    db
      .selectFrom('sign_off_signatures as signature')
      .innerJoin('people as person', 'person.id', 'signature.person_id')
      .where('signature.sign_off_id', '=', id)
      .selectAll('signature')
      .select(['person.given_name', 'person.family_name', 'person.substitute_until'])
      .orderBy('signature.id')
      .execute(),
    db
      .selectFrom('sign_off_photos')
      .where('sign_off_id', '=', id)
      .select(['id', 'step', 'at'])
      .orderBy('id')
      .execute(),
  ]);
  const engine = await engineAt(db, row.engine_id, row.engine_version);
  const work = JSON.parse(row.work) as ShopWork;
  const gauges = JSON.parse(row.gauges) as { gauge: GaugeTaken | null; wrench: GaugeTaken | null };
  const reference = row.reference === null ? null : (JSON.parse(row.reference) as Reference);
  // Box by box: student and assessor may write at the same time, each on a phone of their own.
  const typed: Values = Object.assign({}, ...readings.map((one) => JSON.parse(one.typed) as Values));
  const { reading } = readShopReading(typed, engine.unit);
  const graded = gradeShopReading(reading, {
    ...{ unit: engine.unit, limits: engine, reference },
    agreement: agreementIn(work.agreement, engine.unit),
    graduation: gauges.gauge?.graduation ?? USUAL_GRADUATION[engine.unit as LengthUnit],
  });
  const steps = work.steps.map((step, index) =>
    shownStep(
      step,
      ticks.filter((tick) => tick.step === index),
    ),
  );
  const states = new Map(
    steps.flatMap(({ state }, index) => (state === null ? [] : [[index, state] as const])),
  );
  const assessed = ticks.filter(({ state }) => isStepState(state));
  const outcome = outcomeOf(
    work,
    states,
    reading,
    graded,
    assessed.map(({ made_at }) => made_at),
  );
  const assessor = signatures.find(({ role }) => role === 'assessor');
  return {
    ...{ id, sectionId: row.section_id, itemId: row.item_id, itemTitle: row.itemTitle },
    student: {
      id: row.student_id,
      name: `${row.studentGiven} ${row.studentFamily}`,
      number: row.student_number ?? '',
    },
    barredBy: row.barredGiven === null ? null : `${row.barredGiven} ${row.barredFamily}`,
    ...{ engine, position: row.position, ...gauges, work, reference },
    paper: row.paper === null ? null : (JSON.parse(row.paper) as OnPaper),
    startedBy: `${row.startedGiven} ${row.startedFamily}`,
    startedAt: row.started_at,
    ...{ steps, typed, reading, graded, outcome },
    signatures: signatures.map((one) => ({
      role: one.role,
      name: `${one.given_name} ${one.family_name}`,
      madeAt: one.made_at,
      arrivedAt: one.arrived_at,
      substitute: one.substitute_until !== null,
    })),
    signed: assessor?.outcome ? (JSON.parse(assessor.outcome) as Outcome) : null,
    photos,
  };
}

export function isStepState(state: StepState | StudentMark): state is StepState {
  return state !== 'done' && state !== 'ready';
}

interface TickRow {
  readonly state: StepState | StudentMark;
  readonly note: string;
  readonly arrived_at: string;
}

function shownStep(
  step: { readonly text: string; readonly hold: boolean; readonly alone: boolean },
  ticks: readonly TickRow[],
): StepShown {
  const assessed = ticks.findLast(({ state }) => isStepState(state));
  const own = ticks.findLast(({ state }) => !isStepState(state));
  const seenSince =
    assessed !== undefined && own !== undefined && ticks.indexOf(assessed) > ticks.indexOf(own);
  return {
    ...step,
    state: assessed === undefined ? null : (assessed.state as StepState),
    note: assessed?.note ?? '',
    mark: own === undefined ? null : (own.state as StudentMark),
    markedAt: own?.arrived_at ?? null,
    waiting: own?.state === 'ready' && !seenSince,
  };
}

async function engineAt(
  db: Kysely<Database>,
  id: number,
  version: number,
): Promise<ShopEngineContent & { id: number }> {
  const row = await db
    .selectFrom('shop_engine_versions')
    .where('engine_id', '=', id)
    .where('version', '=', version)
    .select('content')
    .executeTakeFirst();
  return row ? { ...(JSON.parse(row.content) as ShopEngineContent), id } : getEngine(db, id);
}

function heads(db: Kysely<Database>) {
  return db
    .selectFrom('sign_offs as one')
    .innerJoin('lab_sheet_items as item', 'item.id', 'one.item_id')
    .innerJoin('people as student', 'student.id', 'one.student_id')
    .innerJoin('people as starter', 'starter.id', 'one.started_by')
    .leftJoin('people as barred', 'barred.id', 'one.barred_by')
    .selectAll('one')
    .select([
      'item.title as itemTitle',
      'student.given_name as studentGiven',
      'student.family_name as studentFamily',
      'student.student_number',
      'starter.given_name as startedGiven',
      'starter.family_name as startedFamily',
      'barred.given_name as barredGiven',
      'barred.family_name as barredFamily',
    ]);
}

/** A sign-off in a list. */
export interface SignOffLine {
  readonly id: string;
  readonly sectionId: number;
  readonly itemId: number;
  readonly itemTitle: string;
  readonly studentId: number;
  readonly studentName: string;
  readonly engineNumber: string;
  readonly position: number;
  readonly startedAt: string;
  readonly signedAt: string | null;
  readonly passed: boolean | null;
  readonly onPaper: boolean;
  /** Signed by a substitute and waiting for an instructor. */
  readonly toCountersign: boolean;
}

/** The sign-offs of a section, newest first. The caller has made sure that it is theirs to see. */
export async function listSignOffs(db: Kysely<Database>, sectionId: number): Promise<readonly SignOffLine[]> {
  return (await lines(db).where('one.section_id', '=', sectionId).execute()).map(toLine);
}

/** A student's own, in all their sections, newest first. */
export async function listOwnSignOffs(
  db: Kysely<Database>,
  studentId: number,
): Promise<readonly SignOffLine[]> {
  return (await lines(db).where('one.student_id', '=', studentId).execute()).map(toLine);
}

function lines(db: Kysely<Database>) {
  return heads(db)
    .innerJoin('shop_engine_versions as version', (join) =>
      join
        .onRef('version.engine_id', '=', 'one.engine_id')
        .onRef('version.version', '=', 'one.engine_version'),
    )
    .leftJoin('sign_off_signatures as signature', (join) =>
      join.onRef('signature.sign_off_id', '=', 'one.id').on('signature.role', '=', 'assessor'),
    )
    .leftJoin('people as signer', 'signer.id', 'signature.person_id')
    .leftJoin('sign_off_signatures as counter', (join) =>
      join.onRef('counter.sign_off_id', '=', 'one.id').on('counter.role', '=', 'countersigned'),
    )
    .select([
      'version.content as engineContent',
      'signature.outcome',
      'signature.arrived_at as signedAt',
      'signer.substitute_until',
      'counter.id as countersigned',
    ])
    .orderBy('one.started_at', 'desc');
}

type Line = Awaited<ReturnType<ReturnType<typeof lines>['execute']>>[number];

function toLine(row: Line): SignOffLine {
  return {
    id: row.id,
    sectionId: row.section_id,
    itemId: row.item_id,
    itemTitle: row.itemTitle,
    studentId: row.student_id,
    studentName: `${row.studentFamily}, ${row.studentGiven}`,
    engineNumber: (JSON.parse(row.engineContent) as ShopEngineContent).number,
    position: row.position,
    startedAt: row.started_at,
    signedAt: row.signedAt,
    passed: row.outcome === null ? null : (JSON.parse(row.outcome) as Outcome).passed,
    onPaper: row.paper !== null,
    toCountersign: row.signedAt !== null && row.substitute_until !== null && row.countersigned === null,
  };
}

/** Somebody who stands at a hold point and waits. */
export interface Waiting {
  readonly signOffId: string;
  readonly studentId: number;
  readonly studentName: string;
  readonly engineNumber: string;
  readonly position: number;
  /** From 1. */
  readonly step: number;
  readonly since: string;
}

/** Who is ready at a hold point of the section, oldest first. */
export async function listReady(db: Kysely<Database>, sectionId: number): Promise<readonly Waiting[]> {
  const open = (await listSignOffs(db, sectionId)).filter(({ signedAt }) => signedAt === null);
  if (open.length === 0) return [];
  const ticks = await db
    .selectFrom('sign_off_ticks')
    .where(
      'sign_off_id',
      'in',
      open.map(({ id }) => id),
    )
    .select(['id', 'sign_off_id', 'step', 'state', 'arrived_at'])
    .orderBy('id')
    .execute();
  return open
    .flatMap((one) => {
      const own = ticks.filter((tick) => tick.sign_off_id === one.id);
      const last = own.findLast(({ state }) => state === 'ready');
      if (last === undefined) return [];
      if (own.some((tick) => tick.id > last.id && tick.step === last.step && isStepState(tick.state)))
        return [];
      return {
        ...{ signOffId: one.id, studentId: one.studentId, studentName: one.studentName },
        ...{ engineNumber: one.engineNumber, position: one.position },
        ...{ step: last.step + 1, since: last.arrived_at },
      };
    })
    .sort((one, other) => (one.since < other.since ? -1 : 1));
}

/** What was signed of an item by each student of a section, for scores: passed or not, and when. A substitute's word waits for the countersignature. */
export async function listSigned(db: Kysely<Database>, sectionId: number) {
  return (await listSignOffs(db, sectionId)).flatMap(
    ({ studentId, itemId, passed, signedAt, toCountersign }) =>
      passed === null || signedAt === null || toCountersign
        ? []
        : [{ studentId, itemId, passed, at: signedAt }],
  );
}
