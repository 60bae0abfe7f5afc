import { certificateOf } from '../../dial/certificate.ts';
import type { Dial, DialName } from '../../dial/dial.ts';
import type { GaugeError } from '../../dial/gauge-error.ts';
import type { Compression } from '../../drive/effort.ts';
import type { Lobe } from '../../lobe/lift-curve.ts';
import type { CamLiftBrief, Decision, RigPart, Specification } from './types.ts';

/** What a tappet does when it is put in and when the cam falls away under it. */
export type TappetFault = 'free' | 'dull-stop' | 'slot-off-pin' | 'sticky';

export interface TappetTruth {
  readonly fault: TappetFault;
  /** Where it hangs until it is knocked home or its slot finds the pin, over the base circle; 0 for the others. */
  readonly hungMm: number;
  /** Gap at which a sticky one lets go; 0 for the others. */
  readonly sticksMm: number;
}

/** The state a lobe is in. `worn-a-turn` is worn by about one whole turn of the pointer. */
export type LobeState = 'sound' | 'worn' | 'worn-a-turn' | 'built-up';

export interface LobeTruth {
  readonly lobe: Lobe;
  readonly state: LobeState;
  readonly highestMm: number;
  readonly lowestMm: number;
  readonly tappet: TappetTruth;
}

/** How indicator, stand and rod stand when they are set up at a position, until somebody sets them right. */
export interface RigTruth {
  /** Lean of the indicator from the line of the tappet's bore, degrees. */
  readonly leanDeg: number;
  /** The tip sits in the centre hole of the rod and cannot slide: a lean then shows too little. */
  readonly tipInHole: boolean;
  readonly loosePart: RigPart | null;
  /** A loose rod scatters by so much either way; 0 for the others. */
  readonly rodRocksMm: number;
  /** Which way a loose stand gives. */
  readonly slipWay: 1 | -1;
}

/** The state a tappet's roller is in: found by looking, but for a flat, which the gauge shows a little of as well. */
export type RollerState = 'sound' | 'blued' | 'pitted' | 'scored' | 'flat';

export interface RollerTruth {
  readonly condition: RollerState;
  /** Depth of a flat; 0 for the others. */
  readonly flatMm: number;
}

/** A gauge that lies on the tray, with its own errors. */
export interface TrayGauge {
  readonly dialName: DialName;
  readonly dial: Dial;
  readonly error: GaugeError;
}

/** A rod that may be stood in the tappet. */
export interface RodTruth {
  readonly end: 'flat' | 'centre-hole';
  /** Scatter of one that is loose in the tappet, either way; 0 for one that fits. */
  readonly rocksMm: number;
}

/** The page of the manual with the lifts of the camshafts an engine may have, by the letter stamped on them. */
export interface SpecificationPage {
  /** The letter on this engine's camshaft. */
  readonly letter: string;
  readonly rows: readonly { readonly letter: string; readonly specification: Specification }[];
}

/** A practice engine with everything that is hidden in it. It never leaves the server before the attempt is graded. */
export interface CamLiftBench {
  readonly kind: 'cam-lift';
  readonly version: 1;
  readonly seed: string;
  readonly engineName: string;
  readonly cylinders: number;
  readonly firingOrder: readonly number[];
  readonly dialName: DialName;
  readonly dial: Dial;
  /** Errors of this very gauge, inside its standard's limits. */
  readonly gauge: GaugeError;
  /** The gauges to choose from; none where `dial` is given. */
  readonly tray: readonly TrayGauge[];
  /** The rods to choose from; none where a rod is given. */
  readonly rods: readonly RodTruth[];
  /** Does a calibration certificate lie beside it? */
  readonly certificate: boolean;
  readonly specification: Specification;
  /** Where the specification must be looked up; else null. */
  readonly page: SpecificationPage | null;
  readonly decision: Decision;
  /** Pump positions to measure, in rising order. */
  readonly positions: readonly number[];
  readonly fullCycle: boolean;
  readonly backlashDeg: number;
  readonly compression: Compression;
  readonly startCrankDeg: number;
  /** Where the face was left, in graduations. */
  readonly startFaceTurn: number;
  /** By pump position: index 0 is position 1, at the front. */
  readonly lobes: readonly LobeTruth[];
  /** By pump position, as the lobes. */
  readonly rigs: readonly RigTruth[];
  /** Has the sheet a line for the roller? Without one every roller is sound. */
  readonly rollerVerdict: boolean;
  readonly rollers: readonly RollerTruth[];
}

/** Lift of a lobe over a whole turn: highest minus lowest place of the roller, millimetres. */
export function trueLiftMm(truth: LobeTruth): number {
  return truth.highestMm - truth.lowestMm;
}

/** Below this share of the lift the roller is on the base circle or a hair off it. */
const ON_BASE = 0.02;

/** Below this the roller counts as on the base circle, millimetres. */
export function baseEdgeMm(truth: LobeTruth): number {
  return truth.lowestMm + ON_BASE * trueLiftMm(truth);
}

/** The lobe at a pump position. @throws RangeError when the engine has no such position. */
export function lobeAt(bench: CamLiftBench, position: number): LobeTruth {
  const truth = bench.lobes[position - 1];
  if (truth === undefined) throw new RangeError(`This engine has no pump position ${position}.`);
  return truth;
}

/**
 * Indicator, stand and rod at a pump position: a rod that was chosen brings its own fit and end.
 * @throws RangeError when the engine has no such position.
 */
export function rigAt(bench: CamLiftBench, position: number, rod: number | null): RigTruth {
  const rig = bench.rigs[position - 1];
  if (rig === undefined) throw new RangeError(`This engine has no pump position ${position}.`);
  const chosen = rod === null ? undefined : bench.rods[rod - 1];
  if (chosen === undefined) return rig;
  const { end, rocksMm } = chosen;
  const loosePart = rocksMm > 0 ? 'rod' : rig.loosePart === 'rod' ? null : rig.loosePart;
  return { ...rig, tipInHole: end === 'centre-hole', loosePart, rodRocksMm: rocksMm };
}

/** The bench with the gauge that was chosen in hand; the bench itself where none is to be chosen. */
export function withGauge(bench: CamLiftBench, dialName: DialName | null): CamLiftBench {
  const chosen = bench.tray.find((gauge) => gauge.dialName === dialName);
  if (chosen === undefined || chosen.dialName === bench.dialName) return bench;
  return { ...bench, dialName: chosen.dialName, dial: chosen.dial, gauge: chosen.error };
}

/** The roller at a pump position. @throws RangeError when the engine has no such position. */
export function rollerAt(bench: CamLiftBench, position: number): RollerTruth {
  const roller = bench.rollers[position - 1];
  if (roller === undefined) throw new RangeError(`This engine has no pump position ${position}.`);
  return roller;
}

/** What may be told before grading: the plate, the face of the gauge, the specification. */
export function briefOf(bench: CamLiftBench): CamLiftBrief {
  const { kind, engineName, cylinders, firingOrder, positions, fullCycle, page, decision } = bench;
  // Of a tray, whichever lies first: the bench's own would tell which one fits.
  const { dialName, dial } = bench.tray[0] ?? bench;
  const plate = { kind, engineName, cylinders, firingOrder, positions, dialName, dial, fullCycle };
  return {
    ...plate,
    specification: page === null ? bench.specification : null,
    ...(page === null ? {} : { page: { letter: page.letter, rows: page.rows.map(({ letter }) => letter) } }),
    ...(decision.rule === 'simple' ? {} : { decision }),
    ...(bench.tray.length === 0
      ? {}
      : { tray: bench.tray.map(({ dialName: name, dial: face }) => ({ dialName: name, dial: face })) }),
    ...(bench.rods.length === 0 ? {} : { rods: bench.rods.length }),
    ...(bench.certificate ? { certificate: certificateOf(dial, bench.gauge) } : {}),
    ...(bench.rollerVerdict ? { rollerVerdict: true as const } : {}),
  };
}
