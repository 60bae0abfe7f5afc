import { startGauge } from '../../bench-parts/gauge.ts';
import { takeOff } from '../../bench-parts/step.ts';
import type { GaugeCannot, OwnStep, Work } from '../../bench-parts/types.ts';
import type { BacklashBench, BacklashOwnAction, BacklashState } from './types.ts';

/** From this effort on the teeth touch hard. Common practice, no source. */
export const FULL_EFFORT = 0.4;
/** How far past its play the rocked gear goes when it takes the other along, as a share of the play. Common practice, no source. */
const TAKEN_ALONG = 0.6;

export function startBacklash(bench: BacklashBench): BacklashState {
  return { ...startGauge(bench), tooth: null, held: false, rockedMm: 0.4 * (bench.lashMm[0] ?? 0) };
}

/** Two gears in mesh, the tip square on a tooth of the one that is rocked. */
export const backlashWork: Work<BacklashBench, BacklashState, BacklashOwnAction> = {
  heightMm: (_bench, { rockedMm }) => rockedMm,
  turnedDeg: () => null,
  // Not along the tooth's path the plunger takes only a part of the movement: low.
  leanFactor: (leanDeg) => Math.cos((leanDeg * Math.PI) / 180),
  whyNotSet: ({ tooth }) => (tooth === null ? 'choose-a-place' : null),
  does: (bench, state, action) => {
    switch (action.type) {
      case 'turn-to': {
        const lashMm = bench.lashMm[action.tooth - 1];
        if (!Number.isInteger(action.tooth) || lashMm === undefined) return cannot('no-such-place');
        const turned = { ...takeOff(state), tooth: action.tooth, held: false, rockedMm: 0.4 * lashMm };
        return { said: [{ code: 'moved' }], through: [turned] };
      }
      case 'hold':
        return {
          said: [{ code: action.on === true ? 'gear-held' : 'gear-free' }],
          through: [{ ...state, held: action.on === true }],
        };
      case 'rock':
        return rock(bench, state, action.way, action.effort);
      default:
        return unknown(action);
    }
  },
};

function cannot(why: GaugeCannot): OwnStep<BacklashState> {
  return { said: [{ code: 'cannot', why }], through: [] };
}

/** The compiler refuses a new action without a case above; a log from elsewhere may still hold one. */
function unknown(_action: never): OwnStep<BacklashState> {
  return cannot('unknown-action');
}

function rock(
  bench: BacklashBench,
  state: BacklashState,
  way: number,
  effort: number,
): OwnStep<BacklashState> {
  if (state.tooth === null) return cannot('choose-a-place');
  if (way !== 1 && way !== -1) return cannot('no-such-place');
  if (!Number.isFinite(effort) || effort < 0) return cannot('not-a-number');
  if (effort > 1) return cannot('too-far');
  const lashMm = bench.lashMm[state.tooth - 1] ?? 0;
  const soft = effort < FULL_EFFORT;
  const along = !state.held && !soft;
  // Softly rocked it stops short of the tooth flank; not held, the other gear goes along once the play is taken up.
  const past = lashMm * (soft ? -0.25 : along ? TAKEN_ALONG : 0);
  const rockedMm = way === 1 ? Math.max(state.rockedMm, lashMm + past) : Math.min(state.rockedMm, -past);
  return {
    said: [{ code: soft ? 'springy-stop' : along ? 'both-gears-turn' : 'solid-stop' }],
    // What went along is where it is: held again, the play lies between the same flanks as before.
    through: [{ ...state, rockedMm: state.held && !soft ? (way === 1 ? lashMm : 0) : rockedMm }],
  };
}
