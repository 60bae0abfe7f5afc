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
