import { wrapDegrees } from '../../angles.ts';
import { CYCLE_DEG } from '../../drive/firing.ts';

/** One line of a table that is filled in whole: crank degrees, and the lift in any unit. */
export interface TablePoint {
  readonly crankDeg: number;
  readonly lift: number;
}

/** Where the curve passes a height, between two neighbouring points `gapDeg` apart. */
export interface Crossing {
  readonly deg: number;
  readonly gapDeg: number;
}

/** What a table says. Crank degrees are told round the highest point and may lie outside 0 to 720; lifts in the table's unit. */
export interface CurveTable {
  /** In the order of the crank, each degree once. */
  readonly points: readonly TablePoint[];
  readonly highest: number;
  /** Between these the curve is at its highest as far as the table can tell. */
  readonly highFromDeg: number;
  readonly highToDeg: number;
}

/** Puts a table in the crank's order. Of two lines for one degree the later stands. Null for no lines. `flat`: what an eye cannot tell apart. */
export function tableOf(lines: readonly TablePoint[], flat: number): CurveTable | null {
  const top = lines.reduce<TablePoint | null>(
    (best, line) => (best === null || line.lift > best.lift ? line : best),
    null,
  );
  if (top === null) return null;
  const byDegree = new Map(
    lines.map(({ crankDeg, lift }) => {
      const deg = top.crankDeg + wrapDegrees(crankDeg - top.crankDeg, CYCLE_DEG);
      return [Math.round(deg * 1000), { crankDeg: deg, lift }];
    }),
  );
  const points = [...byDegree.values()].sort((a, b) => a.crankDeg - b.crankDeg);
  const at = points.findIndex(({ crankDeg }) => Math.abs(crankDeg - top.crankDeg) < 1e-3);
  const isHigh = (index: number) => (points[index]?.lift ?? Number.NEGATIVE_INFINITY) >= top.lift - flat;
  let [first, last] = [at, at];
  while (isHigh(first - 1)) first -= 1;
  while (isHigh(last + 1)) last += 1;
  const degree = (index: number) => points[index]?.crankDeg ?? top.crankDeg;
  return {
    points,
    highest: top.lift,
    highFromDeg: degree(Math.max(0, first - 1)),
    highToDeg: degree(Math.min(points.length - 1, last + 1)),
  };
}

/** Where the curve passes a height before (−1) or after (1) its highest point, in a straight line between neighbours; null where it does not. */
export function crossingOf({ points, highest }: CurveTable, height: number, side: 1 | -1): Crossing | null {
  let index = points.findIndex(({ lift }) => lift === highest);
  for (; ; index += side) {
    const [inner, outer] = [points[index], points[index + side]];
    if (inner === undefined || outer === undefined || inner.lift <= height) return null;
    if (outer.lift > height) continue;
    const share = (inner.lift - height) / (inner.lift - outer.lift);
    const gapDeg = Math.abs(outer.crankDeg - inner.crankDeg);
    return { deg: inner.crankDeg + side * share * gapDeg, gapDeg };
  }
}

/** The figures a table gives at a height; null where it does not pass it on both sides. */
export function eventOf(table: CurveTable, height: number) {
  const [opens, closes] = [crossingOf(table, height, -1), crossingOf(table, height, 1)];
  if (opens === null || closes === null) return null;
  return { opens, closes, widthDeg: closes.deg - opens.deg, centreDeg: (opens.deg + closes.deg) / 2 };
}

/**
 * How far two honest ways of finding a crossing may lie apart, degrees. Half a degree for plotting and reading off; and a straight line
 * instead of a curve is off by at most gap²/8 × y″/y′, where y″/y′ of an injection lobe at 1 mm is at most 0.062 a degree of crank
 * (tests: every law of this engine).
 */
export function crossingWithinDeg(gapDeg: number): number {
  return 0.5 + (BENDING * gapDeg * gapDeg) / 8;
}

/** y″/y′ at the checking lift, a degree of crank. */
const BENDING = 0.062;
