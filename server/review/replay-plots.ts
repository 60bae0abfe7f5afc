import type { PlotPlace, ReplayFrame } from '../../views/client/models/replay.ts';
import type { TraceRun } from '../engine/index.ts';

/**
 * Where each frame of a replay is on the plots of the trace: on the set-up under way, at the point that has gone as large a share of its
 * action's way. Before any set-up there is none.
 */
export function placesOn(frames: readonly ReplayFrame[], trace: readonly TraceRun[]): (PlotPlace | null)[] {
  const runs = trace.flatMap((run, plot) => (run.at.length > 0 ? [{ run, plot }] : []));
  const places: (PlotPlace | null)[] = [];
  let from = 0;
  while (from < frames.length) {
    const at = frames[from]?.at ?? 0;
    let to = from;
    while (frames[to + 1]?.at === at) to += 1;
    places.push(...placesOf(frames.slice(from, to + 1), at, runs));
    from = to + 1;
  }
  return places;
}

interface Plotted {
  readonly run: TraceRun;
  readonly plot: number;
}

/** Frames of one action. */
function placesOf(
  frames: readonly ReplayFrame[],
  at: number,
  runs: readonly Plotted[],
): (PlotPlace | null)[] {
  const own = runs.find(({ run }) => run.at.includes(at));
  if (own !== undefined) {
    const first = own.run.at.indexOf(at);
    const last = own.run.at.lastIndexOf(at);
    const points = own.run.at.slice(first, last + 1).map((_, index) => ({
      crankDeg: own.run.crankDeg[first + index] ?? 0,
      way: own.run.travel[first + index] ?? 0,
    }));
    const perTravel = 1 / (largest(points.map(({ way }) => Math.abs(way))) || 1);
    const shares = sharesOf(points.map(({ crankDeg, way }) => [crankDeg / 90, way * perTravel]));
    const most = largest(frames.map(({ graduations }) => Math.abs(graduations))) || 1;
    return sharesOf(frames.map(({ crankDeg, graduations }) => [crankDeg / 90, graduations / most])).map(
      (share) => ({ plot: own.plot, point: first + nearest(shares, share) }),
    );
  }
  const before = runs.findLast(({ run }) => (run.at[0] ?? 0) <= at);
  if (before === undefined) return frames.map(() => null);
  const point = Math.max(
    0,
    before.run.at.findLastIndex((one) => one <= at),
  );
  return frames.map(() => ({ plot: before.plot, point }));
}

/** How much of the whole way has been gone at each point, 0 to 1; 1 throughout where nothing moved. */
function sharesOf(points: readonly (readonly [number, number])[]): number[] {
  let gone = 0;
  const ways = points.map(([x, y], index) => {
    const [beforeX, beforeY] = points[index - 1] ?? [x, y];
    gone += Math.abs(x - beforeX) + Math.abs(y - beforeY);
    return gone;
  });
  return ways.map((way) => (gone === 0 ? 1 : way / gone));
}

function nearest(shares: readonly number[], share: number): number {
  let best = 0;
  shares.forEach((one, index) => {
    if (Math.abs(one - share) <= Math.abs((shares[best] ?? 0) - share)) best = index;
  });
  return best;
}

function largest(values: readonly number[]): number {
  return values.reduce((most, value) => Math.max(most, value), 0);
}
