import type { GaugeSeen } from '../bench-parts/kind.ts';
import { backlash } from './backlash/kind.ts';
import type {
  BacklashAction,
  BacklashBench,
  BacklashBrief,
  BacklashDefinition,
  BacklashSheet,
  BacklashState,
  BacklashView,
} from './backlash/types.ts';
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
import { endPlay } from './end-play/kind.ts';
import type {
  EndPlayAction,
  EndPlayBench,
  EndPlayBrief,
  EndPlayDefinition,
  EndPlaySheet,
  EndPlayState,
  EndPlayView,
} from './end-play/types.ts';
import type { ExerciseKind } from './kind.ts';
import { linerProtrusion } from './liner-protrusion/kind.ts';
import type {
  LinerAction,
  LinerBench,
  LinerBrief,
  LinerDefinition,
  LinerSheet,
  LinerState,
  LinerView,
} from './liner-protrusion/types.ts';
import { runOut } from './run-out/kind.ts';
import type {
  RunOutAction,
  RunOutBench,
  RunOutBrief,
  RunOutDefinition,
  RunOutSheet,
  RunOutState,
  RunOutView,
} from './run-out/types.ts';

/** What goes in and out of each kind of exercise. A new kind is one entry here and one line below. */
export interface KindParts {
  'cam-lift': {
    definition: CamLiftDefinition;
    bench: CamLiftBench;
    state: CamLiftState;
    action: CamLiftAction;
    seen: CamLiftSeen;
    view: CamLiftView;
    brief: CamLiftBrief;
    sheet: CamLiftSheet;
  };
  'run-out': {
    definition: RunOutDefinition;
    bench: RunOutBench;
    state: RunOutState;
    action: RunOutAction;
    seen: GaugeSeen<RunOutView>;
    view: RunOutView;
    brief: RunOutBrief;
    sheet: RunOutSheet;
  };
  'end-play': {
    definition: EndPlayDefinition;
    bench: EndPlayBench;
    state: EndPlayState;
    action: EndPlayAction;
    seen: GaugeSeen<EndPlayView>;
    view: EndPlayView;
    brief: EndPlayBrief;
    sheet: EndPlaySheet;
  };
  backlash: {
    definition: BacklashDefinition;
    bench: BacklashBench;
    state: BacklashState;
    action: BacklashAction;
    seen: GaugeSeen<BacklashView>;
    view: BacklashView;
    brief: BacklashBrief;
    sheet: BacklashSheet;
  };
  'liner-protrusion': {
    definition: LinerDefinition;
    bench: LinerBench;
    state: LinerState;
    action: LinerAction;
    seen: GaugeSeen<LinerView>;
    view: LinerView;
    brief: LinerBrief;
    sheet: LinerSheet;
  };
}

export type KindName = keyof KindParts;

export type KindOf<K extends KindName> = ExerciseKind<
  KindParts[K]['definition'],
  KindParts[K]['bench'],
  KindParts[K]['state'],
  KindParts[K]['action'],
  KindParts[K]['seen'],
  KindParts[K]['view'],
  KindParts[K]['brief'],
  KindParts[K]['sheet']
>;

export const KINDS: { readonly [K in KindName]: KindOf<K> } = {
  'cam-lift': {
    generate: generateCamLift,
    start: startCamLift,
    act: actCamLift,
    look: lookAtCamLift,
    brief: briefOf,
    grade: gradeCamLift,
  },
  'run-out': runOut,
  'end-play': endPlay,
  backlash,
  'liner-protrusion': linerProtrusion,
};
