import type { Kysely, Transaction } from 'kysely';
import { displayName } from '../accounts/index.ts';
import type { Database } from '../database/tables.ts';
import type { Grade } from '../engine/index.ts';
import type { Actor } from '../web/actor.ts';
import { NotFound } from '../web/errors.ts';
import { timeWords } from '../web/words/index.ts';

/** What a student wrote against a remark, a stop or a mistake named, and what was answered. */
export interface DisagreementView {
  readonly id: number;
  /** As the remark it is about has it. */
  readonly ref: string;
  readonly words: string;
  readonly who: string;
  readonly at: string;
  readonly when: string;
  /** Oldest first. */
  readonly answers: readonly {
    readonly words: string;
    readonly who: string;
    readonly at: string;
    readonly when: string;
  }[];
}

export interface About {
  readonly kind: 'remark' | 'stop' | 'mistake';
  readonly index: number;
  readonly code: string;
}

/** `remark.3.zero-on-ramp`, taken apart; null for anything else. */
export function readRef(ref: string): About | null {
  const [, kind, index, code] = /^(remark|stop|mistake)\.(\d{1,4})\.([a-z-]{1,60})$/.exec(ref) ?? [];
  if (kind === undefined || index === undefined || code === undefined) return null;
  return { kind: kind as About['kind'], index: Number(index), code };
}

function refOf(row: {
  readonly about_kind: string;
  readonly about_index: number;
  readonly about_code: string;
}): string {
  return `${row.about_kind}.${row.about_index}.${row.about_code}`;
}

/** Is there such a thing in the grade? */
export function isIn(grade: Pick<Grade, 'remarks' | 'stops' | 'mistakes'>, about: About): boolean {
  if (about.kind === 'remark') return grade.remarks[about.index]?.code === about.code;
  if (about.kind === 'stop') return grade.stops[about.index]?.code === about.code;
  const mistake = grade.mistakes[about.index];
  return mistake !== undefined && (mistake.mistakes[0] ?? mistake.how) === about.code;
}

/** Every disagreement with an attempt's grades, oldest first: those with the grade that counts by what they are about. */
export async function disagreementsOf(
  db: Kysely<Database>,
  attemptId: string,
  gradeId: number,
): Promise<{ readonly byRef: Record<string, DisagreementView[]>; readonly earlier: DisagreementView[] }> {
  const rows = await db
    .selectFrom('disagreements as one')
    .innerJoin('people as person', 'person.id', 'one.written_by')
    .where('one.attempt_id', '=', attemptId)
    .selectAll('one')
    .select(['person.given_name', 'person.family_name'])
    .orderBy('one.id')
    .execute();
  const answers = await db
    .selectFrom('disagreement_answers as answer')
    .innerJoin('disagreements as one', 'one.id', 'answer.disagreement_id')
    .innerJoin('people as person', 'person.id', 'answer.answered_by')
    .where('one.attempt_id', '=', attemptId)
    .selectAll('answer')
    .select(['person.given_name', 'person.family_name'])
    .orderBy('answer.id')
    .execute();
  const said = (row: { words: string; at: string; given_name: string; family_name: string }) => ({
    words: row.words,
    who: displayName(row),
    at: row.at,
    when: timeWords(row.at),
  });
  const byRef: Record<string, DisagreementView[]> = {};
  const earlier: DisagreementView[] = [];
  for (const row of rows) {
    const ref = refOf(row);
    const own = answers.filter((answer) => answer.disagreement_id === row.id).map(said);
    const view = { id: row.id, ref, ...said(row), answers: own };
    if (row.grade_id !== gradeId) earlier.push(view);
    else byRef[ref] = [...(byRef[ref] ?? []), view];
  }
  return { byRef, earlier };
}

/** A disagreement in an instructor's list. */
export interface ListedDisagreement extends Pick<DisagreementView, 'id' | 'words' | 'who' | 'at' | 'when'> {
  readonly attemptId: string;
  readonly itemTitle: string;
  readonly answered: boolean;
}

/** Everything that was disagreed with in a section: unanswered first, then the newest. */
export async function listDisagreements(
  db: Kysely<Database>,
  sectionId: number,
): Promise<ListedDisagreement[]> {
  const rows = await db
    .selectFrom('disagreements as one')
    .innerJoin('attempts as attempt', 'attempt.id', 'one.attempt_id')
    .innerJoin('lab_sheet_items as item', 'item.id', 'attempt.item_id')
    .innerJoin('people as person', 'person.id', 'one.written_by')
    .where('attempt.section_id', '=', sectionId)
    .select(({ fn, selectFrom }) => [
      ...(['one.id', 'one.attempt_id', 'one.words', 'one.at', 'item.title'] as const),
      ...(['person.given_name', 'person.family_name'] as const),
      selectFrom('disagreement_answers as answer')
        .whereRef('answer.disagreement_id', '=', 'one.id')
        .select(fn.countAll<number>().as('count'))
        .as('answers'),
    ])
    .orderBy('answers')
    .orderBy('one.id', 'desc')
    .execute();
  return rows.map((row) => ({
    id: row.id,
    attemptId: row.attempt_id,
    itemTitle: row.title,
    words: row.words,
    who: displayName(row),
    at: row.at,
    when: timeWords(row.at),
    answered: Number(row.answers) > 0,
  }));
}

/** The newest grade of an attempt that the actor handed in. Throws NotFound for anything else, another's attempt too. */
export async function getOwnGrade(
  db: Kysely<Database>,
  actor: Actor,
  attemptId: string,
): Promise<{ readonly id: number; readonly grade: Omit<Grade, 'trace'> }> {
  const row = await db
    .selectFrom('grades as grade')
    .innerJoin('attempts as attempt', 'attempt.id', 'grade.attempt_id')
    .innerJoin('hand_ins', 'hand_ins.attempt_id', 'attempt.id')
    .where('attempt.id', '=', attemptId)
    .where('attempt.student_id', '=', actor.id)
    .select(['grade.id', 'grade.grade'])
    .orderBy('grade.id', 'desc')
    .executeTakeFirst();
  if (row === undefined) throw new NotFound();
  return { id: row.id, grade: JSON.parse(row.grade) as Omit<Grade, 'trace'> };
}

/** Keeps what a student does not agree with. */
export async function appendDisagreement(
  trx: Transaction<Database>,
  one: {
    readonly attemptId: string;
    readonly gradeId: number;
    readonly about: About;
    readonly words: string;
    readonly by: number;
    readonly at: string;
  },
): Promise<void> {
  await trx
    .insertInto('disagreements')
    .values({
      attempt_id: one.attemptId,
      grade_id: one.gradeId,
      about_kind: one.about.kind,
      about_index: one.about.index,
      about_code: one.about.code,
      words: one.words,
      written_by: one.by,
      at: one.at,
    })
    .execute();
}

/** Adds an answer. Throws NotFound when there is no such disagreement with this attempt. */
export async function appendAnswer(
  trx: Transaction<Database>,
  answer: {
    readonly attemptId: string;
    readonly disagreementId: number;
    readonly words: string;
    readonly by: number;
    readonly at: string;
  },
): Promise<void> {
  const row = await trx
    .selectFrom('disagreements')
    .where('id', '=', answer.disagreementId)
    .where('attempt_id', '=', answer.attemptId)
    .select('id')
    .executeTakeFirst();
  if (row === undefined) throw new NotFound();
  await trx
    .insertInto('disagreement_answers')
    .values({ disagreement_id: row.id, words: answer.words, answered_by: answer.by, at: answer.at })
    .execute();
}
