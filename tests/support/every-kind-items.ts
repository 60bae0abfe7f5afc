import type { AnyDefinition, DefinitionOf, KindName, LengthUnit } from '../../server/engine/index.ts';

/** As little work of a kind as its definition allows, its gauge or its wrench in one unit and in the other. */
type Small<K extends KindName> = Readonly<Record<LengthUnit, DefinitionOf<K>>>;

const METRIC = { dial: 'metric-0.01-10' } as const;

/** Every kind in the registry: the compiler asks for a new one here. */
const SMALL: { readonly [K in KindName]: Small<K> } = {
  'cam-lift': {
    in: { kind: 'cam-lift', positions: 1 },
    mm: { kind: 'cam-lift', positions: 1, ...METRIC },
  },
  'run-out': {
    in: { kind: 'run-out', subject: 'shaft', dial: 'inch-0.0005-0.5' },
    mm: { kind: 'run-out', subject: 'housing', ...METRIC },
  },
  'end-play': {
    in: { kind: 'end-play', subject: 'wheel-bearing' },
    mm: { kind: 'end-play', subject: 'crankshaft', ...METRIC },
  },
  backlash: { in: { kind: 'backlash', teeth: 2 }, mm: { kind: 'backlash', teeth: 2, ...METRIC } },
  'liner-protrusion': {
    in: { kind: 'liner-protrusion', liners: 2 },
    mm: { kind: 'liner-protrusion', liners: 2, ...METRIC },
  },
  'bore-gauge': { in: { kind: 'bore-gauge' }, mm: { kind: 'bore-gauge', ...METRIC } },
  'valve-lift': {
    in: { kind: 'valve-lift', valves: [{ cylinder: 1, valve: 'intake' }] },
    mm: { kind: 'valve-lift', valves: [{ cylinder: 1, valve: 'exhaust' }], dial: 'metric-0.01-20' },
  },
  'indicator-check': {
    in: { kind: 'indicator-check' },
    mm: { kind: 'indicator-check', ...METRIC },
  },
  'torque-adapter': {
    in: { kind: 'torque-adapter', scaleUnit: 'lbf-ft' },
    mm: { kind: 'torque-adapter', scaleUnit: 'N-m' },
  },
  'dial-reading': {
    in: { kind: 'dial-reading', drills: 2, unit: 'in' },
    mm: { kind: 'dial-reading', drills: 2, unit: 'mm' },
  },
  'fault-finding': { in: { kind: 'fault-finding' }, mm: { kind: 'fault-finding', ...METRIC } },
  'lift-curve': { in: { kind: 'lift-curve' }, mm: { kind: 'lift-curve', ...METRIC } },
};

/** A small piece of work of a kind in a unit. */
export function smallWork(kind: KindName, unit: LengthUnit): AnyDefinition {
  return SMALL[kind][unit];
}
