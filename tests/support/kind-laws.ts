import type {
  ActionOf,
  AnyAction,
  AnyBench,
  AnySheet,
  BenchOf,
  DefinitionOf,
  generateBench,
  IndicatorCheckLimits,
  KindName,
  SheetOf,
} from '../../server/engine/index.ts';
import { observeBore } from './bore-observer.ts';
import { observeDialReading } from './dial-reader.ts';
import { observeFault } from './fault-observer.ts';
import { observeBacklash, observeEndPlay, observeLiners, observeRunOut } from './gauged-observers.ts';
import { observeIndicatorCheck } from './indicator-observer.ts';
import { observeLiftCurve } from './lift-curve-observer.ts';
import { observe } from './observer.ts';
import { observeTorque } from './torque-observer.ts';
import { observeValves } from './valve-observer.ts';
/** What the laws of one kind are tried on. */
export interface Law<K extends KindName> {
  readonly definitions: readonly DefinitionOf<K>[];
  readonly observe: (
    definition: DefinitionOf<K>,
    seed: number,
  ) => { bench: BenchOf<K>; actions: readonly ActionOf<K>[]; sheet: SheetOf<K> };
  readonly blank: SheetOf<K>;
  /** The same work with its limits told in the other unit; null where there is nothing to tell otherwise. */
  readonly otherUnit: readonly [DefinitionOf<K>, DefinitionOf<K>] | null;
}

const in8 = (upper: number) => ({ unit: 'in', upper }) as const;
const inMm = (upper: number) => ({ unit: 'mm', upper: upper * 25.4 }) as const;

const LIFTS = {
  unit: 'in',
  ratio: 1.6,
  intake: { lower: 0.4, upper: 0.44, lash: 0.01 },
  exhaust: { lower: 0.42, upper: 0.46, lash: 0.02 },
} as const;
const limitsInMm = ({ lower, upper, lash }: { lower: number; upper: number; lash: number }) => ({
  lower: lower * 25.4,
  upper: upper * 25.4,
  lash: lash * 25.4,
});
const BORE = { nominal: 4.25, upper: 4.26, outOfRound: 0.004, taper: 0.0035 };
const JOINT = { name: 'Clamp', order: [1, 3, 2, 4] } as const;
const CHECK_IN: IndicatorCheckLimits = {
  ...{ unit: 'in', wholeRange: 0.002, oneTurn: 0.001, adjacent: 0.0006 },
  ...{ hysteresis: 0.0004, repeatability: 0.0003 },
};
const CHECK_MM: IndicatorCheckLimits = {
  ...{ unit: 'mm', wholeRange: 0.002 * 25.4, oneTurn: 0.001 * 25.4, adjacent: 0.0006 * 25.4 },
  ...{ hysteresis: 0.0004 * 25.4, repeatability: 0.0003 * 25.4 },
};

/** Every kind in the registry: the compiler asks for a new one here. */
const LAWS: { readonly [K in KindName]: Law<K> } = {
  'cam-lift': {
    definitions: [
      { kind: 'cam-lift' },
      { kind: 'cam-lift', level: 1 },
      { kind: 'cam-lift', level: 3, rollerVerdict: true },
      { kind: 'cam-lift', chooseGauge: true, chooseRod: true, lookUp: true },
      { kind: 'cam-lift', decision: 'guarded', closeCalls: true },
    ],
    observe: (definition, seed) => observe(definition, seed),
    blank: { lobes: [] },
    otherUnit: [
      { kind: 'cam-lift', specification: { unit: 'in', nominal: 0.25, lower: 0.246 } },
      { kind: 'cam-lift', specification: { unit: 'mm', nominal: 6.35, lower: 0.246 * 25.4 } },
    ],
  },
  'run-out': {
    definitions: [
      { kind: 'run-out' },
      { kind: 'run-out', subject: 'housing', level: 3 },
      { kind: 'run-out', subject: 'housing', dial: 'inch-0.0005-0.5', face: 'balanced' },
    ],
    observe: observeRunOut,
    blank: { places: [] },
    otherUnit: [
      { kind: 'run-out', subject: 'housing', specification: in8(0.008) },
      { kind: 'run-out', subject: 'housing', specification: inMm(0.008) },
    ],
  },
  'end-play': {
    definitions: [
      { kind: 'end-play' },
      { kind: 'end-play', subject: 'wheel-bearing', level: 3 },
      { kind: 'end-play', dial: 'metric-0.01-10', specification: { unit: 'mm', lower: 0.05, upper: 0.2 } },
    ],
    observe: observeEndPlay,
    blank: { readings: [], endPlay: null, verdict: null, next: null },
    otherUnit: [
      { kind: 'end-play', specification: in8(0.018) },
      { kind: 'end-play', specification: inMm(0.018) },
    ],
  },
  backlash: {
    definitions: [
      { kind: 'backlash' },
      { kind: 'backlash', teeth: 6, level: 3 },
      { kind: 'backlash', specification: { unit: 'in', lower: 0.002, upper: 0.02 }, spread: 0.002 },
    ],
    observe: observeBacklash,
    blank: { teeth: [], smallest: null, largest: null, spread: null, verdict: null, next: null },
    otherUnit: [
      { kind: 'backlash', specification: in8(0.012) },
      { kind: 'backlash', specification: inMm(0.012) },
    ],
  },
  'liner-protrusion': {
    definitions: [
      { kind: 'liner-protrusion' },
      { kind: 'liner-protrusion', liners: 4, level: 3 },
      {
        kind: 'liner-protrusion',
        specification: { unit: 'in', lower: 0.001, upper: 0.012 },
        within: 0.002,
        between: 0.004,
      },
    ],
    observe: observeLiners,
    blank: { liners: [], between: null, betweenVerdict: null, betweenNext: null },
    otherUnit: [
      { kind: 'liner-protrusion', specification: in8(0.004) },
      { kind: 'liner-protrusion', specification: inMm(0.004) },
    ],
  },
  'bore-gauge': {
    definitions: [
      { kind: 'bore-gauge' },
      { kind: 'bore-gauge', level: 3, face: 'balanced' },
      {
        kind: 'bore-gauge',
        level: 3,
        dial: 'metric-0.01-10',
        specification: { unit: 'mm', nominal: 130, upper: 130.25, outOfRound: 0.08, taper: 0.1 },
      },
      {
        kind: 'bore-gauge',
        dial: 'metric-0.001-1',
        specification: { unit: 'mm', nominal: 95, upper: 95.2, outOfRound: 0.03, taper: 0.03 },
      },
    ],
    observe: observeBore,
    blank: { places: [], largest: null, outOfRound: null, taper: null, verdict: null, next: null },
    otherUnit: [
      { kind: 'bore-gauge', specification: { unit: 'in', ...BORE } },
      {
        kind: 'bore-gauge',
        specification: {
          ...{ unit: 'mm', nominal: BORE.nominal * 25.4, upper: BORE.upper * 25.4 },
          ...{ outOfRound: BORE.outOfRound * 25.4, taper: BORE.taper * 25.4 },
        },
      },
    ],
  },
  'valve-lift': {
    definitions: [
      { kind: 'valve-lift' },
      { kind: 'valve-lift', level: 3, tappets: 'hydraulic', cylinders: 4 },
      {
        kind: 'valve-lift',
        level: 3,
        dial: 'metric-0.01-20',
        firingOrder: [1, 2, 4, 3],
        valves: [
          { cylinder: 2, valve: 'exhaust' },
          { cylinder: 4, valve: 'intake' },
        ],
        specification: {
          ...{ unit: 'mm', ratio: 1.4 },
          ...{ intake: limitsInMm(LIFTS.intake), exhaust: limitsInMm(LIFTS.exhaust) },
        },
      },
    ],
    observe: observeValves,
    blank: { valves: [] },
    otherUnit: [
      { kind: 'valve-lift', specification: LIFTS },
      {
        kind: 'valve-lift',
        specification: {
          ...{ unit: 'mm', ratio: 1.6 },
          ...{ intake: limitsInMm(LIFTS.intake), exhaust: limitsInMm(LIFTS.exhaust) },
        },
      },
    ],
  },
  'indicator-check': {
    definitions: [
      { kind: 'indicator-check' },
      { kind: 'indicator-check', level: 3, plan: 'whole' },
      { kind: 'indicator-check', level: 3, dial: 'metric-0.001-1' },
      { kind: 'indicator-check', dial: 'inch-0.001-0.25', face: 'balanced', limits: CHECK_IN },
    ],
    observe: observeIndicatorCheck,
    blank: {
      ...{ points: [], repeats: [], largestError: null, wholeRange: null, oneTurn: null, adjacent: null },
      ...{ hysteresis: null, repeatability: null, verdict: null, next: null },
    },
    otherUnit: [
      { kind: 'indicator-check', dial: 'inch-0.001-1', limits: CHECK_IN },
      { kind: 'indicator-check', dial: 'inch-0.001-1', limits: CHECK_MM },
    ],
  },
  'torque-adapter': {
    definitions: [
      { kind: 'torque-adapter' },
      { kind: 'torque-adapter', level: 3 },
      { kind: 'torque-adapter', level: 1 },
      {
        kind: 'torque-adapter',
        level: 3,
        scaleUnit: 'N-m',
        lengths: { unit: 'mm', wrench: 400, adapter: 60 },
        joints: [{ name: 'Clamp', wanted: 60, unit: 'N-m', angleDeg: 180, order: [2, 1, 3] }],
      },
    ],
    observe: observeTorque,
    blank: { joints: [] },
    otherUnit: [
      { kind: 'torque-adapter', scaleUnit: 'N-m', joints: [{ ...JOINT, wanted: 20, unit: 'lbf-ft' }] },
      { kind: 'torque-adapter', scaleUnit: 'N-m', joints: [{ ...JOINT, wanted: 240, unit: 'lbf-in' }] },
    ],
  },
  'dial-reading': {
    definitions: [
      { kind: 'dial-reading' },
      { kind: 'dial-reading', level: 1, unit: 'mm' },
      { kind: 'dial-reading', level: 3, drills: 20 },
      { kind: 'dial-reading', level: 3, dial: 'inch-0.001-0.25', face: 'balanced', drills: 1 },
    ],
    observe: observeDialReading,
    blank: { drills: [] },
    otherUnit: null,
  },
  'fault-finding': {
    definitions: [
      { kind: 'fault-finding', level: 1 },
      { kind: 'fault-finding' },
      { kind: 'fault-finding', level: 3 },
    ],
    observe: observeFault,
    blank: {
      ...{ fault: null, foundHigh: null, foundReturn: null, trueHigh: null },
      ...{ effectGraduations: null, next: null },
    },
    otherUnit: [
      { kind: 'fault-finding', specification: { unit: 'in', nominal: 0.25, lower: 0.246 } },
      { kind: 'fault-finding', specification: { unit: 'mm', nominal: 6.35, lower: 0.246 * 25.4 } },
    ],
  },
  'lift-curve': {
    definitions: [
      { kind: 'lift-curve' },
      { kind: 'lift-curve', level: 3, dial: 'metric-0.01-10' },
      {
        kind: 'lift-curve',
        level: 3,
        face: 'balanced',
        specification: { unit: 'in', lower: 0.236 },
        width: { lower: 180, upper: 190 },
        centre: { lower: 56, upper: 62 },
      },
    ],
    observe: observeLiftCurve,
    blank: {
      ...{ points: [], highPointDeg: null, opensDeg: null, closesDeg: null, widthDeg: null },
      ...{ centreDeg: null, maximumLift: null, verdict: null, next: null },
    },
    otherUnit: [
      { kind: 'lift-curve', specification: { unit: 'in', lower: 0.236, upper: 0.246 } },
      { kind: 'lift-curve', specification: { unit: 'mm', lower: 0.236 * 25.4, upper: 0.246 * 25.4 } },
    ],
  },
};

export const seeds = (count: number) => Array.from({ length: count }, (_, seed) => seed);

/** What is done with a gauge, whose pointer can be watched. */
export type WithGauge = Exclude<KindName, 'torque-adapter'>;
export const HAS_GAUGE = (kind: KindName): kind is WithGauge => kind !== 'torque-adapter';

/** A law of one kind, with the kind's name forgotten: what every kind takes and gives. */
export interface AnyLaw {
  readonly definitions: readonly Parameters<typeof generateBench>[0][];
  readonly observe: (definition: Parameters<typeof generateBench>[0], seed: number) => AnyAttempt;
  readonly blank: AnySheet;
  readonly otherUnit:
    | readonly [Parameters<typeof generateBench>[0], Parameters<typeof generateBench>[0]]
    | null;
}
interface AnyAttempt {
  readonly bench: AnyBench;
  readonly actions: readonly AnyAction[];
  readonly sheet: AnySheet;
}
export const lawOf = (kind: KindName) => LAWS[kind] as unknown as AnyLaw;
