import { positiveRemainder } from '../../angles.ts';
import { gaugedKind } from '../../bench-parts/kind.ts';
import { CYCLE_DEG } from '../../drive/firing.ts';
import { generateLiftCurve } from './generate.ts';
import { gradeLiftCurve } from './grade.ts';
import type {
  LiftCurveBench,
  LiftCurveBrief,
  LiftCurveDefinition,
  LiftCurveOwnAction,
  LiftCurveSheet,
  LiftCurveState,
  LiftCurveView,
} from './types.ts';
import { liftCurveWork, startLiftCurve } from './work.ts';

/** Lift curve: the lift every few degrees of crank; high point, width and centre of the event from the table. */
export const liftCurve = gaugedKind<
  LiftCurveDefinition,
  LiftCurveBench,
  LiftCurveState,
  LiftCurveOwnAction,
  LiftCurveView,
  LiftCurveBrief,
  LiftCurveSheet
>({
  work: liftCurveWork,
  generate: generateLiftCurve,
  start: startLiftCurve,
  see: (_bench, state, gauge) => {
    const wheelDeg = Math.round(10 * (state.crankDeg + state.pointerOffDeg)) / 10;
    const turn = positiveRemainder(wheelDeg, CYCLE_DEG) < CYCLE_DEG / 2 ? 1 : 2;
    return { kind: 'lift-curve', turn, stops: state.stops, ...gauge };
  },
  brief: ({ name, dialName, dial, limits, checking }) => ({
    kind: 'lift-curve',
    ...{ name, dialName, dial, limits, checking },
  }),
  grade: gradeLiftCurve,
});
