import { type Dial, graduationsPerTurn, type Sample } from '../engine/index.ts';
import { CYCLE_DEG, follower, type Round, STEP_DEG } from './base-circle.ts';
import type { EngineHands, EngineWork } from './engine-hands.ts';

/** What one reading was, as it was seen; turned into what is written by the habits of whoever writes. */
export interface SeenReading {
  readonly turns: number;
  readonly pointer: number;
  readonly counterBefore: number;
  readonly counterHigh: number;
  readonly returned: number;
  readonly graduation: number;
  readonly rangePerTurn: number;
  readonly perTurn: number;
}

export interface ReadingHabits {
  /** Degrees from the base circle where a hasty student writes the reading down and does not look again; null for the high point. */
  readonly stopAtDeg: number | null;
  readonly presses: boolean;
  /** Writes the reading down, in the middle of the round. */
  writesDown(): EngineWork;
}

/** The highest the pointer came to, and where the small hand stood then. */
interface High {
  readonly count: number;
  readonly counter: number;
}

/** Over the lobe once, from base circle to base circle. */
export function* takeReading(
  dial: Dial,
  hands: EngineHands,
  { stopAtDeg, presses, writesDown }: ReadingHabits,
): EngineWork<SeenReading> {
  const perTurn = graduationsPerTurn(dial);
  const start = hands.sees();
  const follow = follower(dial, start.pointer, fromZero(start, perTurn));
  let high: High = { count: Number.NEGATIVE_INFINITY, counter: 0 };
  let written = false;
  let atDeg = 0;
  for (const degrees of stepsOver(stopAtDeg)) {
    atDeg += degrees;
    const { samples } = yield* hands.does({ type: 'bar', degrees, speed: 60 });
    let count = 0;
    for (const sample of samples.slice(1)) {
      count = follow(sample.pointer);
      if (count > high.count && !(written && stopAtDeg !== null))
        high = { count, counter: sample.counter ?? 0 };
    }
    const hasPassed = high.count > perTurn / 2 && count < high.count - 3;
    const isThere = stopAtDeg === null ? hasPassed : atDeg >= stopAtDeg;
    if (isThere && !written) yield* writesDown();
    written ||= isThere;
  }
  // A tappet that stayed up comes down on the base circle.
  if (presses) yield* hands.does({ type: 'press' });
  return readingOf(dial, start, high, Math.round(fromZero(hands.sees(), perTurn)));
}

/** Whole turns and graduations past the last zero. */
function readingOf(dial: Dial, start: Sample, high: High, returned: number): SeenReading {
  const { graduation, rangePerTurn } = dial;
  const perTurn = graduationsPerTurn(dial);
  const whole = Math.round(high.count);
  const turns = Math.floor(whole / perTurn);
  return {
    turns,
    pointer: whole - turns * perTurn,
    counterBefore: start.counter ?? 0,
    counterHigh: high.counter,
    returned,
    graduation,
    rangePerTurn,
    perTurn,
  };
}

/** Graduations from the zero, the short way. */
const fromZero = ({ pointer }: Sample, perTurn: number) =>
  pointer > perTurn / 2 ? pointer - perTurn : pointer;

/** One whole turn of the cam in steps, one of which ends at `stopAtDeg`. */
function stepsOver(stopAtDeg: number | null): number[] {
  const stops = stopAtDeg === null ? [] : [stopAtDeg];
  for (let deg = STEP_DEG; deg <= CYCLE_DEG; deg += STEP_DEG) stops.push(deg);
  const ends = [...new Set(stops)].sort((a, b) => a - b);
  return ends.map((end, index) => end - (ends[index - 1] ?? 0));
}

/** Degrees from the base circle to the last place before the pointer comes within `short` graduations of its highest. */
export function stopsAt({ points, base }: Round, short: number): number {
  const highest = Math.max(...points.map(({ count }) => count));
  const on = points.map(({ deg, count }) => ({
    deg: (Math.round(deg) - base.deg + CYCLE_DEG) % CYCLE_DEG,
    count,
  }));
  const reached = on.sort((a, b) => a.deg - b.deg).find(({ count }) => count >= highest - short);
  return Math.max(1, (reached?.deg ?? 1) - 1);
}
