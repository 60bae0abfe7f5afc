import {
  judgeLiner,
  judgeStep,
  type LinerBrief,
  type LinerView,
  largestStep,
  totalReading,
  type WrittenLiner,
} from '../engine/index.ts';
import { type GaugedHabits, GaugeHands, setUp, zero } from './gauge-hands.ts';
import { nextFor } from './judged.ts';
import type { Finished, Work } from './work.ts';

/** Liner by liner: presses it home, zeroes on the deck beside it, and reads its points. */
export function* measureLiners(
  plate: LinerBrief,
  first: LinerView,
  habits: GaugedHabits = {},
): Work<'liner-protrusion', Finished<'liner-protrusion'>> {
  const { dial, limits, liners: count } = plate;
  const hands = new GaugeHands<'liner-protrusion'>(dial, first);

  const liners: (WrittenLiner & { readonly mean: number })[] = [];
  for (let liner = 1; liner <= count; liner += 1) {
    const points = yield* readPoints(hands, plate, liner, habits);
    const mean = points.reduce((sum, one) => sum + one, 0) / points.length;
    const verdict = judgeLiner(points, limits, dial);
    liners.push({ liner, points, mean, within: totalReading(points), verdict, next: nextFor(verdict) });
  }

  const between = largestStep(liners.map(({ mean }) => mean));
  const betweenVerdict = judgeStep(between ?? 0, limits, dial);
  return { sheet: { liners, between, betweenVerdict, betweenNext: nextFor(betweenVerdict) } };
}

/** From the deck onto each point of the liner, and back to the deck to see that the zero has stayed. */
function* readPoints(
  hands: GaugeHands<'liner-protrusion'>,
  { dial, points }: LinerBrief,
  liner: number,
  habits: GaugedHabits,
): Work<'liner-protrusion', readonly number[]> {
  if (!habits.leavesOut?.includes('press')) yield* hands.does({ type: 'press-liner', liner });
  if (habits.zeroOnLiner) yield* hands.does({ type: 'place', on: 'liner', liner, point: 1 });
  else yield* hands.does({ type: 'place', on: 'deck', liner });
  yield* setUp(hands, habits);
  yield* zero(hands, habits);

  const read: number[] = [];
  for (let point = 1; point <= points; point += 1) {
    yield* hands.does({ type: 'place', on: 'liner', liner, point });
    read.push(hands.reads() * dial.graduation);
  }
  if (!habits.leavesOut?.includes('return')) yield* hands.does({ type: 'place', on: 'deck', liner });
  return read;
}
