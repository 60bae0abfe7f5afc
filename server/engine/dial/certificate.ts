import { toMm } from '../units.ts';
import type { Dial } from './dial.ts';
import { type GaugeError, playAt, shownMm } from './gauge-error.ts';

/** One line of a calibration: a place of the plunger, and what the gauge showed there less what it should. Dial's unit. */
export interface CalibrationPoint {
  readonly at: number;
  readonly goingIn: number;
  readonly comingBack: number;
}

/** Errors of one indicator against its own zero, as a calibration room writes them down. */
export interface Certificate {
  readonly unit: Dial['unit'];
  readonly points: readonly CalibrationPoint[];
}

/**
 * Turns at which JIS B 7503:2017 looks: every tenth of a turn to turn 2, every half to turn 5, every turn to turn 10, every five to turn
 * 50, as far as the travel goes. Source: the procedure as given by a maker's page, "Dial Indicators JIS B 7503: 2017".
 */
export function calibrationTurns(dial: Dial): number[] {
  // Three graduations are kept at the end: going on past the last point must be possible before coming back.
  const end = (dial.travel - 3 * dial.graduation) / dial.rangePerTurn;
  const turns: number[] = [];
  for (let tenths = 0; tenths <= end * 10 + 1e-9 && tenths <= 500; tenths += stepAfter(tenths))
    turns.push(tenths / 10);
  return turns;
}

function stepAfter(tenths: number): number {
  return tenths < 20 ? 1 : tenths < 50 ? 5 : tenths < 100 ? 10 : 50;
}

/**
 * Runs the procedure on a gauge: in to each point, three graduations past the last, and back over the same points. Errors are counted from
 * what it showed at the first point going in.
 */
export function calibrate(dial: Dial, error: GaugeError): CalibrationPoint[] {
  const rangeMm = toMm(dial.rangePerTurn, dial.unit);
  const places = calibrationTurns(dial).map((turns) => turns * rangeMm);
  const inUnit = (mm: number) => (dial.unit === 'in' ? mm / 25.4 : mm);
  let worksMm = 0;
  const errorAt = (placeMm: number) => {
    worksMm = playAt(error, worksMm, placeMm);
    return shownMm(error, dial, worksMm) - placeMm;
  };
  // Run in from outside first, so that the play is taken up.
  worksMm = -error.hysteresisMm;
  const goingIn = places.map(errorAt);
  errorAt((places.at(-1) ?? 0) + 3 * toMm(dial.graduation, dial.unit));
  const comingBack = [...places].reverse().map(errorAt).reverse();
  const first = goingIn[0] ?? 0;
  return places.map((placeMm, index) => ({
    at: inUnit(placeMm),
    goingIn: inUnit((goingIn[index] ?? 0) - first),
    comingBack: inUnit((comingBack[index] ?? 0) - first),
  }));
}

/** The certificate of a gauge: errors to a tenth of a graduation, as a calibration room reads them. */
export function certificateOf(dial: Dial, error: GaugeError): Certificate {
  const toTenth = (length: number) =>
    Number((Math.round((length / dial.graduation) * 10) * (dial.graduation / 10)).toFixed(6));
  const points = calibrate(dial, error).map(({ at, goingIn, comingBack }) => ({
    at: Number(at.toFixed(6)),
    goingIn: toTenth(goingIn),
    comingBack: toTenth(comingBack),
  }));
  return { unit: dial.unit, points };
}
