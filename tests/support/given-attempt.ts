import type { Store } from '../../server/database/open.ts';
import { ENGINE_VERSION, type Grade, gradeAttempt } from '../../server/engine/index.ts';
import { type Habits, type ObservedAttempt, observe } from './observer.ts';

export interface GivenAttempt {
  readonly id: string;
  readonly seed: string;
  readonly grade: Grade;
  readonly observed: ObservedAttempt;
}

export interface AttemptWanted {
  readonly id: string;
  readonly signInName: string;
  readonly sectionId: number;
  readonly itemId: number;
  readonly seed: string;
  readonly habits?: Habits;
  readonly tryNumber?: number;
  readonly at?: string;
  /** Worked on, but not handed in. */
  readonly open?: boolean;
}

/** Puts an attempt into the tables as the bench and the hand-in would, worked and written by an observer, graded by the engine. */
export async function givenAttempt({ db }: Store, wanted: AttemptWanted): Promise<GivenAttempt> {
  const at = wanted.at ?? '2026-09-10T09:00:00.000Z';
  const item = await db
    .selectFrom('lab_sheet_items')
    .where('id', '=', wanted.itemId)
    .selectAll()
    .executeTakeFirstOrThrow();
  const student = await db
    .selectFrom('people')
    .where('sign_in_name', '=', wanted.signInName)
    .select('id')
    .executeTakeFirstOrThrow();
  if (item.definition === null || item.way === null)
    throw new Error('Only a practice engine can be attempted.');
  const observed = observe(JSON.parse(item.definition), wanted.seed, wanted.habits);
  const { bench, actions, sheet } = observed;
  const grade = gradeAttempt(bench, actions, sheet);
  // As the hand-in stores it.
  const { trace: _, ...kept } = grade;
  await db
    .insertInto('attempts')
    .values({
      id: wanted.id,
      section_id: wanted.sectionId,
      item_id: wanted.itemId,
      student_id: student.id,
      try_number: wanted.tryNumber ?? 1,
      way: item.way,
      definition: item.definition,
      seed: wanted.seed,
      engine_version: ENGINE_VERSION,
      started_at: at,
    })
    .execute();
  const rows = actions.map((action, seq) => ({
    attempt_id: wanted.id,
    seq,
    action: JSON.stringify(action),
    at,
  }));
  for (let from = 0; from < rows.length; from += 500)
    await db
      .insertInto('attempt_actions')
      .values(rows.slice(from, from + 500))
      .execute();
  if (!wanted.open) {
    await db
      .insertInto('hand_ins')
      .values({
        attempt_id: wanted.id,
        typed: '{}',
        sheet: JSON.stringify(sheet),
        action_count: actions.length,
        at,
      })
      .execute();
    await db
      .insertInto('grades')
      .values({
        attempt_id: wanted.id,
        engine_version: grade.engineVersion,
        points: grade.total,
        stops: grade.stops.length,
        grade: JSON.stringify(kept),
        at,
      })
      .execute();
  }
  return { id: wanted.id, seed: wanted.seed, grade, observed };
}
