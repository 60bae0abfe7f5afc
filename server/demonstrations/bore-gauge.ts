import {
  type BoreAxis,
  type BoreBrief,
  type BoreLevel,
  type BoreSheet,
  boreDiameter,
  boreResults,
  judgeBore,
  levelDepths,
  type ViewOf,
  type WrittenBore,
} from '../engine/index.ts';
import { GaugeHands } from './gauge-hands.ts';
import { nextFor } from './judged.ts';
import type { Finished, Work } from './work.ts';

/** Steps left out or done badly, for the remarks they bring. */
export interface BoreHabits {
  readonly leavesOut?: readonly ('wipe' | 'temperature' | 'clamp' | 'try' | 'return' | 'rock')[];
  readonly preloadTurns?: number;
  readonly zeroSlanted?: boolean;
  readonly zeroInTheBore?: boolean;
  /** Millimetres to go deeper than the level, by level. */
  readonly deeper?: Partial<Record<BoreLevel, number>>;
  readonly placesOnly?: number;
  /** Measures all of it in a second set-up too. */
  readonly twice?: boolean;
}

type Hands = GaugeHands<'bore-gauge'>;
type BoreWork<Result = void> = Work<'bore-gauge', Result>;

const PLACES = (['top', 'middle', 'bottom'] as const).flatMap((level) =>
  (['along', 'across'] as const).map((axis): { level: BoreLevel; axis: BoreAxis } => ({ level, axis })),
);

/** Zeroes the gauge in the setting ring, rocks it in the bore at six places, and tries the ring again. */
export function* measureBore(
  plate: BoreBrief,
  first: ViewOf<'bore-gauge'>,
  habits: BoreHabits = {},
): BoreWork<Finished<'bore-gauge'>> {
  const hands: Hands = new GaugeHands(plate.dial, first);
  if (!habits.leavesOut?.includes('wipe')) yield* hands.does({ type: 'wipe' });
  if (!habits.leavesOut?.includes('temperature')) yield* waitUntilCool(hands);
  const readings = yield* measureOnce(hands, plate, habits);
  if (habits.twice) yield* measureOnce(hands, plate, habits);
  return { sheet: boreSheet(readings, plate.ring, plate.limits, plate.dial) };
}

function* waitUntilCool(hands: Hands): BoreWork {
  yield* hands.does({ type: 'feel-temperature' });
  if (hands.heard('work-is-warm')) yield* hands.does({ type: 'let-cool' });
}

function* measureOnce(hands: Hands, plate: BoreBrief, habits: BoreHabits): BoreWork<(number | null)[]> {
  const skips = (step: NonNullable<BoreHabits['leavesOut']>[number]) => habits.leavesOut?.includes(step);
  if (habits.zeroInTheBore)
    yield* hands.does({ type: 'put', in: 'cylinder', depthMm: plate.travel.fromMm + 5, axis: 'along' });
  else yield* hands.does({ type: 'put', in: 'ring' });
  yield* zeroInRing(hands, habits);
  if (!skips('try')) yield* turningPoint(hands);

  const readings: (number | null)[] = [];
  for (const [index, { level, axis }] of PLACES.entries()) {
    if (index >= (habits.placesOnly ?? PLACES.length)) {
      readings.push(null);
      continue;
    }
    const depthMm = levelDepths(plate.travel)[level] + (habits.deeper?.[level] ?? 0);
    yield* hands.does({ type: 'put', in: 'cylinder', depthMm, axis });
    const shown = skips('rock') ? hands.reads() : yield* turningPoint(hands);
    readings.push((Math.round(2 * shown) / 2) * plate.dial.graduation);
  }

  if (!skips('return')) {
    yield* hands.does({ type: 'put', in: 'ring' });
    yield* turningPoint(hands);
  }
  return readings;
}

function* zeroInRing(hands: Hands, habits: BoreHabits): BoreWork {
  yield* hands.does({ type: 'set-indicator', turns: habits.preloadTurns ?? 1.5 });
  yield* hands.does({ type: 'clamp' });
  if (!habits.zeroSlanted) yield* holdSquare(hands);
  yield* hands.does({ type: 'unclamp' });
  yield* hands.does({ type: 'zero' });
  if (!habits.leavesOut?.includes('clamp')) yield* hands.does({ type: 'clamp' });
}

function* rock(hands: Hands, degrees: number): BoreWork<{ seen: readonly number[]; end: number }> {
  const seen = (yield* hands.does({ type: 'rock', degrees })).map(({ graduations }) => graduations);
  return { seen, end: seen.at(-1) ?? 0 };
}

/** Rocks to and fro over where the pointer turns back; what it showed there. */
function* turningPoint(hands: Hands): BoreWork<number> {
  const there = yield* rock(hands, 4);
  const back = yield* rock(hands, -8);
  yield* rock(hands, 4);
  return Math.max(...there.seen, ...back.seen);
}

/** Degrees; what the smallest step of the page tilts. */
const FINEST_ROCK = 0.25;

/** Tilts little by little from one side until the pointer has turned back, and a step back from there. */
function* holdSquare(hands: Hands): BoreWork {
  let before = (yield* rock(hands, -6)).end;
  for (;;) {
    const now = (yield* rock(hands, FINEST_ROCK)).end;
    if (now < before) break;
    before = now;
  }
  yield* rock(hands, -FINEST_ROCK);
}

/** The sheet that readings come to, worked out without a slip. Readings and ring are in the dial's unit. */
export function boreSheet(
  readings: readonly (number | null)[],
  ring: number,
  limits: Parameters<typeof judgeBore>[1],
  dial: { readonly unit: 'in' | 'mm' },
): BoreSheet {
  const places = PLACES.map((place, index): WrittenBore => {
    const reading = readings[index] ?? null;
    return { ...place, reading, diameter: reading === null ? null : boreDiameter(ring, reading) };
  });
  const results = boreResults(
    places.flatMap(({ level, axis, diameter }) => (diameter === null ? [] : { level, axis, diameter })),
  );
  const verdict = results === null ? null : judgeBore(results, limits, dial);
  return {
    places,
    largest: results?.largest ?? null,
    outOfRound: results?.outOfRound ?? null,
    taper: results?.taper ?? null,
    verdict,
    next: verdict === null ? null : nextFor(verdict),
  };
}
