import type BetterSqlite3 from 'better-sqlite3';
import { groupedWork } from '../database/commit-queue.ts';
import type { Store } from '../database/open.ts';
import { prepared } from '../database/statements.ts';
import type { AnyAction, AnySeen } from '../engine/index.ts';
import { Conflict } from '../web/errors.ts';
import { type Folded, type FoldedAttempts, foldOn } from './folded.ts';
import type { AttemptRow } from './queries.ts';

/** More than any person does in one go; a page gone wild must not fill the disk. */
const MOST_ACTIONS = 20_000;

export interface Appended {
  /** What is perceived of each action of the batch, whether it was new or already in the log. */
  readonly seen: readonly AnySeen[];
  readonly next: number;
  /** How it stood before the batch. */
  readonly before: Folded;
}

const ELSEWHERE =
  'This engine has been worked on in another window. Reload the page to see how it stands now.';

const HANDED_IN = 'This lab sheet has been handed in. Nothing more can be done on its engine.';

/**
 * Adds a batch to the log at the place it says, and answers when it is on disk. A batch sent twice, because the first answer was
 * lost on the way, is kept once and answered the same. Throws Conflict when the log holds something else there.
 */
export async function appendActions(
  store: Store,
  attempts: FoldedAttempts,
  attempt: AttemptRow,
  batch: { readonly from: number; readonly actions: readonly AnyAction[] },
  at: string,
): Promise<Appended> {
  if (batch.from + batch.actions.length > MOST_ACTIONS) {
    throw new Conflict('This attempt has grown too long. Hand the sheet in, or start another try.');
  }
  let kept = await attempts.get(attempt);
  if (batch.from > kept.next) {
    // The log may have grown, by this page itself, since what is remembered of it was read.
    attempts.forget(attempt.id);
    kept = await attempts.get(attempt);
  }
  if (batch.from > kept.next) throw new Conflict(ELSEWHERE);
  const before = batch.from === kept.next ? kept : await attempts.getAt(attempt, batch.from);
  const { folded, seen } = foldOn(before, batch.actions);
  const rows = batch.actions.map((action) => JSON.stringify(action));
  const next = await groupedWork(store, (raw) => appendRows(raw, attempt.id, batch.from, rows, at)).catch(
    (error: unknown) => {
      // The only trigger on the log: the sheet was handed in from another window a moment ago.
      if ((error as { code?: unknown }).code === 'SQLITE_CONSTRAINT_TRIGGER') throw new Conflict(HANDED_IN);
      throw error;
    },
  );
  if (next === folded.next) attempts.keep(attempt.id, folded);
  else attempts.forget(attempt.id);
  return { seen, next, before };
}

/** Adds what the log does not hold yet; gives its length after. Throws Conflict where it holds something else. */
function appendRows(
  raw: BetterSqlite3.Database,
  attemptId: string,
  from: number,
  rows: readonly string[],
  at: string,
): number {
  const held = prepared<[string, number], { seq: number; action: string }>(
    raw,
    'SELECT seq, action FROM attempt_actions WHERE attempt_id = ? AND seq >= ? ORDER BY seq',
  ).all(attemptId, from);
  if (held.some(({ seq, action }) => seq - from < rows.length && rows[seq - from] !== action))
    throw new Conflict(ELSEWHERE);
  const before =
    from === 0
      ? 0
      : prepared(raw, 'SELECT 1 FROM attempt_actions WHERE attempt_id = ? AND seq = ?').all(
          attemptId,
          from - 1,
        ).length;
  if (from > 0 && before === 0) throw new Conflict(ELSEWHERE);
  const insert = prepared(
    raw,
    'INSERT INTO attempt_actions (attempt_id, seq, action, at) VALUES (?, ?, ?, ?)',
  );
  rows.slice(held.length).forEach((action, index) => {
    insert.run(attemptId, from + held.length + index, action, at);
  });
  return from + Math.max(held.length, rows.length);
}
