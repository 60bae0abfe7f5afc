import {
  type GaugedHabits,
  measureBacklash,
  measureEndPlay,
  measureLiners,
  measureRunOut,
} from '../../server/demonstrations/index.ts';
import type { KindName } from '../../server/engine/index.ts';
import { type ObservedWork, observing } from './carry-out.ts';

export type { GaugedHabits } from '../../server/demonstrations/index.ts';

/** Kinds with a gauge of their own; fault finding works on a cam-lift engine, torque has none. */
export type GaugedKind = Exclude<KindName, 'cam-lift' | 'fault-finding' | 'torque-adapter'>;

export type GaugedAttempt<K extends GaugedKind> = ObservedWork<K>;

export const observeEndPlay = observing<'end-play', GaugedHabits>(measureEndPlay);
export const observeRunOut = observing<'run-out', GaugedHabits>(measureRunOut);
export const observeBacklash = observing<'backlash', GaugedHabits>(measureBacklash);
export const observeLiners = observing<'liner-protrusion', GaugedHabits>(measureLiners);
