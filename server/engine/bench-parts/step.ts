import { chanceFor } from '../random.ts';
import { toMm } from '../units.ts';
import { freePlungerMm, graduationMm, momentAt, momentOf, sampleOf, slide } from './gauge.ts';
import type {
  GaugeAction,
  GaugeCannot,
  GaugedBench,
  GaugeMoment,
  GaugeSaid,
  GaugeSaidCode,
  GaugeSample,
  GaugeState,
  GaugeStep,
  Work,
} from './types.ts';

/** Degrees by which an indicator leans until it is lined up. Common practice, no source. */
const LEAN_DEG = [16, 30] as const;

/**
 * One action of the log: what is done to the gauge here, anything else by the kind's own work. Whatever is sent, however odd, is a
 * finding and never an exception: what cannot be done leaves the bench as it was and says why. The state given is left alone.
 */
export function stepGauged<B extends GaugedBench, S extends GaugeState, A extends { readonly type: string }>(
  work: Work<B, S, A>,
  bench: B,
  before: S,
  action: A | GaugeAction,
): GaugeStep<S> {
  const state = { ...before, actions: before.actions + 1 };
  if (typeof action !== 'object' || action === null) return cannot(work, bench, state, 'unknown-action');
  if (!isGaugeAction(action)) return ownStep(work, bench, state, action);
  switch (action.type) {
    case 'wipe':
      return wipe(work, bench, state);
    case 'set-indicator':
      return setIndicator(work, bench, state, action.turns);
    case 'note':
      return Number.isInteger(action.item) && typeof action.box === 'string'
        ? still(work, bench, state, 'noted')
        : cannot(work, bench, state, 'unknown-action');
    default:
      return state.stand === null
        ? cannot(work, bench, state, 'indicator-is-off')
        : handle(work, bench, state, action.type);
  }
}

/** Every action on the gauge: the compiler asks for a line for a new one. */
const GAUGE_ACTIONS: Readonly<Record<GaugeAction['type'], true>> = {
  wipe: true,
  'set-indicator': true,
  align: true,
  'lift-tip': true,
  zero: true,
  clamp: true,
  unclamp: true,
  note: true,
};

function isGaugeAction(action: { readonly type: string }): action is GaugeAction {
  return typeof action.type === 'string' && Object.hasOwn(GAUGE_ACTIONS, action.type);
}

function handle<B extends GaugedBench, S extends GaugeState, A>(
  work: Work<B, S, A>,
  bench: B,
  state: S,
  type: 'align' | 'lift-tip' | 'zero' | 'clamp' | 'unclamp',
): GaugeStep<S> {
  switch (type) {
    case 'align':
      if (work.inHand) return cannot(work, bench, state, 'held-in-the-hand');
      return align(work, bench, state);
    case 'lift-tip':
      if (work.inHand) return cannot(work, bench, state, 'held-in-the-hand');
      return liftTip(work, bench, state);
    case 'zero': {
      if (state.clamped) return cannot(work, bench, state, 'bezel-is-clamped');
      const faceTurn = momentOf(work, bench, state).graduations + state.faceTurn;
      return still(work, bench, { ...state, faceTurn, zeroed: true }, 'bezel-at-zero');
    }
    case 'clamp':
      return still(work, bench, { ...state, clamped: true }, 'bezel-clamped');
    case 'unclamp':
      return still(work, bench, { ...state, clamped: false }, 'bezel-free');
  }
}

/** Nothing can be wiped under a base that stands on it: the indicator comes off. A gauge in the hand keeps its own. */
function wipe<B extends GaugedBench, S extends GaugeState, A>(
  work: Work<B, S, A>,
  bench: B,
  state: S,
): GaugeStep<S> {
  const wiped = { ...(work.inHand ? state : takeOff(state)), wiped: true };
  const moments = slide(bench, momentOf(work, bench, state), momentOf(work, bench, wiped));
  return {
    state: wiped,
    said: [{ code: bench.gritty && !state.wiped ? 'wiped-grit' : 'wiped-clean' }],
    moments,
  };
}

/** Nothing happens but what is said. */
export function still<B extends GaugedBench, S extends GaugeState, A>(
  work: Work<B, S, A>,
  bench: B,
  state: S,
  ...codes: GaugeSaidCode[]
): GaugeStep<S> {
  return { state, said: codes.map((code) => ({ code })), moments: [momentOf(work, bench, state)] };
}

/** It cannot be done, and why. */
export function cannot<B extends GaugedBench, S extends GaugeState, A>(
  work: Work<B, S, A>,
  bench: B,
  state: S,
  why: GaugeCannot,
): GaugeStep<S> {
  return { state, said: [{ code: 'cannot', why }], moments: [momentOf(work, bench, state)] };
}

/** The indicator off the work: its zero is gone with it. */
export function takeOff<S extends GaugeState>(state: S): S {
  return { ...state, stand: null, clamped: false, zeroed: false };
}

/** The kind's own action, the gauge following from state to state. A hand at the work shakes bezel and base. */
function ownStep<B extends GaugedBench, S extends GaugeState, A>(
  work: Work<B, S, A>,
  bench: B,
  start: S,
  action: A,
): GaugeStep<S> {
  const own = work.does(bench, start, action);
  const said: GaugeSaid[] = [...own.said];
  if (said.some(({ code }) => code === 'cannot'))
    return { state: start, said, moments: [momentOf(work, bench, start)] };
  let state = start;
  let last = momentOf(work, bench, start);
  const moments: GaugeMoment[] = [last];
  for (const [index, next] of own.through.entries()) {
    // The kind moves only its work: stand and bezel are as the step before left them.
    const carried = { ...next, stand: next.stand === null ? null : state.stand };
    const settled = stopAtTravelEnd(work, bench, carried);
    if (settled !== carried && !said.some(({ code }) => code === 'hard-stop'))
      said.push({ code: 'hard-stop' });
    state = index === own.through.length - 1 ? shake(bench, settled, 0.5) : settled;
    const now = momentOf(work, bench, state);
    for (const moment of slide(bench, last, now)) moments.push(moment);
    last = now;
  }
  if (state.stand !== null && freePlungerMm(work, bench, state) < 0) said.push({ code: 'tip-off-the-work' });
  return { state, said, moments };
}

/** Past the end of its travel the plunger moves the stand, for good: the zero is lost by as much. */
function stopAtTravelEnd<B extends GaugedBench, S extends GaugeState, A>(
  work: Work<B, S, A>,
  bench: B,
  state: S,
): S {
  if (state.stand === null) return state;
  const overMm = freePlungerMm(work, bench, state) - toMm(bench.dial.travel, bench.dial.unit);
  return overMm <= 1e-9
    ? state
    : { ...state, stand: { ...state.stand, standMm: state.stand.standMm - overMm } };
}

/**
 * A bezel that is not clamped turns when it is shaken, and a base on grit gives way: 0.3 to 1.5 graduations, one way for each
 * set-up (common practice, no source). The bezel turns the face alone; the base moves pointer and small hand too.
 */
function shake<S extends GaugeState>(bench: GaugedBench, state: S, probability: number): S {
  if (state.stand === null) return state;
  const touches = state.touches + 1;
  const way = chanceFor(bench.seed, `shake-way/${state.setUps}`).chance(0.5) ? 1 : -1;
  const chance = chanceFor(bench.seed, `shake/${state.setUps}/${touches}`);
  const bezel = chance.chance(probability) ? way * chance.uniform(0.3, 1.5) : 0;
  const base = chance.chance(probability) ? way * chance.uniform(0.3, 1.5) : 0;
  const faceTurn = state.clamped ? state.faceTurn : state.faceTurn + bezel;
  const standMm =
    bench.gritty && !state.wiped ? state.stand.standMm + base * graduationMm(bench) : state.stand.standMm;
  return { ...state, touches, faceTurn, stand: { ...state.stand, standMm } };
}

function setIndicator<B extends GaugedBench, S extends GaugeState, A>(
  work: Work<B, S, A>,
  bench: B,
  state: S,
  turns: number,
): GaugeStep<S> {
  const why = work.whyNotSet(state);
  if (why !== null) return cannot(work, bench, state, why);
  if (!Number.isFinite(turns)) return cannot(work, bench, state, 'not-a-number');
  const { dial } = bench;
  if (turns < 0 || turns * dial.rangePerTurn > dial.travel) return cannot(work, bench, state, 'too-far');
  const setUps = state.setUps + 1;
  const chance = chanceFor(bench.seed, `set-up/${setUps}`);
  // 0.4 % between set-ups unless the work says less: well under half a graduation on anything measured here. Where the gauge
  // itself is measured the stand adds nothing.
  const scatterSd = work.shownMm === undefined ? (work.scaleScatter ?? 0.004) : 0;
  const scatter = 1 + chance.normal(0, scatterSd);
  const leanDeg = work.inHand ? 0 : chance.uniform(...LEAN_DEG);
  const byHand = turns === 0 ? 0 : Math.max(0, turns + chance.uniform(-0.06, 0.06));
  const plungerMm = Math.min(byHand * toMm(dial.rangePerTurn, dial.unit), toMm(dial.travel, dial.unit));
  const scale = scatter * work.leanFactor(leanDeg, state);
  const standMm = plungerMm - work.heightMm(bench, state) * scale;
  const set = { ...takeOff(state), setUps, stand: { standMm, scale, leanDeg } };
  // Taken off first where it stood before; then let down until the plunger is in.
  const here = momentOf(work, bench, state);
  const out = momentAt(bench, state, 0, here.turnedDeg);
  const moments = [here, ...slide(bench, here, out), ...slide(bench, out, momentOf(work, bench, set))];
  return { state: set, said: [{ code: work.inHand ? 'indicator-fitted' : 'indicator-set' }], moments };
}

/** Lining up turns the plunger about its tip: the tip stays, the zero does not count any more. */
function align<B extends GaugedBench, S extends GaugeState, A>(
  work: Work<B, S, A>,
  bench: B,
  state: S,
): GaugeStep<S> {
  if (state.stand === null) return cannot(work, bench, state, 'indicator-is-off');
  const here = freePlungerMm(work, bench, state);
  const scale = state.stand.scale / work.leanFactor(state.stand.leanDeg, state);
  const standMm = here - work.heightMm(bench, state) * scale;
  const lined = {
    ...state,
    zeroed: state.zeroed && state.stand.leanDeg === 0,
    stand: { standMm, scale, leanDeg: 0 },
  };
  return still(work, bench, lined, 'lined-up');
}

function liftTip<B extends GaugedBench, S extends GaugeState, A>(
  work: Work<B, S, A>,
  bench: B,
  before: S,
): GaugeStep<S> {
  const state = { ...before, tipLifts: before.tipLifts + 1 };
  if (state.stand === null) return cannot(work, bench, state, 'indicator-is-off');
  const here = momentOf(work, bench, state);
  if (here.plungerMm <= graduationMm(bench)) return still(work, bench, state, 'nothing-to-lift');
  const chance = chanceFor(bench.seed, `tip/${state.setUps}/${state.tipLifts}`);
  const scatterMm = work.shownMm === undefined ? chance.normal(0, 0.05) * graduationMm(bench) : 0;
  const standMm = state.stand.standMm + scatterMm;
  const back = shake(bench, { ...state, stand: { ...state.stand, standMm } }, 0.3);
  const turnMm = toMm(bench.dial.rangePerTurn, bench.dial.unit);
  // A tip that is raised pushes its plunger in.
  const topMm = toMm(bench.dial.travel, bench.dial.unit);
  const raised = momentAt(bench, state, Math.min(topMm, here.plungerMm + turnMm), here.turnedDeg);
  const down = momentOf(work, bench, back);
  return {
    state: back,
    said: [{ code: 'tip-comes-back' }],
    moments: [here, ...slide(bench, here, raised), ...slide(bench, raised, down)],
  };
}

/** The samples of a step: at most a fifth of a turn of the pointer apart. */
export function samplesOf<S>(bench: GaugedBench, step: GaugeStep<S>, turns: boolean): GaugeSample[] {
  return step.moments.map((moment) => sampleOf(bench, moment, turns));
}
