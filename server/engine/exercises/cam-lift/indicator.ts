import { shownLeaning } from '../../alignment/cosine-error.ts';
import { clamp } from '../../angles.ts';
import { playAt } from '../../dial/gauge-error.ts';
import { chanceFor } from '../../random.ts';
import { toMm } from '../../units.ts';
import { type CamLiftBench, lobeAt, rigAt } from './bench.ts';
import { type CamLiftState, type IndicatorState, looseNow } from './state.ts';

/** Where the plunger would be pushed to if it had no ends, millimetres. */
export function freePlungerMm({ indicator, tappet }: CamLiftState): number {
  return indicator === null ? 0 : freeAt(indicator, tappet.heightMm);
}

/** The same for an indicator over a tappet at a height. */
export function freeAt(
  { standMm, scale, passScale, factor, rodMm }: IndicatorState,
  heightMm: number,
): number {
  return standMm + rodMm + heightMm * (scale + passScale) * factor;
}

/** Where the plunger is: held to its travel. */
export function plungerMm(bench: CamLiftBench, state: CamLiftState): number {
  return clamp(freePlungerMm(state), 0, toMm(bench.dial.travel, bench.dial.unit));
}

/** The same for an indicator over a tappet at a height. */
export function plungerAt(bench: CamLiftBench, indicator: IndicatorState, heightMm: number): number {
  return clamp(freeAt(indicator, heightMm), 0, toMm(bench.dial.travel, bench.dial.unit));
}

/** The indicator over a tappet at a height: the works of the gauge have followed its plunger. */
export function follow(bench: CamLiftBench, indicator: IndicatorState, heightMm: number): IndicatorState {
  const atMm = plungerAt(bench, indicator, heightMm);
  const worksMm = playAt(bench.gauge, indicator.worksMm, atMm);
  if (worksMm === indicator.worksMm) return indicator;
  const { standMm, scale, pass, passScale, factor, rodMm } = indicator;
  return { standMm, scale, pass, passScale, worksMm, factor, rodMm };
}

/** The same for the whole bench, after something other than barring has moved tappet or stand. */
export function settled(bench: CamLiftBench, state: CamLiftState): CamLiftState {
  if (state.indicator === null) return state;
  return { ...state, indicator: follow(bench, state.indicator, state.tappet.heightMm) };
}

/** The stand somewhere else: the plunger goes with it. */
export function standAt(bench: CamLiftBench, state: CamLiftState, standMm: number): CamLiftState {
  return state.indicator === null
    ? state
    : settled(bench, { ...state, indicator: { ...state.indicator, standMm } });
}

/**
 * Scatter of the pass over the lobe that the cam is in, as a factor on the lift: 0.2 graduation between passes. It changes
 * opposite the nose, where the lift is nothing, so the pointer never jumps.
 */
export function withPassScatter(
  bench: CamLiftBench,
  indicator: IndicatorState,
  { position, setUps }: Pick<CamLiftState, 'position' | 'setUps'>,
  camCrankDeg: number,
): IndicatorState {
  if (position === null) return indicator;
  const pass = passAt(bench, position, camCrankDeg);
  if (pass === indicator.pass) return indicator;
  return { ...indicator, pass, passScale: passScaleOf(bench, { position, setUps }, pass) };
}

/** What a pass adds to the scale of its set-up. */
export function passScaleOf(
  bench: CamLiftBench,
  { position, setUps }: Pick<CamLiftState, 'position' | 'setUps'>,
  pass: number,
): number {
  const chance = chanceFor(bench.seed, `scatter/${position}/${setUps}/${pass}`);
  return scatterScale(bench, chance.normal(0, 0.2));
}

/** Which pass over its lobe the cam is in: a new one begins opposite the nose. */
export function passAt(bench: CamLiftBench, position: number, camCrankDeg: number): number {
  return passesOver(bench, position)(camCrankDeg);
}

/** The same, for many places of one lobe. */
export function passesOver(bench: CamLiftBench, position: number | null): (camCrankDeg: number) => number {
  if (position === null) return () => 0;
  const beginsDeg = lobeAt(bench, position).lobe.noseCrankDeg - 360;
  return (camCrankDeg) => Math.floor((camCrankDeg - beginsDeg) / 720);
}

/** A loose rod rocks as the load comes off it: from so many crank degrees past the nose, over so many. */
const ROCKS_FROM_DEG = 20;
const ROCKS_OVER_DEG = 60;

/** The indicator on a loose rod: where that has rocked to. */
export function withLooseRod(
  bench: CamLiftBench,
  indicator: IndicatorState,
  state: CamLiftState,
  camCrankDeg: number,
): IndicatorState {
  if (looseNow(bench, state) !== 'rod') return indicator;
  return { ...indicator, rodMm: rockedRod(bench, state, camCrankDeg) };
}

/** A loose rod stands otherwise on every pass; it rocks as the lobe falls away, so the zero does not return either. */
export function rockedRod(
  bench: CamLiftBench,
  { position, setUps, rod }: CamLiftState,
  camCrankDeg: number,
): number {
  if (position === null) return 0;
  const pass = passAt(bench, position, camCrankDeg);
  const { rodRocksMm } = rigAt(bench, position, rod);
  const stoodMm = (of: number) =>
    rodRocksMm * chanceFor(bench.seed, `rod/${position}/${setUps}/${of}`).uniform(-1, 1);
  const pastNoseDeg = camCrankDeg - lobeAt(bench, position).lobe.noseCrankDeg - 720 * pass;
  const share = clamp((pastNoseDeg - ROCKS_FROM_DEG) / ROCKS_OVER_DEG, 0, 1);
  return stoodMm(pass) * (1 - share) + stoodMm(pass + 1) * share;
}

/** What an indicator set down here shows of a travel, as it leans: geometry of `alignment/cosine-error.ts`. */
export function leanFactor(bench: CamLiftBench, { position, rig, rod }: CamLiftState): number {
  if (position === null || rig.square) return 1;
  const { leanDeg, tipInHole } = rigAt(bench, position, rod);
  return shownLeaning(1, leanDeg, tipInHole ? 'tip-caught' : 'leans-on-square-face');
}

/** A scatter in graduations as a share of the nominal lift. */
export function scatterScale(bench: CamLiftBench, graduations: number): number {
  const { specification, dial } = bench;
  return (graduations * toMm(dial.graduation, dial.unit)) / toMm(specification.nominal, specification.unit);
}
