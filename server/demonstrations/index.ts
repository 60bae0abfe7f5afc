import type { BriefOf, KindName, ViewOf } from '../engine/index.ts';
import { measureBacklash } from './backlash.ts';
import { measureBore } from './bore-gauge.ts';
import { measureLobes } from './cam-lift.ts';
import { readDials } from './dial-reading.ts';
import { measureEndPlay } from './end-play.ts';
import { findFault } from './fault-finding.ts';
import { checkIndicator } from './indicator-check.ts';
import { plotLobe } from './lift-curve.ts';
import { measureLiners } from './liner-protrusion.ts';
import { measureRunOut } from './run-out.ts';
import { tightenJoints } from './torque-adapter.ts';
import { measureValves } from './valve-lift.ts';
import type { Finished, Work } from './work.ts';

/** Careful work at a bench, out of its brief and how it looks before anything is done. */
type Careful<K extends KindName> = (brief: BriefOf<K>, first: ViewOf<K>) => Work<K, Finished<K>>;

/** Every kind in the registry: the compiler asks for a new one here. */
const CAREFUL: { readonly [K in KindName]: Careful<K> } = {
  'cam-lift': measureLobes,
  'run-out': measureRunOut,
  'end-play': measureEndPlay,
  backlash: measureBacklash,
  'liner-protrusion': measureLiners,
  'bore-gauge': measureBore,
  'valve-lift': measureValves,
  'indicator-check': checkIndicator,
  'torque-adapter': (brief) => tightenJoints(brief),
  'dial-reading': (brief) => readDials(brief),
  'fault-finding': findFault,
  'lift-curve': plotLobe,
};

/**
 * A careful student of a kind: a generator that yields an action, is sent what was seen of it, and comes back with the sheet as
 * it would be written. It knows the brief and what is seen, never the bench. `first` is how the bench looks before anything was done.
 */
export function carefulHands<K extends KindName>(
  kind: K,
): (brief: BriefOf<K>, first: ViewOf<K>) => Work<K, Finished<K>> {
  return CAREFUL[kind];
}

export { measureBacklash } from './backlash.ts';
export { type BoreHabits, boreSheet, measureBore } from './bore-gauge.ts';
export {
  type CamLiftHabits,
  type MeasuredLobes,
  measureLobes,
  type Plate,
  type SeenLobe,
} from './cam-lift.ts';
export { writeSheet, writeWhatIsSeen } from './cam-lift-sheet.ts';
export { readDials } from './dial-reading.ts';
export { measureEndPlay } from './end-play.ts';
export { type FaultHabits, findFault } from './fault-finding.ts';
export type { GaugedHabits } from './gauge-hands.ts';
export { type CheckHabits, checkIndicator, checkSheet } from './indicator-check.ts';
export { type CurveHabits, plotLobe } from './lift-curve.ts';
export { measureLiners } from './liner-protrusion.ts';
export type { SeenReading } from './lobe-reading.ts';
export { measureRunOut } from './run-out.ts';
export { type TorqueHabits, tightenJoints } from './torque-adapter.ts';
export { measureValves, type ReadLengths, type ValveHabits, writtenValve } from './valve-lift.ts';
export type { Finished, Work } from './work.ts';
