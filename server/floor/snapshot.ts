import type { Kysely } from 'kysely';
import type { Database } from '../database/tables.ts';
import { type AnyAction, generateBench } from '../engine/index.ts';
import { definitionOf } from '../labsheets/index.ts';
import { gradedKindOf } from '../review/index.ts';
import { listReady } from '../sign-offs/index.ts';
import { type FloorAttempt, listCalls, listFloorAttempts, listLastActions } from './queries.ts';
import { GOOD_ENOUGH, inOrder, type Placed, placeOf } from './state.ts';

/** One student on the floor. */
export interface FloorStudent {
  readonly id: number;
  readonly name: string;
  readonly placed: Placed;
  /** What they are on: item, try, and what was done last. */
  readonly on: string;
  readonly doing: string;
  readonly href: string;
  readonly hasCalled: boolean;
}

/** What was done last, in words, for each kind of attempt; kept, since the words of a kind need its bench. */
const didWords = new Map<string, (action: AnyAction) => string>();
const MOST_KEPT = 500;

/**
 * Everybody on the roster, those who need somebody first. Nothing of a bench but its student's own actions is in it: no seed, no fault, no reading
 * that was not written. The caller has made sure that the section is theirs.
 */
export async function floorOf(
  db: Kysely<Database>,
  section: { readonly id: number },
  roster: readonly { readonly id: number; readonly family_name: string; readonly given_name: string }[],
  now: string,
): Promise<readonly FloorStudent[]> {
  const attempts = await listFloorAttempts(db, section.id);
  const open = attempts.filter(({ handedInAt }) => handedInAt === null);
  const [actions, calls, ready] = [
    await listLastActions(
      db,
      open.map(({ id }) => id),
    ),
    await listCalls(db, section.id),
    await listReady(db, section.id),
  ];
  const students = roster.map((student): FloorStudent => {
    const own = attempts.filter(({ student_id }) => student_id === student.id);
    const current = own.findLast(({ handedInAt }) => handedInAt === null) ?? null;
    const last = own.findLast(({ handedInAt }) => handedInAt !== null) ?? null;
    const about = current ?? last;
    const tries = own.filter(({ item_id, handedInAt }) => item_id === about?.item_id && handedInAt !== null);
    const action = current === null ? undefined : actions.get(current.id);
    const called = calls.find(({ studentId }) => studentId === student.id);
    const waits = ready.find(({ studentId }) => studentId === student.id);
    const placed = placeOf(
      {
        waitingSince: [called?.at, waits?.since].filter((at) => at !== undefined).sort()[0] ?? null,
        open:
          current === null
            ? null
            : {
                startedAt: current.started_at,
                lastActionAt: action?.at ?? null,
                lastWrittenAt: current.writtenAt,
              },
        handedInAt: last?.handedInAt ?? null,
        lastPoints: tries.flatMap(({ points }) => (points === null ? [] : [points])),
        outOfTries: isOutOfTries(about, tries),
      },
      now,
    );
    return {
      id: student.id,
      name: `${student.family_name}, ${student.given_name}`,
      placed,
      on: waits
        ? `Engine ${waits.engineNumber} · position ${waits.position} · step ${waits.step}`
        : onWords(about),
      doing: doingWords(current, action?.action ?? null, last),
      href: waits
        ? `/sections/${section.id}/sign-offs/${waits.signOffId}#step-${waits.step - 1}`
        : `/sections/${section.id}/students/${student.id}`,
      hasCalled: called !== undefined,
    };
  });
  return inOrder(students);
}

function isOutOfTries(about: FloorAttempt | null, tries: readonly FloorAttempt[]): boolean {
  if (about === null || about.tries === null || tries.length < about.tries) return false;
  return tries.every(({ points }) => points !== null && points < GOOD_ENOUGH);
}

function onWords(about: FloorAttempt | null): string {
  if (about === null) return '';
  const tries =
    about.tries === null ? `try ${about.try_number}` : `try ${about.try_number} of ${about.tries}`;
  return `${about.title}, ${tries}`;
}

function doingWords(current: FloorAttempt | null, action: string | null, last: FloorAttempt | null): string {
  if (current !== null)
    return action === null ? 'has just begun' : `last: ${wordsFor(current)(JSON.parse(action))}`;
  if (last === null) return '';
  return last.points === null ? 'handed in' : `${Math.round(last.points * 10) / 10} of 100`;
}

function wordsFor(attempt: FloorAttempt): (action: AnyAction) => string {
  const kept = didWords.get(attempt.id);
  if (kept) return kept;
  const bench = generateBench(definitionOf(attempt.definition, attempt.way), attempt.seed);
  const { logWords } = gradedKindOf(bench);
  const words = (action: AnyAction) => logWords.did(action);
  if (didWords.size >= MOST_KEPT) didWords.clear();
  didWords.set(attempt.id, words);
  return words;
}
