import { CRITERIA, type Criterion, FULL_POINTS } from '../engine/index.ts';
import { type DueRule, lateness } from './late.ts';

/** What each criterion counts, of 100 together. */
export type Weights = Readonly<Record<Criterion, number>>;

/** Something done of an item, worth 0 to 100 at the moment it was done. */
export interface Done {
  readonly percent: number;
  readonly at: string;
}

/** Points by criterion as per cent, each criterion counted by its weight. `points` are those of the engine, of `FULL_POINTS` each. */
export function weighted(points: Readonly<Record<Criterion, number>>, weights: Weights): number {
  return CRITERIA.reduce(
    (sum, criterion) => sum + (points[criterion] / FULL_POINTS[criterion]) * weights[criterion],
    0,
  );
}

/** Per cent of an item: of all that was handed in the best after what lateness takes off, or the last. Null while nothing was. */
export function itemScore(done: readonly Done[], rule: DueRule, counts: 'best' | 'last'): number | null {
  const left = [...done]
    .sort((one, other) => (one.at < other.at ? -1 : one.at > other.at ? 1 : 0))
    .map(({ percent, at }) => percent * lateness(rule, at).factor);
  if (left.length === 0) return null;
  return counts === 'best' ? Math.max(...left) : (left.at(-1) ?? null);
}

/** Per cent of an item made of parts that are done one by one, such as questions: each part counts alike and at its own moment. */
export function partsScore(done: readonly Done[], parts: number, rule: DueRule): number | null {
  if (done.length === 0 || parts === 0) return null;
  return done.reduce((sum, { percent, at }) => sum + percent * lateness(rule, at).factor, 0) / parts;
}

export interface ScoredItem {
  readonly share: number;
  readonly score: number | null;
}

export interface SheetScore {
  /** Per cent of the whole sheet; null while there is nothing to count. */
  readonly score: number | null;
  /** Is something left out that counts and may still come? */
  readonly soFar: boolean;
}

/**
 * The score of a sheet: the mean of its items by their shares. What is missing counts as nothing from the due date on, even while it may still
 * be handed in late; before that, or where nothing is due, it is left out.
 */
export function sheetScore(items: readonly ScoredItem[], rule: DueRule, now: string): SheetScore {
  const counted = items.filter(({ share }) => share > 0);
  const over = rule.dueAt !== null && rule.dueAt < now;
  const taken = counted.filter(({ score }) => score !== null || over);
  const shares = taken.reduce((sum, { share }) => sum + share, 0);
  const soFar = taken.length < counted.length;
  if (shares === 0) return { score: null, soFar };
  return { score: taken.reduce((sum, { share, score }) => sum + share * (score ?? 0), 0) / shares, soFar };
}
