import type { PlaceTruth } from './types.ts';

const RAD = Math.PI / 180;

/** Height of a surface off centre under the tip, millimetres, at a degree of the work: once a turn, and a hair twice a turn. */
export function heightAt(
  {
    eccentricityMm,
    highDeg,
    ovalMm,
    ovalDeg,
  }: Pick<PlaceTruth, 'eccentricityMm' | 'highDeg' | 'ovalMm' | 'ovalDeg'>,
  workDeg: number,
): number {
  return (
    eccentricityMm * Math.cos((workDeg - highDeg) * RAD) + ovalMm * Math.cos(2 * (workDeg - ovalDeg) * RAD)
  );
}

/** A push holds the shaft against its stop for this far; then it wanders, all of it after as much again. Common practice, no source. */
export const PUSH_HOLDS_DEG = 50;

/** Where along its axis the shaft has wandered to, millimetres from its stop. Never pushed, it wanders from the start. */
export function wanderAt(
  { wanderMm, wanderDeg }: { readonly wanderMm: number; readonly wanderDeg: number },
  turnedDeg: number,
  pushedAtDeg: number | null,
): number {
  const since = pushedAtDeg === null ? Number.POSITIVE_INFINITY : Math.abs(turnedDeg - pushedAtDeg);
  const share = Math.min(1, Math.max(0, (since - PUSH_HOLDS_DEG) / PUSH_HOLDS_DEG));
  return share * wanderMm * (0.5 + 0.5 * Math.cos((turnedDeg - wanderDeg) * RAD));
}
