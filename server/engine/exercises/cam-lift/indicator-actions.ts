import { graduationsPerTurn } from '../../dial/dial.ts';
import { REPEAT_GRADUATIONS } from '../../dial/gauge-error.ts';
import { chanceFor } from '../../random.ts';
import { toMm } from '../../units.ts';
import type { CamLiftBench } from './bench.ts';
import {
  freePlungerMm,
  leanFactor,
  scatterScale,
  standAt,
  withLooseRod,
  withPassScatter,
} from './indicator.ts';
import { between, cannot, type Step, slide, still } from './moments.ts';
import { type Moment, momentOf } from './perceive.ts';
import { rodShiftMm, shakeStand } from './rig-actions.ts';
import type { CamLiftState } from './state.ts';

export function preload(bench: CamLiftBench, state: CamLiftState, turns: number): Step {
  if (state.position === null) return cannot(bench, state, 'choose-a-position');
  if (!state.tappet.in) return cannot(bench, state, 'tappet-is-out');
  if (bench.tray.length > 0 && state.gauge === null) return cannot(bench, state, 'choose-a-gauge');
  if (bench.rods.length > 0 && state.rod === null) return cannot(bench, state, 'choose-a-rod');
  if (!Number.isFinite(turns)) return cannot(bench, state, 'not-a-number');
  const { dial } = bench;
  if (turns < 0 || turns * dial.rangePerTurn > dial.travel) return cannot(bench, state, 'too-far');
  const setUps = state.setUps + 1;
  const chance = chanceFor(bench.seed, `set-up/${state.position}/${setUps}`);
  const scale = 1 + scatterScale(bench, chance.normal(0, 0.4));
  // A hand on an arm sets a turn to within a few hundredths; with no preload the tip just touches.
  const plungerMm =
    turns === 0 ? 0 : Math.max(0, turns + chance.uniform(-0.06, 0.06)) * toMm(dial.rangePerTurn, dial.unit);
  const afresh = {
    ...{ standMm: 0, scale, pass: Number.NaN, passScale: 0, worksMm: 0 },
    ...{ factor: leanFactor(bench, state), rodMm: 0 },
  };
  const scattered = withPassScatter(bench, afresh, { ...state, setUps }, state.camCrankDeg);
  const indicator = withLooseRod(bench, scattered, { ...state, setUps }, state.camCrankDeg);
  const touching = { ...state, setUps, indicator, clamped: false, zeroedAtCrankDeg: null };
  // Taken off first where it stood before; then the tip just touches, then the arm is let down.
  const touchMm = -freePlungerMm(touching);
  const touches = standAt(bench, touching, touchMm);
  const off = slide(bench, state, touches);
  const down = slide(bench, touches, standAt(bench, touches, touchMm + plungerMm), { code: 'indicator-set' });
  return { ...down, moments: [...off.moments, ...down.moments] };
}

export function liftTip(bench: CamLiftBench, state: CamLiftState): Step {
  if (state.indicator === null) return cannot(bench, state, 'indicator-is-off');
  const { dial } = bench;
  const graduationMm = toMm(dial.graduation, dial.unit);
  const tipLifts = state.tipLifts + 1;
  const here = momentOf(bench, state);
  if (here.plungerMm <= graduationMm)
    return still(bench, { ...state, tipLifts }, { code: 'nothing-to-lift' });
  const chance = chanceFor(bench.seed, `tip/${state.setUps}/${tipLifts}`);
  const shiftMm = chance.normal(0, REPEAT_GRADUATIONS) * graduationMm;
  const turnMm = toMm(dial.rangePerTurn, dial.unit);
  // A tip that is raised pushes its plunger in.
  const raisedMm = Math.min(toMm(dial.travel, dial.unit), here.plungerMm + 1.2 * turnMm);
  const { standMm } = state.indicator;
  const raised = standAt(bench, { ...state, tipLifts }, standMm + (raisedMm - here.plungerMm));
  const back = touchBezel(
    bench,
    shakeStand(bench, standAt(bench, raised, standMm + shiftMm + rodShiftMm(bench, raised)), 0.5),
    0.3,
  );
  const perTurn = graduationsPerTurn(dial);
  const by = (raisedMm - here.plungerMm) / turnMm;
  const up: Moment = {
    ...here,
    plungerMm: raisedMm,
    graduations: here.graduations + by * perTurn,
    counterTurns: here.counterTurns + by,
  };
  const end = momentOf(bench, back);
  return {
    state: back,
    said: [{ code: 'tip-comes-back' }],
    moments: [...between(here, up, turnMm), up, ...between(up, end, turnMm), end],
  };
}

export function zero(bench: CamLiftBench, state: CamLiftState): Step {
  if (state.indicator === null) return cannot(bench, state, 'indicator-is-off');
  if (state.clamped) return cannot(bench, state, 'bezel-is-clamped');
  const faceTurn = state.faceTurn + momentOf(bench, state).graduations;
  return still(
    bench,
    { ...state, faceTurn, zeroedAtCrankDeg: state.crankDeg, tally: 0 },
    { code: 'bezel-at-zero' },
  );
}

/** An unclamped bezel turns when it is touched or shaken: 0.3 to 1.5 graduations, one way for each set-up. */
export function touchBezel(bench: CamLiftBench, state: CamLiftState, probability: number): CamLiftState {
  if (state.clamped || state.indicator === null) return state;
  const bezelTouches = state.bezelTouches + 1;
  const way = chanceFor(bench.seed, `bezel-way/${state.setUps}`).chance(0.5) ? 1 : -1;
  const chance = chanceFor(bench.seed, `bezel-touch/${state.setUps}/${bezelTouches}`);
  const moves = chance.chance(probability);
  return { ...state, bezelTouches, faceTurn: state.faceTurn + (moves ? way * chance.uniform(0.3, 1.5) : 0) };
}
