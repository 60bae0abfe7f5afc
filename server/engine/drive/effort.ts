import { clamp, wrapDegrees } from '../angles.ts';

/**
 * How hard the bar pulls. Gas shut in near a compression top dead centre pushes the piston away from it: back before
 * it, on after it. It leaks past the rings in a few seconds. Common practice, no source; effort is a share of all that a
 * person can do on the bar.
 */
export interface Compression {
  /** Crank degrees from one firing top dead centre to the next; one of them is at 0, cylinder 1's. */
  readonly everyDeg: number;
  /** Seconds for the gas at its tightest to leak to 1/e. */
  readonly leakSeconds: number;
}

/** Share of effort that bearings, rings and valve springs take. */
export const FRICTION = 0.2;
const GAS = 0.7;
/** Valves shut and gas felt from here before top dead centre, and again as far after it, where the next cylinder leaves room. */
const WINDOW_DEG = 75;

/** Crank degrees from the nearest firing top dead centre. */
function fromTdcDeg({ everyDeg }: Compression, crankDeg: number): number {
  return wrapDegrees(crankDeg, everyDeg);
}

/** Nearness to top dead centre: 1 there, 0 where no gas is felt. Windows of neighbouring cylinders meet, they never overlap. */
function nearness({ everyDeg }: Compression, fromTdc: number): number {
  return Math.max(0, 1 - Math.abs(fromTdc) / Math.min(WINDOW_DEG, everyDeg / 2));
}

/**
 * Share of the gas left after `seconds` on the way from one crank angle to the next. It is whole again where no gas is felt and
 * where the next cylinder takes over: fresh air has come in.
 */
export function leakedCharge(
  compression: Compression,
  fromDeg: number,
  toDeg: number,
  charge: number,
  seconds: number,
): number {
  const { everyDeg, leakSeconds } = compression;
  const near = nearness(compression, fromTdcDeg(compression, toDeg));
  if (near === 0 || Math.round(fromDeg / everyDeg) !== Math.round(toDeg / everyDeg)) return 1;
  // The tighter the gas the faster it leaks; at top dead centre it is tightest though it pulls no more on the bar.
  return charge * Math.exp((-seconds * near * near * 2) / leakSeconds);
}

/** Push of the gas on the crank, forward positive, as a share of all a person can do: none at top dead centre, most at a third of the way out. */
export function gasPush(compression: Compression, crankDeg: number, charge: number): number {
  const fromTdc = fromTdcDeg(compression, crankDeg);
  const near = nearness(compression, fromTdc);
  return Math.sign(fromTdc) * GAS * charge * 6.75 * near * near * (1 - near);
}

/** Effort to keep barring in a direction, 0 to 1. */
export function effortToBar(
  compression: Compression,
  crankDeg: number,
  charge: number,
  direction: 1 | -1,
): number {
  return clamp(FRICTION - direction * gasPush(compression, crankDeg, charge), 0, 1);
}

/**
 * How far the engine moves by itself when the bar is let go: 0 where friction holds it, otherwise 5 to 30° away from
 * top dead centre, back before it (negative), on after it.
 */
export function runsBy(compression: Compression, crankDeg: number, charge: number): number {
  const push = gasPush(compression, crankDeg, charge);
  const excess = Math.abs(push) - FRICTION;
  if (excess <= 0) return 0;
  return Math.sign(push) * (5 + (25 * excess) / (GAS - FRICTION));
}

/** Is a compression being felt while barring in a direction? The gas pushes against it, clearly over friction. */
export function isStiff(
  compression: Compression,
  crankDeg: number,
  charge: number,
  direction: 1 | -1,
): boolean {
  return direction * gasPush(compression, crankDeg, charge) < -0.15;
}
