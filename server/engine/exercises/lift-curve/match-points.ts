import { wrapDegrees } from '../../angles.ts';
import { graduationMm } from '../../bench-parts/gauge.ts';
import { type GaugeEntry, restOf, type Zeroed } from '../../bench-parts/log.ts';
import { CYCLE_DEG } from '../../drive/firing.ts';
import type { TablePoint } from './table.ts';
import type { LiftCurveAction, LiftCurveBench, LiftCurveState } from './types.ts';
import { heightAtCam } from './work.ts';

export type Zero = Zeroed<LiftCurveState, LiftCurveAction>;

/** A place where the crank was stopped under a zero. */
export interface Rest {
  readonly at: number;
  /** What wheel and turn said, not wrapped. */
  readonly wheelDeg: number;
  /** In graduations. */
  readonly shown: number;
  /** Crank degrees by which the cam lags because the play is not taken up; 0 coming forward. */
  readonly lagDeg: number;
  /** Graduations by which that changes what the gauge shows here. */
  readonly lagGraduations: number;
  readonly heightGraduations: number;
}

/** A line of the table with the place it was read at; null where the crank never stood there. Lifts in graduations. */
export interface MatchedPoint extends TablePoint {
  readonly rest: Rest | null;
}

/** Wheels are read to half a degree. */
const WHEEL_DEG = 0.5;
const HAIR = 1e-6;

/** Every place where the crank came to rest under a zero. */
export function restsUnder(bench: LiftCurveBench, { entries }: Zero): Rest[] {
  return entries.flatMap((entry) => (entry.action.type === 'bar' ? restAt(bench, entry) : []));
}

function restAt(bench: LiftCurveBench, entry: GaugeEntry<LiftCurveState, LiftCurveAction>): Rest[] {
  const moment = restOf(entry);
  if (moment === undefined) return [];
  const { crankDeg, camCrankDeg } = entry.step.state;
  const graduations = (camDeg: number) => heightAtCam(bench, camDeg) / graduationMm(bench);
  return [
    {
      at: entry.at,
      wheelDeg: moment.turnedDeg,
      shown: moment.graduations,
      lagDeg: camCrankDeg - crankDeg,
      lagGraduations: Math.abs(graduations(camCrankDeg) - graduations(crankDeg)),
      heightGraduations: graduations(camCrankDeg),
    },
  ];
}

/** The table's lines, each with the rest at its degree that fits it best; of two alike the one read coming forward. */
export function matchPoints(lines: readonly TablePoint[], rests: readonly Rest[]): MatchedPoint[] {
  return lines.map((line) => {
    const here = rests.filter(
      ({ wheelDeg }) => Math.abs(wrapDegrees(wheelDeg - line.crankDeg, CYCLE_DEG)) <= WHEEL_DEG + HAIR,
    );
    const misfit = (rest: Rest) => Math.abs(rest.shown - line.lift) + (rest.lagGraduations >= 0.5 ? 0.5 : 0);
    const rest = here.reduce<Rest | null>(
      (best, one) => (best === null || misfit(one) < misfit(best) ? one : best),
      null,
    );
    return { ...line, rest };
  });
}

/** Graduations that a line is off what was shown; null where nothing was. */
export function offOf({ lift, rest }: MatchedPoint): number | null {
  return rest === null ? null : lift - rest.shown;
}
