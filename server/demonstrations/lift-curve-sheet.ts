import { judgeLiftCurve, type LiftCurveBrief, type LiftCurveSheet } from '../engine/index.ts';
import { nextFor } from './judged.ts';

/** A line of the table: crank degrees 0 to 720, and the lift in the dial's unit. */
export interface CurveLine {
  readonly crankDeg: number;
  readonly lift: number;
}

/** The sheet that follows from a table read all the way round: the figures by straight lines between its points. */
export function curveSheet(
  { dial, limits, checking }: LiftCurveBrief,
  points: readonly CurveLine[],
): LiftCurveSheet {
  const height = checking.lift;
  const maximumLift = Math.max(...points.map(({ lift }) => lift));
  const top = points.findIndex(({ lift }) => lift === maximumLift);
  const unwrapped = points.map(({ crankDeg, lift }, index) => ({
    lift,
    deg: crankDeg + (index > 0 && crankDeg < (points[0]?.crankDeg ?? 0) ? 720 : 0),
  }));
  const cross = (a: number, b: number) => {
    const [from, to] = [unwrapped[a], unwrapped[b]];
    if (from === undefined || to === undefined) return 0;
    return from.deg + ((height - from.lift) / (to.lift - from.lift)) * (to.deg - from.deg);
  };
  const first = unwrapped.findIndex(({ lift }) => lift > height);
  const closing = unwrapped.findIndex(({ lift }, index) => index > top && lift <= height);
  const last = closing < 0 ? unwrapped.length - 1 : closing;
  const half = (deg: number) => Math.round(2 * deg) / 2;
  const [opens, closes] = [half(cross(first - 1, first)), half(cross(last - 1, last))];
  const highs = unwrapped.filter(({ lift }) => lift >= maximumLift - 1e-9).map(({ deg }) => deg);
  const high = (Math.min(...highs) + Math.max(...highs)) / 2;
  const figures = { lift: maximumLift, widthDeg: closes - opens, centreDeg: (opens + closes) / 2 };
  const verdict = judgeLiftCurve(figures, limits, dial);
  return {
    ...{
      points: lobeOf(points, dial.graduation),
      highPointDeg: high % 720,
      opensDeg: opens % 720,
      closesDeg: closes % 720,
    },
    ...{ widthDeg: figures.widthDeg, centreDeg: figures.centreDeg % 720, maximumLift },
    ...{ verdict, next: nextFor(verdict) },
  };
}

/** Lines of base circle that are written on either side of the lobe. */
const EITHER_SIDE = 8;

/** What of a table read all the way round is worth writing down: the lobe, and a little of the base circle before and after. */
function lobeOf(points: readonly CurveLine[], graduation: number): readonly CurveLine[] {
  const lifts = ({ lift }: CurveLine) => lift > graduation / 2;
  const from = points.findIndex(lifts);
  return from < 0
    ? points
    : points.slice(Math.max(0, from - EITHER_SIDE), points.findLastIndex(lifts) + EITHER_SIDE + 1);
}
