import { clamp } from '../../angles.ts';
import type { BoreAxis, BoreBench, BoreLevel, RingTravel } from './types.ts';

/** Iron grows by this share for each kelvin. Common value, from memory: 10 to 12 millionths. */
const GROWTH_PER_K = 11e-6;
/** At each level the bore is even over so many millimetres. */
const EVEN_MM = 12;

/**
 * What a two-point gauge spans in a bore of `diameter` when it slants by `tiltDeg` in the plane of the bore's axis: diameter / cos(tilt), in
 * the diameter's unit. Square it is smallest, and there the pointer turns back. Source: geometry. Tilt within ±90° (left out).
 * @throws RangeError outside.
 */
export function slantedSpan(diameter: number, tiltDeg: number): number {
  if (!(Math.abs(tiltDeg) < 90)) throw new RangeError('A gauge slants by less than 90 degrees.');
  return diameter / Math.cos((tiltDeg * Math.PI) / 180);
}

/**
 * Depth at which each level is best measured, millimetres: just below the ridge, half way, and just above the lowest ring. Any travel of the
 * rings with its top above its foot. Never throws. Source: common practice, no source.
 */
export function levelDepths({ fromMm, toMm }: RingTravel): Readonly<Record<BoreLevel, number>> {
  return { top: fromMm + EVEN_MM / 2, middle: (fromMm + toMm) / 2, bottom: toMm - EVEN_MM / 2 };
}

/** The level a depth is nearest to, and whether it is where the bore is even there. */
export function levelAt(travel: RingTravel, depthMm: number): { level: BoreLevel; onIt: boolean } {
  const depths = levelDepths(travel);
  const off = (level: BoreLevel) => Math.abs(depths[level] - depthMm);
  const level = (['top', 'middle', 'bottom'] as const).reduce((near, one) =>
    off(one) < off(near) ? one : near,
  );
  return { level, onIt: off(level) <= EVEN_MM / 2 + 1e-9 };
}

/** Diameter at a depth along an axis, as warm as the block is, millimetres. Above and below the travel of the rings nothing has worn. */
export function diameterAt(bench: BoreBench, depthMm: number, axis: BoreAxis, cooled: boolean): number {
  const { travel, diametersMm, nominalMm } = bench;
  const growth = cooled ? 1 : 1 + GROWTH_PER_K * bench.warmerK;
  if (depthMm < travel.fromMm || depthMm > travel.toMm) return nominalMm * growth;
  const { top, middle, bottom } = levelDepths(travel);
  const [above, below, from, to] =
    depthMm < middle
      ? ([diametersMm.top, diametersMm.middle, top, middle] as const)
      : ([diametersMm.middle, diametersMm.bottom, middle, bottom] as const);
  const share = clamp((depthMm - from - EVEN_MM / 2) / (to - from - EVEN_MM), 0, 1);
  const smooth = share * share * (3 - 2 * share);
  return (above[axis] + (below[axis] - above[axis]) * smooth) * growth;
}

/** How much larger the block's warmth makes the bore, millimetres. */
export function warmthMm(bench: BoreBench): number {
  return bench.nominalMm * GROWTH_PER_K * bench.warmerK;
}
