import { bar } from './barring.ts';
import { type CamLiftBench, withGauge } from './bench.ts';
import { chooseGauge, chooseRod, lookUp, tally } from './choose-actions.ts';
import { liftTip, preload, zero } from './indicator-actions.ts';
import type { Detail } from './keep-moments.ts';
import { cannot, type Step, still } from './moments.ts';
import { align, tighten } from './rig-actions.ts';
import type { CamLiftState } from './state.ts';
import { inspect, move, press, seat, turnTappet } from './tappet-actions.ts';
import type { CamLiftAction, NoteBox } from './types.ts';

export type { Step } from './moments.ts';

/**
 * One action of the log. Whatever a student sends, however odd, is a finding and never an exception: an action that cannot
 * be done leaves the bench as it was and says why. The state given is left alone, and the state that follows is the same at either detail.
 */
export function stepCamLift(
  found: CamLiftBench,
  before: CamLiftState,
  action: CamLiftAction,
  detail: Detail,
): Step {
  const bench = withGauge(found, before.gauge);
  const state = { ...before, actions: before.actions + 1 };
  if (typeof action !== 'object' || action === null) return cannot(bench, state, 'unknown-action');
  switch (action.type) {
    case 'choose-gauge':
      return chooseGauge(bench, state, action.gauge);
    case 'choose-rod':
      return chooseRod(bench, state, action.rod);
    case 'look-up':
      return lookUp(bench, state, action.letter);
    case 'tally':
      return tally(bench, state);
    case 'move':
      return move(bench, state, action.position);
    case 'seat':
      return state.position === null
        ? cannot(bench, state, 'choose-a-position')
        : seat(bench, state, state.position);
    case 'inspect':
      return inspect(bench, state);
    case 'turn-tappet':
      return turnTappet(bench, state);
    case 'press':
      return press(bench, state);
    case 'preload':
      return preload(bench, state, action.turns);
    case 'align':
      return align(bench, state, action);
    case 'tighten':
      return tighten(bench, state, action.part);
    case 'lift-tip':
      return liftTip(bench, state);
    case 'zero':
      return zero(bench, state);
    case 'clamp':
      return state.indicator === null
        ? cannot(bench, state, 'indicator-is-off')
        : still(bench, { ...state, clamped: true }, { code: 'bezel-clamped' });
    case 'unclamp':
      return state.indicator === null
        ? cannot(bench, state, 'indicator-is-off')
        : still(bench, { ...state, clamped: false }, { code: 'bezel-free' });
    case 'bar':
      return bar(bench, state, action, detail);
    case 'note':
      return isNote(action) ? still(bench, state, { code: 'noted' }) : cannot(bench, state, 'unknown-action');
    default:
      return unknownAction(bench, state, action);
  }
}

/** The compiler refuses a new kind of action without a case above; a log from elsewhere may still hold one. */
function unknownAction(bench: CamLiftBench, state: CamLiftState, _action: never): Step {
  return cannot(bench, state, 'unknown-action');
}

const BOXES: readonly NoteBox[] = ['counterBefore', 'counterHigh', 'turns', 'pointer', 'lift', 'returned'];

/** Does a note name a reading and a box of the sheet? */
export function isNote({ reading, box }: Extract<CamLiftAction, { type: 'note' }>): boolean {
  return [1, 2].includes(reading) && BOXES.includes(box);
}
