import type { EndPlayBrief, EndPlayView } from '../engine/index.ts';
import { type GaugedHabits, GaugeHands, setUp, zero } from './gauge-hands.ts';
import { nextFor, within } from './judged.ts';
import type { Finished, Work } from './work.ts';

/** Pries to the rear, zeroes there, and reads twice how far the part comes to the front. */
export function* measureEndPlay(
  { dial, specification, subject }: EndPlayBrief,
  first: EndPlayView,
  habits: GaugedHabits = {},
): Work<'end-play', Finished<'end-play'>> {
  const hands = new GaugeHands<'end-play'>(dial, first);
  // A hub is rocked while it is pried, so that its bearing seats; a crankshaft cannot be.
  const how = { effort: habits.effort ?? 0.9, ...(subject === 'wheel-bearing' ? { rock: true } : {}) };
  const pry = (way: 'front' | 'rear') => hands.does({ type: 'pry', way, ...how });

  if (!habits.zeroAnywhere) yield* pry('rear');
  yield* setUp(hands, habits);
  if (!habits.zeroAnywhere) yield* pry('rear');
  yield* zero(hands, habits);

  const readings: number[] = [];
  for (let reading = 1; reading <= 2; reading += 1) {
    yield* pry('front');
    readings.push(hands.reads() * dial.graduation);
    if (!habits.leavesOut?.includes('return')) yield* pry('rear');
  }

  const endPlay = readings.reduce((sum, one) => sum + one, 0) / 2;
  const verdict = within(endPlay, specification, dial.unit);
  return { sheet: { readings, endPlay, verdict, next: nextFor(verdict) } };
}
