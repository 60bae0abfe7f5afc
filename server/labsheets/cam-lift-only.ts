import { type AnyDefinition, type CamLiftDefinition, isKind } from '../engine/index.ts';
import { Conflict } from '../web/errors.ts';

/**
 * The definition of a cam-lift engine out of what a sheet or an attempt keeps. The engine knows more kinds of exercise than there
 * are screens for. Throws Conflict for one of those.
 */
export function camLiftOf(definition: string): CamLiftDefinition {
  const parsed = JSON.parse(definition) as AnyDefinition;
  if (isKind(parsed, 'cam-lift')) return parsed;
  throw new Conflict('This kind of exercise cannot be worked on here yet. Tell your instructor.');
}
