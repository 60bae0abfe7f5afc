import type { Kysely, Selectable, Transaction } from 'kysely';
import type { Database } from '../database/tables.ts';
import { type Dial, type DialReadingAction, ENGINE_VERSION, type Observation } from '../engine/index.ts';
import type { Actor } from '../web/actor.ts';
import { Conflict, NotFound } from '../web/errors.ts';
import type { Answer } from './answer.ts';
import { chooseDrill, learnerFrom } from './choose.ts';
import type { DrillBoxes } from './schema.ts';
import type { DrillsTables } from './tables.ts';

/** Dials in a round. Common practice, no source: about ten minutes. */
export const DIALS_IN_A_ROUND = 10;

export type RoundRow = Selectable<DrillsTables['drill_rounds']>;
export type DialRow = Selectable<DrillsTables['drill_dials']>;
export type AnswerRow = Selectable<DrillsTables['drill_answers']>;

/** One kept answer, as far as progress is told from it. */
export interface KeptAnswer {
  readonly roundId: string;
  readonly number: number;
  readonly at: string;
  readonly dial: Dial;
  /** Signed, in the dial's graduations. */
  readonly shown: number;
  readonly written: number;
  readonly observations: readonly Observation[];
}

/** Everything a student has answered, oldest first. */
export async function listAnswers(db: Kysely<Database>, studentId: number): Promise<KeptAnswer[]> {
  const rows = await db
    .selectFrom('drill_answers as answer')
    .innerJoin('drill_rounds as round', 'round.id', 'answer.round_id')
    .where('round.student_id', '=', studentId)
    .select([
      'answer.round_id',
      'answer.number',
      'answer.at',
      'answer.dial',
      'answer.shown_graduations',
      'answer.written_graduations',
      'answer.observations',
    ])
    .orderBy('round.started_at')
    .orderBy('answer.at')
    .orderBy('answer.round_id')
    .orderBy('answer.number')
    .execute();
  return rows.map((row) => ({
    roundId: row.round_id,
    number: row.number,
    at: row.at,
    dial: JSON.parse(row.dial) as Dial,
    shown: row.shown_graduations,
    written: row.written_graduations,
    observations: JSON.parse(row.observations) as Observation[],
  }));
}

/** The student's rounds with how many of their dials are answered, newest first. */
export function listRounds(db: Kysely<Database>, studentId: number) {
  return db
    .selectFrom('drill_rounds as round')
    .where('round.student_id', '=', studentId)
    .selectAll('round')
    .select((eb) =>
      eb
        .selectFrom('drill_answers as answer')
        .whereRef('answer.round_id', '=', 'round.id')
        .select((count) => count.fn.countAll<number>().as('n'))
        .$asScalar()
        .$notNull()
        .as('answered'),
    )
    .orderBy('round.started_at', 'desc')
    .orderBy('round.id')
    .execute();
}

/** The student's own round. Throws NotFound when there is none of that id or it is another's. */
export async function getOwnRound(db: Kysely<Database>, actor: Actor, id: string): Promise<RoundRow> {
  const round = await db
    .selectFrom('drill_rounds')
    .where('id', '=', id)
    .where('student_id', '=', actor.id)
    .selectAll()
    .executeTakeFirst();
  if (!round) throw new NotFound();
  return round;
}

/** One dial of a round that is the student's own. Throws NotFound. */
export async function getDial(db: Kysely<Database>, round: RoundRow, number: number): Promise<DialRow> {
  const dial = await db
    .selectFrom('drill_dials')
    .where('round_id', '=', round.id)
    .where('number', '=', number)
    .selectAll()
    .executeTakeFirst();
  if (!dial) throw new NotFound();
  return dial;
}

/** The dial a round has come to. A round always has one: it is begun with its first. */
export function latestDial(db: Kysely<Database>, roundId: string): Promise<DialRow> {
  return db
    .selectFrom('drill_dials')
    .where('round_id', '=', roundId)
    .selectAll()
    .orderBy('number', 'desc')
    .limit(1)
    .executeTakeFirstOrThrow();
}

export function findAnswer(db: Kysely<Database>, dial: DialRow): Promise<AnswerRow | undefined> {
  return db
    .selectFrom('drill_answers')
    .where('round_id', '=', dial.round_id)
    .where('number', '=', dial.number)
    .selectAll()
    .executeTakeFirst();
}

/** What has been done at a dial, in order. */
export async function listDrillActions(db: Kysely<Database>, dial: DialRow): Promise<DialReadingAction[]> {
  const rows = await db
    .selectFrom('drill_actions')
    .where('round_id', '=', dial.round_id)
    .where('number', '=', dial.number)
    .select('action')
    .orderBy('seq')
    .execute();
  return rows.map(({ action }) => JSON.parse(action) as DialReadingAction);
}

/** What a new row is made of. */
export interface Fresh {
  readonly id: string;
  readonly seed: string;
  readonly at: string;
}

/** Begins a round with its first dial, or gives back the one that is open. */
export async function beginRound(trx: Transaction<Database>, actor: Actor, fresh: Fresh): Promise<string> {
  const rounds = await listRounds(trx, actor.id);
  const open = rounds.find(({ answered, dials }) => answered < dials);
  if (open !== undefined) return open.id;
  const { id, at } = fresh;
  await trx
    .insertInto('drill_rounds')
    .values({ id, student_id: actor.id, dials: DIALS_IN_A_ROUND, started_at: at })
    .execute();
  await putDial(trx, actor.id, id, 1, fresh);
  return id;
}

/** Puts the next dial before the student, once the last is answered. Asked for twice, it is put there once. */
export async function takeNextDial(trx: Transaction<Database>, round: RoundRow, fresh: Fresh): Promise<void> {
  const last = await latestDial(trx, round.id);
  if (last.number >= round.dials || (await findAnswer(trx, last)) === undefined) return;
  await putDial(trx, round.student_id, round.id, last.number + 1, fresh);
}

async function putDial(
  trx: Transaction<Database>,
  studentId: number,
  roundId: string,
  number: number,
  fresh: Fresh,
): Promise<void> {
  const { skill, definition } = chooseDrill(learnerFrom(await listAnswers(trx, studentId)), number);
  await trx
    .insertInto('drill_dials')
    .values({
      round_id: roundId,
      number,
      skill,
      definition: JSON.stringify(definition),
      seed: fresh.seed,
      engine_version: ENGINE_VERSION,
      at: fresh.at,
    })
    .execute();
}

export interface NewAnswer extends Answer {
  readonly typed: DrillBoxes;
  readonly sheet: unknown;
  readonly actionCount: number;
  readonly at: string;
}

/**
 * Keeps an answer. The same one sent twice is kept once. Throws Conflict where another stands already, or when the dial was watched
 * again since it was graded.
 */
export async function appendAnswer(
  trx: Transaction<Database>,
  dial: DialRow,
  answer: NewAnswer,
): Promise<void> {
  const typed = JSON.stringify(answer.typed);
  const kept = await findAnswer(trx, dial);
  if (kept !== undefined) {
    if (kept.typed === typed) return;
    throw new Conflict('This dial has been answered already. The first answer stands.');
  }
  const { length } = await listDrillActions(trx, dial);
  if (length !== answer.actionCount)
    throw new Conflict(
      'This dial was still being watched in another window. Go back and check it once more.',
    );
  await trx
    .insertInto('drill_answers')
    .values({
      round_id: dial.round_id,
      number: dial.number,
      typed,
      sheet: JSON.stringify(answer.sheet),
      action_count: length,
      engine_version: answer.grade.engineVersion,
      grade: JSON.stringify(answer.grade),
      observations: JSON.stringify(answer.observations),
      dial: JSON.stringify(answer.dial),
      shown_graduations: answer.shownGraduations,
      written_graduations: answer.writtenGraduations,
      at: answer.at,
    })
    .execute();
}
