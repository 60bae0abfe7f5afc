import type { BriefOf, KindName, ViewOf } from '../../server/engine/index.ts';
import { backlashScene } from './backlash.ts';
import { boreScene } from './bore-gauge.ts';
import { rollerScene } from './cam-lift.ts';
import { endPlayScene } from './end-play.ts';
import { indicatorScene } from './indicator-check.ts';
import { liftCurveScene } from './lift-curve.ts';
import { linerScene } from './liner-protrusion.ts';
import { runOutScene } from './run-out.ts';
import { torqueScene } from './torque-adapter.ts';
import type { Scene } from './types.ts';
import { valveScene } from './valve-lift.ts';

type Scenes = { readonly [K in KindName]?: Scene<BriefOf<K>, ViewOf<K>> };

/** Drawings of the work, by kind; a kind without one shows its gauge alone. A new one is a line here. */
export const SCENES: Scenes = {
  'cam-lift': rollerScene,
  'run-out': runOutScene,
  'end-play': endPlayScene,
  backlash: backlashScene,
  'liner-protrusion': linerScene,
  'bore-gauge': boreScene,
  'indicator-check': indicatorScene,
  'valve-lift': valveScene,
  'lift-curve': liftCurveScene,
  'torque-adapter': torqueScene,
};

/** The drawing of a kind's work, or null where there is none. */
export function sceneOf(kind: KindName): Scene<unknown, unknown> | null {
  // A brief and a view always come with the kind they belong to.
  return (SCENES[kind] as Scene<unknown, unknown> | undefined) ?? null;
}

export type { Moves, Scene, SceneMoment } from './types.ts';
