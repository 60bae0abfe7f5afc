import { type AnyDefinition, isKind, KIND_NAMES } from '../engine/index.ts';
import type { Way } from './tables.ts';

/**
 * The definition of an exercise out of what a sheet or an attempt keeps. Throws RangeError for a kind that there is none of, and for a
 * graded run that would say which fault it hides.
 */
export function definitionOf(definition: string, way: Way | null): AnyDefinition {
  const parsed = JSON.parse(definition) as AnyDefinition;
  if (!KIND_NAMES.includes(parsed.kind))
    throw new RangeError(`No kind of exercise is called "${parsed.kind}".`);
  if (way === 'graded-run' && isKind(parsed, 'fault-finding') && parsed.fault !== undefined)
    throw new RangeError('A graded run may not say which fault it hides.');
  return parsed;
}
