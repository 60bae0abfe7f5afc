import { positiveRemainder } from '../../angles.ts';
import { startGauge } from '../../bench-parts/gauge.ts';
import { takeOff } from '../../bench-parts/step.ts';
import type { GaugeCannot, OwnStep, Work } from '../../bench-parts/types.ts';
import { displacementOf } from '../../lobe/lift-curve.ts';
import { chanceFor } from '../../random.ts';
import { lobeMm, noseBetween, playMm, truthOf, valveLift } from './train.ts';
import {
  PLACES,
  type ValveBench,
  type ValveOwnAction,
  type ValveSpot,
  type ValveState,
  type ValveTruth,
} from './types.ts';

/** Most degrees in one action: two cycles. */
const MOST_DEGREES = 1440;

export function startValves(bench: ValveBench): ValveState {
  return { ...startGauge(bench), crankDeg: bench.startDeg, spot: null, upMm: 0, noseMm: 0, pumped: false };
}

/** Crank in one cycle, degrees from cylinder 1's firing top dead centre. */
export function inCycle({ crankDeg }: ValveState): number {
  return positiveRemainder(crankDeg, 720);
}

/** A valve train under the tip: the pushrod comes up, retainer and rocker go down, away from the gauge. */
export const valveWork: Work<ValveBench, ValveState, ValveOwnAction> = {
  // A valve's lift is 450 graduations long.
  scaleScatter: 0.0004,
  heightMm: (bench, state) => {
    const truth = truthOf(bench, state.spot);
    if (truth === undefined) return 0;
    switch (state.spot?.at) {
      case 'pushrod':
        return state.upMm;
      case 'retainer':
        return -valveLift(state.upMm, truth.ratio, playMm(truth, state.pumped));
      default:
        return -state.noseMm;
    }
  },
  turnedDeg: ({ crankDeg }) => crankDeg,
  // In a pushrod's cup the tip is caught and takes a part of the movement: low. On a flat retainer or rocker it slides: high.
  leanFactor: (leanDeg, { spot }) => {
    const part = Math.cos((leanDeg * Math.PI) / 180);
    return spot?.at === 'pushrod' ? part : 1 / part;
  },
  whyNotSet: ({ spot }) => (spot === null ? 'choose-a-place' : null),
  does: (bench, state, action) => {
    switch (action.type) {
      case 'move':
        return move(bench, state, action);
      case 'bar':
        return bar(bench, state, action.degrees);
      case 'rock-rocker':
        return rockRocker(bench, state, action.way);
      case 'pump-up':
        return pumpUp(bench, state);
      default:
        return unknown(action);
    }
  },
};

function move(
  bench: ValveBench,
  state: ValveState,
  { cylinder, valve, at }: Extract<ValveOwnAction, { type: 'move' }>,
): OwnStep<ValveState> {
  const truth = truthOf(bench, { cylinder, valve });
  if (truth === undefined || !PLACES.includes(at)) return cannot('no-such-place');
  const spot: ValveSpot = { cylinder, valve, at };
  const off = { ...takeOff(state), spot, wiped: false };
  const { spot: before } = state;
  if (before?.cylinder === cylinder && before.valve === valve)
    return { said: [{ code: 'moved' }], through: [off] };
  const share = chanceFor(bench.seed, `rocker/${cylinder}/${valve}`).uniform(0.2, 0.8);
  const upMm = lobeMm(truth, state.crankDeg);
  const fresh = { ...off, upMm, pumped: false, noseMm: share * playMm(truth, false) };
  return { said: [{ code: 'moved' }], through: [settled(truth, fresh)] };
}

function settled(truth: ValveTruth, state: ValveState): ValveState {
  return { ...state, noseMm: noseBetween(truth, state) };
}

/** Barred a degree at a time, the rocker following. */
function bar(bench: ValveBench, start: ValveState, degrees: number): OwnStep<ValveState> {
  if (!Number.isFinite(degrees)) return cannot('not-a-number');
  if (Math.abs(degrees) > MOST_DEGREES) return cannot('too-far');
  const truth = truthOf(bench, start.spot);
  const tappetMm = truth === undefined ? null : displacementOf(truth.lobe);
  const steps = Math.max(1, Math.ceil(Math.abs(degrees)));
  const through: ValveState[] = [];
  let state = start;
  for (let index = 1; index <= steps; index += 1) {
    const crankDeg = start.crankDeg + (degrees * index) / steps;
    const upMm = tappetMm?.((crankDeg - (truth?.lobe.noseCrankDeg ?? 0)) / 2) ?? 0;
    const barred = { ...state, crankDeg, upMm };
    state = truth === undefined ? barred : settled(truth, barred);
    through.push(state);
  }
  // With the indicator off there is nothing to be seen on the way.
  return { said: [{ code: 'turned' }], through: start.stand === null ? [state] : through };
}

function rockRocker(bench: ValveBench, state: ValveState, way: 'up' | 'down'): OwnStep<ValveState> {
  const truth = truthOf(bench, state.spot);
  if (truth === undefined) return cannot('choose-a-place');
  if (way !== 'up' && way !== 'down') return cannot('no-such-place');
  const soft = way === 'down' && truth.bledMm > 0 && !state.pumped;
  const noseMm = noseBetween(truth, { ...state, noseMm: way === 'up' ? 0 : Number.MAX_VALUE });
  return { said: [{ code: soft ? 'springy-stop' : 'solid-stop' }], through: [{ ...state, noseMm }] };
}

function pumpUp(bench: ValveBench, state: ValveState): OwnStep<ValveState> {
  const truth = truthOf(bench, state.spot);
  if (truth === undefined) return cannot('choose-a-place');
  const needed = truth.bledMm > 0 && !state.pumped;
  return {
    said: [{ code: needed ? 'tappet-pumped-up' : 'tappet-is-solid' }],
    through: [settled(truth, { ...state, pumped: true })],
  };
}

function cannot(why: GaugeCannot): OwnStep<ValveState> {
  return { said: [{ code: 'cannot', why }], through: [] };
}

/** The compiler refuses a new action without a case above; a log from elsewhere may still hold one. */
function unknown(_action: never): OwnStep<ValveState> {
  return cannot('unknown-action');
}
