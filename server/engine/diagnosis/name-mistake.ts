import type { LikelyMistake } from './explain-reading.ts';
import type { Mistake } from './hypotheses.ts';

/** What may be said of a wrong reading. */
export interface Naming {
  readonly how: 'one' | 'either' | 'unexplained';
  /** `one`: the mistake, or the two that were made at once. `either`: two, of which one was made. */
  readonly mistakes: readonly Mistake[];
}

const ALONE = 0.8;
const TIMES_THE_NEXT = 4;
const TOGETHER = 0.85;

/**
 * Decides what may be said: one explanation (a mistake, or two at once) at a probability of 0.80 and four times the next, two
 * mistakes as "either … or …" at 0.85 together, otherwise honestly nothing. Probabilities 0 to 1. An empty list (nothing to explain) gives
 * null. Never throws. Source: thresholds are common practice, no source.
 */
export function nameMistake(likely: readonly LikelyMistake[]): Naming | null {
  const [first, second] = likely;
  if (first === undefined) return null;
  const none: Naming = { how: 'unexplained', mistakes: [] };
  if (first.mistake === 'none-of-these') return none;
  if (first.probability >= ALONE && first.probability >= TIMES_THE_NEXT * (second?.probability ?? 0)) {
    return { how: 'one', mistakes: first.and === undefined ? [first.mistake] : [first.mistake, first.and] };
  }
  if (second === undefined || second.mistake === 'none-of-these') return none;
  // Either … or … of two at once would be more than anybody could follow.
  if (first.and !== undefined || second.and !== undefined) return none;
  if (first.probability + second.probability >= TOGETHER)
    return { how: 'either', mistakes: [first.mistake, second.mistake] };
  return none;
}
