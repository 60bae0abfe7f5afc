import type { ExerciseKind } from '../kind.ts';
import { actCamLift } from './act.ts';
import { briefOf, type CamLiftBench } from './bench.ts';
import { generateCamLift } from './generate.ts';
import { gradeCamLift } from './grade.ts';
import { lookAtCamLift } from './perceive.ts';
import { type CamLiftState, startCamLift } from './state.ts';
import type {
  CamLiftAction,
  CamLiftBrief,
  CamLiftDefinition,
  CamLiftSeen,
  CamLiftSheet,
  CamLiftView,
} from './types.ts';

/** Highest reading of chosen lobes of an inline engine over 720° of crank, against limits. */
export const camLift: ExerciseKind<
  CamLiftDefinition,
  CamLiftBench,
  CamLiftState,
  CamLiftAction,
  CamLiftSeen,
  CamLiftView,
  CamLiftBrief,
  CamLiftSheet
> = {
  generate: generateCamLift,
  start: startCamLift,
  act: actCamLift,
  look: lookAtCamLift,
  brief: briefOf,
  grade: gradeCamLift,
};
