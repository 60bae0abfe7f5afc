import { chanceFor } from '../../random.ts';
import { toMm } from '../../units.ts';
import { type CamLiftBench, rigAt } from './bench.ts';
import { settled, standAt } from './indicator.ts';
import { cannot, type Step, slide, still } from './moments.ts';
import { type CamLiftState, isTight, looseNow } from './state.ts';
import type { CamLiftAction, Perception, RigPart } from './types.ts';

/** Looks along the bore at how the indicator stands; or sets it in line with the bore, its tip on the flat of the rod. */
export function align(
  bench: CamLiftBench,
  state: CamLiftState,
  action: Extract<CamLiftAction, { type: 'align' }>,
): Step {
  if (state.indicator === null || state.position === null) return cannot(bench, state, 'indicator-is-off');
  if (action.square !== true) return still(bench, state, ...looksLike(bench, state, state.position));
  const indicator = { ...state.indicator, factor: 1 };
  const square = settled(bench, { ...state, rig: { ...state.rig, square: true }, indicator });
  return slide(bench, state, square, { code: 'set-square' });
}

/** What an eye along the bore makes of it, in whole degrees: it may be out by one. */
function looksLike(bench: CamLiftBench, state: CamLiftState, position: number): Perception[] {
  if (state.rig.square) return [{ code: 'stands-square' }];
  const { leanDeg, tipInHole } = rigAt(bench, position, state.rod);
  const degrees = Math.max(
    0,
    Math.round(leanDeg + chanceFor(bench.seed, `eye/${position}`).uniform(-0.6, 0.6)),
  );
  const lean: Perception = degrees === 0 ? { code: 'stands-square' } : { code: 'leans', degrees };
  return tipInHole ? [lean, { code: 'tip-in-hole' }] : [lean];
}

const PARTS: readonly RigPart[] = ['arm', 'base', 'rod'];

/** Tightens a part of the stand, or seats the rod firmly; a part that was loose is felt to give. */
export function tighten(bench: CamLiftBench, state: CamLiftState, part: RigPart): Step {
  if (!PARTS.includes(part)) return cannot(bench, state, 'unknown-action');
  if (state.indicator === null || state.position === null) return cannot(bench, state, 'indicator-is-off');
  const gave = !isTight(state, part) && rigAt(bench, state.position, state.rod).loosePart === part;
  // Seating it firmly helps a rod that was put in carelessly, not one that does not fit.
  if (gave && part === 'rod' && bench.rods.length > 0) return still(bench, state, { code: 'still-rocks' });
  const tight = [...state.rig.tight.filter((one) => one !== part), part];
  return still(
    bench,
    { ...state, rig: { ...state.rig, tight } },
    { code: gave ? 'was-loose' : 'was-tight', part },
  );
}

/** A loose arm or base gives way when it is shaken: 0.3 to 1.5 graduations, one way. Plunger and small hand go with it. */
export function shakeStand(bench: CamLiftBench, state: CamLiftState, probability: number): CamLiftState {
  const loose = looseNow(bench, state);
  if (state.indicator === null || state.position === null || (loose !== 'arm' && loose !== 'base'))
    return state;
  const shakes = state.shakes + 1;
  const chance = chanceFor(bench.seed, `shake/${state.setUps}/${shakes}`);
  const moves = chance.chance(probability);
  const graduationMm = toMm(bench.dial.graduation, bench.dial.unit);
  const byMm = moves
    ? rigAt(bench, state.position, state.rod).slipWay * chance.uniform(0.3, 1.5) * graduationMm
    : 0;
  return standAt(bench, { ...state, shakes }, state.indicator.standMm + byMm);
}

/** What lifting the tip and letting it down moves a loose rod by. */
export function rodShiftMm(bench: CamLiftBench, state: CamLiftState): number {
  if (state.position === null || looseNow(bench, state) !== 'rod') return 0;
  const chance = chanceFor(bench.seed, `rod-tip/${state.setUps}/${state.tipLifts}`);
  return chance.uniform(-1, 1) * rigAt(bench, state.position, state.rod).rodRocksMm;
}
