import { backlash } from './backlash/kind.ts';
import { boreGauge } from './bore-gauge/kind.ts';
import { camLift } from './cam-lift/kind.ts';
import { dialReading } from './dial-reading/kind.ts';
import { endPlay } from './end-play/kind.ts';
import { faultFinding } from './fault-finding/kind.ts';
import { indicatorCheck } from './indicator-check/kind.ts';
import type { ExerciseKind } from './kind.ts';
import { liftCurve } from './lift-curve/kind.ts';
import { linerProtrusion } from './liner-protrusion/kind.ts';
import { runOut } from './run-out/kind.ts';
import { torqueAdapter } from './torque-adapter/kind.ts';
import { valveLiftKind } from './valve-lift/kind.ts';

/** Every kind of exercise there is, by the name its definitions carry. A new kind is one line here. */
export const KINDS = {
  'cam-lift': camLift,
  'run-out': runOut,
  'end-play': endPlay,
  backlash,
  'liner-protrusion': linerProtrusion,
  'bore-gauge': boreGauge,
  'valve-lift': valveLiftKind,
  'indicator-check': indicatorCheck,
  'torque-adapter': torqueAdapter,
  'dial-reading': dialReading,
  'fault-finding': faultFinding,
  'lift-curve': liftCurve,
} as const;

export type KindName = keyof typeof KINDS;

/** What goes in and out of each kind, as the kind itself says. */
export type KindParts = { readonly [K in KindName]: PartsOf<(typeof KINDS)[K]> };

type PartsOf<Kind> =
  Kind extends ExerciseKind<
    infer Definition,
    infer Bench,
    infer State,
    infer Action,
    infer Seen,
    infer View,
    infer Brief,
    infer Sheet
  >
    ? {
        definition: Definition;
        bench: Bench;
        state: State;
        action: Action;
        seen: Seen;
        view: View;
        brief: Brief;
        sheet: Sheet;
      }
    : never;

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
