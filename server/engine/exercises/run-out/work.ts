import { startGauge } from '../../bench-parts/gauge.ts';
import { takeOff } from '../../bench-parts/step.ts';
import type { GaugeCannot, OwnStep, Work } from '../../bench-parts/types.ts';
import { heightAt, PUSH_HOLDS_DEG, wanderAt } from './surface.ts';
import type { RunOutBench, RunOutOwnAction, RunOutState } from './types.ts';

/** Most degrees in one action: four turns. */
const MOST_DEGREES = 1440;

export function startRunOut(bench: RunOutBench): RunOutState {
  return { ...startGauge(bench), turnedDeg: bench.startDeg, place: null, pushedAtDeg: null };
}

/** A shaft or housing turning under the tip. */
export const runOutWork: Work<RunOutBench, RunOutState, RunOutOwnAction> = {
  heightMm: (bench, { place, turnedDeg, pushedAtDeg }) => {
    const truth = bench.places.find((one) => one.place === place);
    if (truth === undefined) return 0;
    const wander = place === 'face' ? wanderAt(bench, turnedDeg, pushedAtDeg) : 0;
    return heightAt(truth, turnedDeg) - wander;
  },
  turnedDeg: ({ turnedDeg }) => turnedDeg,
  // A plunger that does not point at the axis slides over the surface and takes more than the movement: high.
  leanFactor: (leanDeg) => 1 / Math.cos((leanDeg * Math.PI) / 180),
  whyNotSet: ({ place }) => (place === null ? 'choose-a-place' : null),
  does: (bench, state, action) => {
    switch (action.type) {
      case 'move':
        return bench.places.some(({ place }) => place === action.place)
          ? { said: [{ code: 'moved' }], through: [{ ...takeOff(state), place: action.place, wiped: false }] }
          : cannot('no-such-place');
      case 'turn':
        return turn(state, action.degrees);
      case 'push':
        return { said: [{ code: 'pushed-one-way' }], through: [{ ...state, pushedAtDeg: state.turnedDeg }] };
      default:
        return unknown(action);
    }
  },
};

function cannot(why: GaugeCannot): OwnStep<RunOutState> {
  return { said: [{ code: 'cannot', why }], through: [] };
}

/** The compiler refuses a new action without a case above; a log from elsewhere may still hold one. */
function unknown(_action: never): OwnStep<RunOutState> {
  return cannot('unknown-action');
}

/** Turned at most a degree at a time. */
function turn(state: RunOutState, degrees: number): OwnStep<RunOutState> {
  if (!Number.isFinite(degrees)) return cannot('not-a-number');
  if (Math.abs(degrees) > MOST_DEGREES) return cannot('too-far');
  const steps = Math.max(1, Math.ceil(Math.abs(degrees)));
  const through = Array.from({ length: steps }, (_, index) => ({
    ...state,
    turnedDeg: state.turnedDeg + (degrees * (index + 1)) / steps,
  }));
  const loose =
    state.pushedAtDeg === null || Math.abs(state.turnedDeg + degrees - state.pushedAtDeg) > PUSH_HOLDS_DEG;
  return { said: [{ code: 'turned' }, ...(loose ? ([{ code: 'shaft-wanders' }] as const) : [])], through };
}
