import type { KindName } from '../engine/index.ts';
import { backlash } from './backlash.ts';
import { boreGauge } from './bore-gauge.ts';
import { camLift } from './cam-lift.ts';
import { dialReading } from './dial-reading.ts';
import { endPlay } from './end-play.ts';
import { faultFinding } from './fault-finding.ts';
import { indicatorCheck } from './indicator-check.ts';
import { liftCurve } from './lift-curve.ts';
import { linerProtrusion } from './liner-protrusion.ts';
import { runOut } from './run-out.ts';
import { torqueAdapter } from './torque-adapter.ts';
import type { Desk } from './types.ts';
import { valveLift } from './valve-lift.ts';

/** Every kind that has a desk. A new kind is one line here. */
export const DESKS = {
  'cam-lift': camLift,
  'run-out': runOut,
  'end-play': endPlay,
  backlash,
  'liner-protrusion': linerProtrusion,
  'torque-adapter': torqueAdapter,
  'dial-reading': dialReading,
  'fault-finding': faultFinding,
  'bore-gauge': boreGauge,
  'indicator-check': indicatorCheck,
  'valve-lift': valveLift,
  'lift-curve': liftCurve,
} as const;

/** Can an attempt of this kind be begun? */
export function canBegin(kind: KindName): boolean {
  return Object.hasOwn(DESKS, kind);
}

/** The desk of a kind, whatever is known of which kind it is. Throws RangeError for a kind without one. */
export function deskOf<K extends KindName>(kind: K): Desk<K> {
  const desk = (DESKS as Partial<Record<KindName, unknown>>)[kind];
  if (desk === undefined) throw new RangeError(`No desk for "${kind}".`);
  // The compiler cannot see that an entry stands under the name it was made for.
  return desk as Desk<K>;
}

export { boxesOf, onlyOwnBoxes, type ReadBoxes, readBoxes, type Typed } from './boxes.ts';
export { type PartView, partViews } from './part-views.ts';
export { gaugeFacts } from './shared.ts';
export type {
  Box,
  Boxes,
  BoxSet,
  Control,
  ControlSet,
  Desk,
  DoControl,
  Fact,
  SheetPart,
} from './types.ts';
