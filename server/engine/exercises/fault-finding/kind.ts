import { actCamLift } from '../cam-lift/act.ts';
import { briefOf } from '../cam-lift/bench.ts';
import { lookAtCamLift } from '../cam-lift/perceive.ts';
import { type CamLiftState, startCamLift } from '../cam-lift/state.ts';
import type { CamLiftAction, CamLiftView } from '../cam-lift/types.ts';
import type { ExerciseKind } from '../kind.ts';
import { generateFaultFinding } from './generate.ts';
import { gradeFaultFinding } from './grade.ts';
import type {
  FaultFindingBench,
  FaultFindingBrief,
  FaultFindingDefinition,
  FaultFindingSeen,
  FaultFindingSheet,
  FaultFindingView,
} from './types.ts';

/** The set-up of a cam-lift measurement has one hidden fault: name it from what the gauge does. Worked on with the actions of cam lift. */
export const faultFinding: ExerciseKind<
  FaultFindingDefinition,
  FaultFindingBench,
  CamLiftState,
  CamLiftAction,
  FaultFindingSeen,
  FaultFindingView,
  FaultFindingBrief,
  FaultFindingSheet
> = {
  generate: generateFaultFinding,
  start: ({ engine }) => startCamLift(engine),
  act: ({ engine }, before, action) => {
    const { state, seen } = actCamLift(engine, before, action);
    return { state, seen: { ...seen, now: asView(seen.now) } };
  },
  look: ({ engine }, state) => asView(lookAtCamLift(engine, state)),
  brief: ({ engine, level, offered }) => ({ ...briefOf(engine), kind: 'fault-finding', level, offered }),
  grade: gradeFaultFinding,
};

function asView(view: CamLiftView): FaultFindingView {
  return { ...view, kind: 'fault-finding' };
}
