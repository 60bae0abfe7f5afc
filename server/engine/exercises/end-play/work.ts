import { startGauge } from '../../bench-parts/gauge.ts';
import type { OwnStep, Work } from '../../bench-parts/types.ts';
import type { EndPlayBench, EndPlayOwnAction, EndPlayState } from './types.ts';

/** From this effort on the oil film is squeezed out and the shaft stands against its stop. Common practice, no source. */
export const FULL_EFFORT = 0.7;

export function startEndPlay(bench: EndPlayBench): EndPlayState {
  return { ...startGauge(bench), axialMm: bench.startShare * bench.floatMm };
}

/** The shaft or hub along its axis, under a tip that stands on its front. */
export const endPlayWork: Work<EndPlayBench, EndPlayState, EndPlayOwnAction> = {
  heightMm: (_bench, { axialMm }) => axialMm,
  turnedDeg: () => null,
  // Not parallel to the axis the plunger takes only a part of the movement: low.
  leanFactor: (leanDeg) => Math.cos((leanDeg * Math.PI) / 180),
  whyNotSet: () => null,
  does: pry,
};

function pry(bench: EndPlayBench, state: EndPlayState, action: EndPlayOwnAction): OwnStep<EndPlayState> {
  if (action.type !== 'pry') return { said: [{ code: 'cannot', why: 'unknown-action' }], through: [] };
  if (action.way !== 'front' && action.way !== 'rear')
    return { said: [{ code: 'cannot', why: 'no-such-place' }], through: [] };
  if (!Number.isFinite(action.effort) || action.effort < 0)
    return { said: [{ code: 'cannot', why: 'not-a-number' }], through: [] };
  if (action.effort > 1) return { said: [{ code: 'cannot', why: 'too-far' }], through: [] };
  const shortMm = bench.floatMm * shortOfStop(bench, action);
  const axialMm =
    action.way === 'front'
      ? Math.max(state.axialMm, bench.floatMm - shortMm)
      : Math.min(state.axialMm, shortMm);
  return {
    said: [{ code: shortMm === 0 ? 'solid-stop' : 'springy-stop' }],
    through: [{ ...state, axialMm }],
  };
}

/** Share of the float that is left: oil film under a light hand, rollers that have not seated in a hub that is not rocked. */
function shortOfStop(bench: EndPlayBench, { effort, rock }: EndPlayOwnAction): number {
  const film = effort >= FULL_EFFORT ? 0 : 0.15 + 0.35 * (1 - effort / FULL_EFFORT);
  const rollers = bench.subject === 'wheel-bearing' && rock !== true ? 0.2 : 0;
  return Math.min(0.5, film + rollers);
}
