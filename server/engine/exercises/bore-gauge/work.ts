import { startGauge } from '../../bench-parts/gauge.ts';
import type { GaugeCannot, OwnStep, Work } from '../../bench-parts/types.ts';
import { chanceFor } from '../../random.ts';
import { diameterAt, slantedSpan } from './geometry.ts';
import { AXES, type BoreBench, type BoreOwnAction, type BoreSpot, type BoreState } from './types.ts';

/** Most that the handle can be tilted in a bore before it strikes the edge. Common practice, no source. */
const MOST_TILT_DEG = 12;
/** Out of everything the contacts stand further apart than any bore here. */
const OUT_MM = 10_000;
/** How finely a rocking is followed. */
const STEP_DEG = 0.25;

export function startBore(bench: BoreBench): BoreState {
  return { ...startGauge(bench), spot: null, tiltDeg: 0, puts: 0, cooled: bench.warmerK === 0 };
}

/** A two-point gauge: the further apart its contacts, the further out the indicator's plunger. */
export const boreWork: Work<BoreBench, BoreState, BoreOwnAction> = {
  inHand: true,
  heightMm: (bench, { spot, tiltDeg, cooled }) => {
    if (spot === null) return -OUT_MM;
    const acrossMm = spot.in === 'ring' ? bench.ringMm : diameterAt(bench, spot.depthMm, spot.axis, cooled);
    return -slantedSpan(acrossMm, tiltDeg);
  },
  turnedDeg: () => null,
  leanFactor: () => 1,
  whyNotSet: ({ spot }) => (spot === null ? 'choose-a-place' : null),
  does: (bench, state, action) => {
    switch (action.type) {
      case 'put':
        return put(bench, state, action);
      case 'rock':
        return rock(state, action.degrees);
      case 'feel-temperature':
        return { said: [{ code: state.cooled ? 'one-temperature' : 'work-is-warm' }], through: [state] };
      case 'let-cool':
        return { said: [{ code: 'work-has-cooled' }], through: [{ ...state, cooled: true }] };
      default:
        return unknown(action);
    }
  },
};

/** Out of where it was and in again, slanted as a hand holds it. */
function put(
  bench: BoreBench,
  state: BoreState,
  action: Extract<BoreOwnAction, { type: 'put' }>,
): OwnStep<BoreState> {
  const spot = spotOf(bench, action);
  if (typeof spot === 'string') return cannot(spot);
  const puts = state.puts + 1;
  const chance = chanceFor(bench.seed, `slant/${puts}`);
  const tiltDeg = (chance.chance(0.5) ? 1 : -1) * chance.uniform(1.5, 3);
  const out = { ...state, puts, spot: null };
  return { said: [{ code: 'moved' }], through: [out, { ...out, spot, tiltDeg }] };
}

function spotOf(
  { travel }: BoreBench,
  action: Extract<BoreOwnAction, { type: 'put' }>,
): BoreSpot | GaugeCannot {
  if (action.in === 'ring') return { in: 'ring' };
  if (action.in !== 'cylinder' || !AXES.includes(action.axis)) return 'no-such-place';
  const { depthMm, axis } = action;
  if (!Number.isFinite(depthMm)) return 'not-a-number';
  return depthMm < 0 || depthMm > travel.toMm + 40 ? 'too-far' : { in: 'cylinder', depthMm, axis };
}

function rock(state: BoreState, degrees: number): OwnStep<BoreState> {
  if (state.spot === null) return cannot('choose-a-place');
  if (!Number.isFinite(degrees)) return cannot('not-a-number');
  const { tiltDeg } = state;
  if (Math.abs(tiltDeg + degrees) > MOST_TILT_DEG) return cannot('too-far');
  const steps = Math.max(1, Math.ceil(Math.abs(degrees) / STEP_DEG));
  const through = Array.from({ length: steps }, (_, index) => ({
    ...state,
    tiltDeg: tiltDeg + (degrees * (index + 1)) / steps,
  }));
  return { said: [{ code: 'rocked' }], through };
}

function cannot(why: GaugeCannot): OwnStep<BoreState> {
  return { said: [{ code: 'cannot', why }], through: [] };
}

/** The compiler refuses a new action without a case above; a log from elsewhere may still hold one. */
function unknown(_action: never): OwnStep<BoreState> {
  return cannot('unknown-action');
}
