import { startGauge } from '../../bench-parts/gauge.ts';
import type { GaugeCannot, OwnStep, Work } from '../../bench-parts/types.ts';
import { camInCrankDeg } from '../../drive/backlash.ts';
import { CYCLE_DEG } from '../../drive/firing.ts';
import { displacementMm } from '../../lobe/lift-curve.ts';
import type { LiftCurveBench, LiftCurveOwnAction, LiftCurveState } from './types.ts';

/** Most degrees in one action: two whole cycles. */
const MOST_DEGREES = 2 * CYCLE_DEG;
/** A wheel's pointer can be bent so far. */
const MOST_POINTER_DEGREES = 30;

export function startLiftCurve(bench: LiftCurveBench): LiftCurveState {
  const { startCrankDeg, pointerOffDeg } = bench;
  return {
    ...startGauge(bench),
    crankDeg: startCrankDeg,
    camCrankDeg: startCrankDeg,
    pointerOffDeg,
    stops: null,
  };
}

/** Height of the tappet's roller over the base circle with the cam here, millimetres. */
export function heightAtCam({ lobe }: LiftCurveBench, camCrankDeg: number): number {
  return displacementMm(lobe, (camCrankDeg - lobe.noseCrankDeg) / 2);
}

/** A lobe lifting its tappet as the crank is barred round. */
export const liftCurveWork: Work<LiftCurveBench, LiftCurveState, LiftCurveOwnAction> = {
  heightMm: (bench, { camCrankDeg }) => heightAtCam(bench, camCrankDeg),
  turnedDeg: ({ crankDeg, pointerOffDeg }) => crankDeg + pointerOffDeg,
  // On the square end of a rod a plunger that leans takes more than the movement: high.
  leanFactor: (leanDeg) => 1 / Math.cos((leanDeg * Math.PI) / 180),
  // Over a whole lobe the usual share would be a graduation or two: 0.4 graduation between set-ups at most.
  scaleScatter: 0.0003,
  whyNotSet: () => null,
  does: (bench, state, action) => {
    switch (action.type) {
      case 'bar':
        return bar(bench, state, action.degrees);
      case 'try-stop':
        return tryStop(bench, state);
      case 'set-wheel':
        return setWheel(state, action.degrees);
      default:
        return unknown(action);
    }
  },
};

function cannot(why: GaugeCannot): OwnStep<LiftCurveState> {
  return { said: [{ code: 'cannot', why }], through: [] };
}

/** The compiler refuses a new action without a case above; a log from elsewhere may still hold one. */
function unknown(_action: never): OwnStep<LiftCurveState> {
  return cannot('unknown-action');
}

function bar(bench: LiftCurveBench, state: LiftCurveState, degrees: number): OwnStep<LiftCurveState> {
  if (!Number.isFinite(degrees)) return cannot('not-a-number');
  if (Math.abs(degrees) > MOST_DEGREES) return cannot('too-far');
  return { said: [{ code: 'turned' }], through: barred(bench, state, degrees) };
}

/** The crank at most a degree at a time, the cam behind the play of the gears. */
function barred(bench: LiftCurveBench, from: LiftCurveState, degrees: number): LiftCurveState[] {
  const steps = Math.max(1, Math.ceil(Math.abs(degrees)));
  let { camCrankDeg } = from;
  return Array.from({ length: steps }, (_, index) => {
    const crankDeg = from.crankDeg + (degrees * (index + 1)) / steps;
    camCrankDeg = camInCrankDeg(camCrankDeg, crankDeg, bench.backlashDeg);
    return { ...from, crankDeg, camCrankDeg };
  });
}

/** Back to the stop beyond a top dead centre, then forward to the other side of it. */
function tryStop(bench: LiftCurveBench, state: LiftCurveState): OwnStep<LiftCurveState> {
  const backTo = Math.floor((state.crankDeg - bench.stopDeg) / CYCLE_DEG) * CYCLE_DEG + bench.stopDeg;
  const back = barred(bench, state, backTo - state.crankDeg);
  const there = back.at(-1) ?? state;
  const forward = barred(bench, there, CYCLE_DEG - 2 * bench.stopDeg);
  const wheel = (deg: number) => Math.round(10 * (deg + state.pointerOffDeg)) / 10;
  const stops: StopPair = { forwardDeg: wheel(-bench.stopDeg), backDeg: wheel(bench.stopDeg) };
  return {
    said: [{ code: 'stop-tried' }],
    through: [...back, ...forward].map((one) => ({ ...one, stops })),
  };
}

type StopPair = NonNullable<LiftCurveState['stops']>;

function setWheel(state: LiftCurveState, degrees: number): OwnStep<LiftCurveState> {
  if (!Number.isFinite(degrees)) return cannot('not-a-number');
  if (Math.abs(degrees) > MOST_POINTER_DEGREES) return cannot('too-far');
  const pointerOffDeg = state.pointerOffDeg + degrees;
  return { said: [{ code: 'wheel-set' }], through: [{ ...state, pointerOffDeg, stops: null }] };
}
