import { actCamLift } from './cam-lift/act.ts';
import { briefOf, type CamLiftBench } from './cam-lift/bench.ts';
import { generateCamLift } from './cam-lift/generate.ts';
import { gradeCamLift } from './cam-lift/grade.ts';
import { lookAtCamLift } from './cam-lift/perceive.ts';
import { type CamLiftState, startCamLift } from './cam-lift/state.ts';
import type {
  CamLiftAction,
  CamLiftBrief,
  CamLiftDefinition,
  CamLiftSeen,
  CamLiftSheet,
  CamLiftView,
} from './cam-lift/types.ts';
import type { ExerciseKind } from './kind.ts';

/** What goes in and out of each kind of exercise. A new kind is one line here and one below. */
export interface KindTypes {
  'cam-lift': ExerciseKind<
    CamLiftDefinition,
    CamLiftBench,
    CamLiftState,
    CamLiftAction,
    CamLiftSeen,
    CamLiftView,
    CamLiftBrief,
    CamLiftSheet
  >;
}

export const KINDS: { readonly [K in keyof KindTypes]: KindTypes[K] } = {
  'cam-lift': {
    generate: generateCamLift,
    start: startCamLift,
    act: actCamLift,
    look: lookAtCamLift,
    brief: briefOf,
    grade: gradeCamLift,
  },
};

export type KindName = keyof KindTypes;
