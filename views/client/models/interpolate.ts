/** What the dial shows at one moment; the part of the engine's sample that moves. */
export interface DialSample {
  /** Crank, or the degree of the work under the tip; null where nothing turns. */
  readonly deg: number | null;
  readonly pointer: number;
  readonly counter: number | null;
  readonly plungerMm: number;
  /** On the bar, 0 to 1; null where nobody bars. */
  readonly effort: number | null;
}

/** The same run with degrees, pointer and small hand counted on instead of starting again each turn, and when each sample is due, 0 to 1. */
export interface UnwrappedRun {
  readonly samples: readonly DialSample[];
  readonly due: readonly number[];
}

/** The way from one place on a circle to another that is at most half a turn: -turn/2 to turn/2. */
export function shortWay(from: number, to: number, turn: number): number {
  const way = (((to - from) % turn) + turn) % turn;
  return way > turn / 2 ? way - turn : way;
}

/**
 * Counts a run on. Samples lie at most a quarter turn of the pointer apart, so the short way is the true one. Each is due by the degrees
 * turned up to it, which makes the speed steady; where nothing turns they are spread evenly.
 */
export function unwrapRun(
  samples: readonly DialSample[],
  graduations: number,
  counterTurns: number,
): UnwrappedRun {
  const unwrapped: DialSample[] = [];
  const barred: number[] = [];
  for (const sample of samples) {
    const last = unwrapped.at(-1);
    if (!last) {
      unwrapped.push(sample);
      barred.push(0);
      continue;
    }
    const deg = countOn(last.deg, sample.deg, 360);
    unwrapped.push({
      ...sample,
      deg,
      pointer: last.pointer + shortWay(last.pointer, sample.pointer, graduations),
      counter: countOn(last.counter, sample.counter, counterTurns),
    });
    barred.push((barred.at(-1) ?? 0) + Math.abs((deg ?? 0) - (last.deg ?? 0)));
  }
  const whole = barred.at(-1) ?? 0;
  const last = Math.max(1, samples.length - 1);
  return { samples: unwrapped, due: barred.map((deg, index) => (whole > 0 ? deg / whole : index / last)) };
}

/** What the dial shows at a fraction of the run, 0 to 1; outside is held to the ends. An empty run has nothing to show. */
export function sampleAt(run: UnwrappedRun, fraction: number): DialSample | undefined {
  const { samples, due } = run;
  if (fraction >= 1) return samples.at(-1);
  let high = due.findIndex((time) => time > fraction);
  if (high < 0) high = samples.length - 1;
  const to = samples[high];
  const from = samples[high - 1];
  if (!from || !to) return samples[0];
  const start = due[high - 1] ?? 0;
  const width = (due[high] ?? 1) - start;
  const part = width > 0 ? Math.min(Math.max((fraction - start) / width, 0), 1) : 1;
  const between = (a: number, b: number) => a + (b - a) * part;
  const orLast = (a: number | null, b: number | null) => (a === null || b === null ? b : between(a, b));
  return {
    deg: orLast(from.deg, to.deg),
    pointer: between(from.pointer, to.pointer),
    counter: orLast(from.counter, to.counter),
    plungerMm: between(from.plungerMm, to.plungerMm),
    effort: orLast(from.effort, to.effort),
  };
}

/**
 * The fraction to show with reduced motion: the run is cut into steps of at most `stepDeg` of crank and stands still in each. The last
 * step is the end of the run.
 */
export function steppedFraction(run: UnwrappedRun, fraction: number, stepDeg: number): number {
  let barred = 0;
  for (let index = 1; index < run.samples.length; index += 1) {
    barred += Math.abs((run.samples[index]?.deg ?? 0) - (run.samples[index - 1]?.deg ?? 0));
  }
  // Where nothing turns, from sample to sample: at most a quarter turn of the pointer.
  const steps = barred > 0 ? Math.ceil(barred / stepDeg - 1e-9) : run.samples.length - 1;
  if (steps < 1 || fraction >= 1) return 1;
  return Math.floor(Math.max(fraction, 0) * steps) / steps;
}

/** Counts on what goes round once in `turn`; where there is none of it, or it does not go round, there is nothing to count. */
function countOn(last: number | null, next: number | null, turn: number): number | null {
  if (last === null || next === null || turn === 0) return next;
  return last + shortWay(last, next, turn);
}
