import { type RunOutBrief, type RunOutView, totalReading, type WrittenRunOut } from '../engine/index.ts';
import { type Counted, type GaugedHabits, GaugeHands, setUp, zero } from './gauge-hands.ts';
import { nextFor, within } from './judged.ts';
import type { Finished, Work } from './work.ts';

type Place = RunOutBrief['places'][number];

/** Sets up at each place, turns the work once round, and takes the highest and the lowest the pointer came to. */
export function* measureRunOut(
  plate: RunOutBrief,
  first: RunOutView,
  habits: GaugedHabits = {},
): Work<'run-out', Finished<'run-out'>> {
  const hands = new GaugeHands<'run-out'>(plate.dial, first);
  const places: WrittenRunOut[] = [];
  for (const [index, place] of plate.places.entries()) {
    const seen = yield* onceRound(hands, place, habits);
    places.push(written(plate, place, index + 1, seen));
  }
  return { sheet: { places } };
}

/** At a face the shaft is pushed one way at the zero and before each reading, so that its end play is not read for wobble. */
function* onceRound(
  hands: GaugeHands<'run-out'>,
  place: Place,
  habits: GaugedHabits,
): Work<'run-out', readonly Counted[]> {
  const pushes = place === 'face' && !habits.leavesOut?.includes('push');
  yield* hands.does({ type: 'move', place });
  if (pushes) yield* hands.does({ type: 'push' });
  yield* setUp(hands, habits);
  yield* zero(hands, habits);

  const seen: Counted[] = [];
  const step = place === 'face' ? 15 : 30;
  for (let deg = 0; deg < (habits.turnsOnly ?? 360); deg += step) {
    const turned = yield* hands.does({ type: 'turn', degrees: step });
    const pushed = pushes ? yield* hands.does({ type: 'push' }) : [];
    seen.push(...(pushes ? pushed.slice(-1) : turned));
  }
  return seen;
}

function written(
  { dial, specification, limitOn }: RunOutBrief,
  place: Place,
  item: number,
  seen: readonly Counted[],
): WrittenRunOut {
  const values = seen.map(({ graduations }) => graduations);
  const read = (value: number) => (Math.round(2 * value) / 2) * dial.graduation;
  const [highest, lowest] = [read(Math.max(...values)), read(Math.min(...values))];
  const tir = totalReading([highest, lowest]);
  const high = seen.find(({ graduations }) => graduations === Math.max(...values));
  const verdict = within(limitOn === 'tir' ? tir : tir / 2, specification, dial.unit);
  return {
    ...{ item, highest, lowest, tir, eccentricity: place === 'rim' ? tir / 2 : null },
    ...{ highSpotDeg: high?.workDeg ?? null, verdict, next: nextFor(verdict) },
  };
}
