import { isHump, type SeenRun } from './sight.ts';

/** A step of the pointer, against the case, as a compression was felt. */
export interface CompressionStep {
  /** Of the point at which it happened. */
  readonly index: number;
  readonly at: number;
  readonly graduations: number;
}

/** The pointer of one run over the crank, with the steps at compressions found and taken out. */
export interface Curve {
  readonly at: readonly number[];
  readonly crankDeg: readonly number[];
  /** As it stood against the case. */
  readonly count: readonly number[];
  /** What barring did to it, but for the steps. */
  readonly smooth: readonly number[];
  /** The face slipped in this action, and which of its compressions did it cannot be told: where the pointer stood is good at its ends only. */
  readonly unsure: readonly boolean[];
  readonly steps: readonly CompressionStep[];
  /** Compressions felt while the face stood still. */
  readonly humps: number;
}

/** Steps of a loose stand: from so many graduations, or so much of what the pointer moves at each degree there, to so many. */
const STEP_LEAST = 0.24;
const STEP_SHARE = 0.03;
const STEP_MOST = 1.7;

export function curveOf({ points, glances }: SeenRun): Curve {
  const faceMoved = new Set(glances.filter((glance) => glance.faceMoved !== 0).map(({ at }) => at));
  // Degrees at which the crank turned: what is done while it stands, a press or a lift of the tip, is no part of the slope.
  const turned = points.flatMap(({ crankDeg }, n) =>
    n > 0 && crankDeg !== points[n - 1]?.crankDeg ? [n] : [],
  );
  const steps = new Map<number, CompressionStep>();
  let humps = 0;
  for (const [order, index] of turned.entries()) {
    const [before, point] = [points[index - 1], points[index]];
    if (before === undefined || point === undefined || faceMoved.has(point.at)) continue;
    if (!isHump(before.effort, point.effort)) continue;
    humps += 1;
    const step = largestSpike(points, turned, order);
    if (step !== undefined) steps.set(step.index, step);
  }
  let taken = 0;
  const smooth = points.map(({ barred }, index) => {
    taken += steps.get(index)?.graduations ?? 0;
    return barred - taken;
  });
  return {
    at: points.map(({ at }) => at),
    crankDeg: points.map(({ crankDeg }) => crankDeg),
    count: points.map(({ count }) => count),
    smooth,
    unsure: points.map(({ at }) => faceMoved.has(at)),
    steps: [...steps.values()],
    humps,
  };
}

/** A compression is felt within a degree of where the effort is seen to rise: the movement there that fits its neighbours least, if it is a step at all. */
function largestSpike(points: SeenRun['points'], turned: readonly number[], order: number) {
  const spikes = [order - 1, order, order + 1].flatMap((n) => {
    const [last, here, next] = [n - 1, n, n + 1].map((one) => riseAt(points, turned[one]));
    const index = turned[n];
    if (index === undefined || last === undefined || here === undefined || next === undefined) return [];
    const graduations = here - (last + next) / 2;
    const least = Math.max(STEP_LEAST, STEP_SHARE * Math.abs(next));
    return [{ index, at: points[index]?.at ?? 0, graduations, least, size: Math.abs(graduations) }];
  });
  const [largest] = spikes.sort((a, b) => b.size - a.size);
  if (largest === undefined || largest.size < largest.least || largest.size > STEP_MOST) return undefined;
  return largest;
}

/** What barring moved the pointer by, for a degree of crank, where it came to a point; undefined for no point. */
function riseAt(points: SeenRun['points'], index: number | undefined): number | undefined {
  const [before, here] = index === undefined ? [] : [points[index - 1], points[index]];
  if (before === undefined || here === undefined) return undefined;
  return (here.barred - before.barred) / Math.abs(here.crankDeg - before.crankDeg);
}

/** Is the pointer still, to `within` graduations, for so many degrees of crank one way from a point? null where they were not barred. */
export function isStill(
  curve: Curve,
  index: number,
  degrees: number,
  within: number,
  way: 1 | -1,
): boolean | null {
  const start = curve.crankDeg[index] ?? 0;
  let low = curve.smooth[index] ?? 0;
  let high = low;
  for (let n = index; n >= 0 && n < curve.smooth.length; n += way) {
    const value = curve.smooth[n] ?? 0;
    low = Math.min(low, value);
    high = Math.max(high, value);
    if (high - low > within) return false;
    if (Math.abs((curve.crankDeg[n] ?? 0) - start) >= degrees) return true;
  }
  return null;
}
