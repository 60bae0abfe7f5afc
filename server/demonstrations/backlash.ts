import { type BacklashBrief, type BacklashView, judgeBacklash } from '../engine/index.ts';
import { type GaugedHabits, GaugeHands, setUp, zero } from './gauge-hands.ts';
import { nextFor } from './judged.ts';
import type { Finished, Work } from './work.ts';

/** Tooth by tooth: holds the other gear, zeroes against one flank, and rocks over to the other. */
export function* measureBacklash(
  { dial, specification, spread: spreadLimit, teeth: count }: BacklashBrief,
  first: BacklashView,
  habits: GaugedHabits = {},
): Work<'backlash', Finished<'backlash'>> {
  const hands = new GaugeHands<'backlash'>(dial, first);
  const rock = (way: 1 | -1) => hands.does({ type: 'rock', way, effort: habits.effort ?? 0.8 });

  const teeth: number[] = [];
  for (let tooth = 1; tooth <= (habits.teethOnly ?? count); tooth += 1) {
    yield* hands.does({ type: 'turn-to', tooth });
    if (!habits.leavesOut?.includes('hold')) yield* hands.does({ type: 'hold', on: true });
    yield* setUp(hands, habits);
    if (!habits.zeroAnywhere) yield* rock(-1);
    yield* zero(hands, habits);
    yield* rock(1);
    teeth.push(hands.reads() * dial.graduation);
    if (!habits.leavesOut?.includes('return')) yield* rock(-1);
  }

  const [smallest, largest] = [Math.min(...teeth), Math.max(...teeth)];
  const verdict = judgeBacklash(teeth, specification, spreadLimit, dial);
  return {
    sheet: {
      ...{ teeth, smallest, largest, spread: largest - smallest },
      ...{ verdict, next: nextFor(verdict) },
    },
  };
}
