import { startGauge } from '../../bench-parts/gauge.ts';
import type { GaugeCannot, OwnStep, Work } from '../../bench-parts/types.ts';
import { type LinerBench, type LinerOwnAction, type LinerSpot, type LinerState, POINTS } from './types.ts';

export function startLiners(bench: LinerBench): LinerState {
  return { ...startGauge(bench), spot: null, pressed: [] };
}

/** The top of a block: the bridge slides over deck and liner flanges, the tip down on one or the other. */
export const linerWork: Work<LinerBench, LinerState, LinerOwnAction> = {
  heightMm: (bench, { spot, pressed }) => {
    if (spot === null) return 0;
    const liner = bench.liners[spot.liner - 1];
    if (liner === undefined) return 0;
    if (spot.on === 'deck') return liner.deckMm;
    const spring = pressed.includes(spot.liner) ? 0 : liner.springMm;
    return (liner.pointsMm[spot.point - 1] ?? 0) + spring;
  },
  turnedDeg: () => null,
  // A plunger that does not stand square to the deck slides over it: high.
  leanFactor: (leanDeg) => 1 / Math.cos((leanDeg * Math.PI) / 180),
  whyNotSet: ({ spot }) => (spot === null ? 'choose-a-place' : null),
  does: (bench, state, action) => {
    switch (action.type) {
      case 'place': {
        const spot = spotOf(bench, action);
        return spot === null
          ? cannot('no-such-place')
          : { said: [{ code: 'moved' }], through: [{ ...state, spot }] };
      }
      case 'press-liner': {
        if (!Number.isInteger(action.liner) || bench.liners[action.liner - 1] === undefined)
          return cannot('no-such-place');
        const again = state.pressed.includes(action.liner);
        return {
          said: [{ code: again ? 'liner-pressed-down' : 'liner-goes-down' }],
          through: [again ? state : { ...state, pressed: [...state.pressed, action.liner] }],
        };
      }
      default:
        return unknown(action);
    }
  },
};

function spotOf(bench: LinerBench, action: Extract<LinerOwnAction, { type: 'place' }>): LinerSpot | null {
  if (!Number.isInteger(action.liner) || bench.liners[action.liner - 1] === undefined) return null;
  if (action.on === 'deck') return { on: 'deck', liner: action.liner };
  const known =
    action.on === 'liner' && Number.isInteger(action.point) && action.point >= 1 && action.point <= POINTS;
  return known ? { on: 'liner', liner: action.liner, point: action.point } : null;
}

function cannot(why: GaugeCannot): OwnStep<LinerState> {
  return { said: [{ code: 'cannot', why }], through: [] };
}

/** The compiler refuses a new action without a case above; a log from elsewhere may still hold one. */
function unknown(_action: never): OwnStep<LinerState> {
  return cannot('unknown-action');
}
