import {
  type BoreAxis,
  type BoreLevel,
  type BoreSheet,
  boreDiameter,
  boreResults,
  brief,
  type DefinitionOf,
  generateBench,
  judgeBore,
  levelDepths,
  type WrittenBore,
} from '../../server/engine/index.ts';
import { type GaugedAttempt, handsOn, nextFor } from './gauged-observers.ts';

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

const PLACES = (['top', 'middle', 'bottom'] as const).flatMap((level) =>
  (['along', 'across'] as const).map((axis): { level: BoreLevel; axis: BoreAxis } => ({ level, axis })),
);

/** A careful student with a bore gauge, who uses only what can be seen. */
export function observeBore(
  definition: DefinitionOf<'bore-gauge'>,
  seed: string | number,
  habits: BoreHabits = {},
): GaugedAttempt<'bore-gauge'> {
  const bench = generateBench(definition, seed);
  const { dial, limits, ring, travel } = brief(bench);
  const skips = (step: NonNullable<BoreHabits['leavesOut']>[number]) => habits.leavesOut?.includes(step);
  const hands = handsOn<'bore-gauge'>(bench);
  const rock = (degrees: number) => {
    const seen = hands.does({ type: 'rock', degrees }).map(({ graduations }) => graduations);
    return { seen, end: seen.at(-1) ?? 0 };
  };
  /** Rocks to and fro over where the pointer turns back; what it showed there. */
  const turningPoint = (): number => {
    const there = rock(4).seen;
    const back = rock(-8).seen;
    rock(4);
    return Math.max(...there, ...back);
  };
  /** Tilts little by little from one side until the pointer has turned back, and a step back from there. */
  const holdSquare = () => {
    let before = rock(-6).end;
    for (let now = rock(0.25).end; now >= before; now = rock(0.25).end) before = now;
    rock(-0.25);
  };
  const measure = (): (number | null)[] => {
    hands.does(
      habits.zeroInTheBore
        ? { type: 'put', in: 'cylinder', depthMm: travel.fromMm + 5, axis: 'along' }
        : { type: 'put', in: 'ring' },
    );
    hands.does({ type: 'set-indicator', turns: habits.preloadTurns ?? 1.5 });
    hands.does({ type: 'clamp' });
    if (!habits.zeroSlanted) holdSquare();
    hands.does({ type: 'unclamp' });
    hands.does({ type: 'zero' });
    if (!skips('clamp')) hands.does({ type: 'clamp' });
    if (!skips('try')) turningPoint();
    const read = PLACES.map(({ level, axis }, index) => {
      if (index >= (habits.placesOnly ?? PLACES.length)) return null;
      const depthMm = levelDepths(travel)[level] + (habits.deeper?.[level] ?? 0);
      hands.does({ type: 'put', in: 'cylinder', depthMm, axis });
      const shown = skips('rock') ? hands.reads() : turningPoint();
      return (Math.round(2 * shown) / 2) * dial.graduation;
    });
    if (!skips('return')) {
      hands.does({ type: 'put', in: 'ring' });
      turningPoint();
    }
    return read;
  };
  if (!skips('wipe')) hands.does({ type: 'wipe' });
  if (!skips('temperature')) {
    hands.does({ type: 'feel-temperature' });
    if (hands.heard('work-is-warm')) hands.does({ type: 'let-cool' });
  }
  const readings = measure();
  if (habits.twice) measure();
  return { bench, actions: hands.actions, sheet: boreSheet(readings, ring, limits, dial) };
}

/** The sheet that readings come to, worked out without a slip. */
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
