import type { CamLiftAction } from '../../engine/index.ts';
import { BOX_WORDS, RIG_PART_WORDS } from './codes.ts';
import { dialWords } from './dials.ts';
import { GAUGE_ACTION_WORDS, preloadWords } from './gauge-actions.ts';

const DEFAULT_SPEED = 20;

/** One line of the log: what was done. */
export function actionWords(action: CamLiftAction): string {
  switch (action.type) {
    case 'choose-gauge':
      return `Took the gauge ${dialWords(action.gauge)}.`;
    case 'choose-rod':
      return `Took rod ${action.rod}.`;
    case 'look-up':
      return action.letter === undefined
        ? 'Looked up the specification.'
        : `Looked up the specification of camshaft ${action.letter}.`;
    case 'tally':
      return 'Made a stroke for the pointer passing zero.';
    case 'move':
      return `Moved to pump position ${action.position}.`;
    case 'inspect':
      return 'Looked at the roller.';
    case 'seat':
      return 'Pushed the tappet home.';
    case 'turn-tappet':
      return 'Turned the tappet to its guide pin.';
    case 'press':
      return 'Pressed on the rod.';
    case 'preload':
      return preloadWords(action.turns);
    case 'align':
      return action.square === true ? 'Set the indicator square.' : 'Looked along the bore.';
    case 'tighten':
      return action.part === 'rod' ? 'Seated the rod firmly.' : `Tightened ${RIG_PART_WORDS[action.part]}.`;
    case 'lift-tip':
    case 'zero':
    case 'clamp':
    case 'unclamp':
      return GAUGE_ACTION_WORDS[action.type];
    case 'bar':
      return barringWords(action.degrees, action.speed ?? DEFAULT_SPEED, action.hold);
    case 'note':
      return `Wrote ${BOX_WORDS[action.box]}, reading ${action.reading}, position ${action.position}.`;
    default:
      return unknown(action);
  }
}

/** `Barred 214° clockwise at 20°/s`, however many pulls it took; forward is clockwise facing the front. */
export function barringWords(degrees: number, speed = DEFAULT_SPEED, hold?: number): string {
  const shown = Math.round(Math.abs(degrees) * 10) / 10;
  const way = degrees < 0 ? 'back' : 'clockwise';
  const letGo =
    hold === undefined ? '' : hold === 0 ? ', and let go at once' : `, held for ${hold} s and let go`;
  return `Barred ${shown}° ${way} at ${speed}°/s${letGo}.`;
}

/** The compiler asks for a case above; an older log may still hold something else. */
function unknown(_action: never): string {
  return 'Something that this version does not know.';
}
