import type {
  GaugeAction,
  GaugedBench,
  GaugedDefinition,
  GaugeState,
  GaugeView,
  GivenLimits,
  SetLimits,
} from '../../bench-parts/types.ts';
import type { JudgedVerdict } from '../../decision/judge-simply.ts';
import type { Dial, DialName } from '../../dial/dial.ts';
import type { FollowUp } from '../cam-lift/types.ts';

/**
 * What a sheet says about a run-out exercise. `shaft`: a crankshaft on V-blocks, its bend (half the indicator reading) at most
 * 0.05 mm (TM 10-3930-653-14P, service limit). `housing`: a flywheel housing, bore then face, indicator reading at most 0.008 in
 * each (bore TM 5-3895-369-14, face TM 10-3930-664-24). Examples, never a specification for anyone's engine.
 */
export interface RunOutDefinition extends GaugedDefinition {
  readonly kind: 'run-out';
  readonly subject?: RunOutSubject;
  /** Is the limit one of the whole indicator reading, or of half of it, the eccentricity? */
  readonly limitOn?: LimitOn;
  readonly specification?: GivenLimits;
}

export type RunOutSubject = 'shaft' | 'housing';
export type LimitOn = 'tir' | 'eccentricity';

/** Where the tip stands: item 1 is round the rim, of a journal or a bore; item 2 the face, of a housing only. */
export type RunOutPlace = 'rim' | 'face';
export const PLACES: readonly RunOutPlace[] = ['rim', 'face'];

/** What a place hides. Lengths in millimetres, angles in degrees of the work. */
export interface PlaceTruth {
  readonly place: RunOutPlace;
  readonly eccentricityMm: number;
  readonly highDeg: number;
  /** Twice a turn, a hair: no journal is quite round, no face quite flat. */
  readonly ovalMm: number;
  readonly ovalDeg: number;
  readonly truly: JudgedVerdict;
}

export interface RunOutBench extends GaugedBench {
  readonly kind: 'run-out';
  readonly subject: RunOutSubject;
  readonly limitOn: LimitOn;
  readonly specification: SetLimits;
  readonly places: readonly PlaceTruth[];
  /** How far the shaft can wander along its axis, millimetres. Hidden. */
  readonly wanderMm: number;
  readonly wanderDeg: number;
  readonly startDeg: number;
}

export interface RunOutState extends GaugeState {
  /** Not wrapped. */
  readonly turnedDeg: number;
  readonly place: RunOutPlace | null;
  /** Turned angle at which the shaft was last pushed against its stop; null before. */
  readonly pushedAtDeg: number | null;
}

export type RunOutOwnAction = { readonly version?: 1 } & (
  | { readonly type: 'move'; readonly place: RunOutPlace }
  /** Turn the work by degrees; plus is the running direction, in which the degrees under the tip rise. */
  | { readonly type: 'turn'; readonly degrees: number }
  /** Push the shaft one way along its axis, against its stop. */
  | { readonly type: 'push' }
);

export type RunOutAction = RunOutOwnAction | GaugeAction;

export interface RunOutView extends GaugeView {
  readonly kind: 'run-out';
  readonly place: RunOutPlace | null;
}

/** What is written for a place, in the dial's unit; null where the box is blank. */
export interface WrittenRunOut {
  readonly item: number;
  readonly highest: number | null;
  readonly lowest: number | null;
  /** The whole indicator reading: largest less smallest. */
  readonly tir: number | null;
  /** Half of it. Asked for on a rim. */
  readonly eccentricity: number | null;
  /** Degree of the work under the tip where the pointer stands highest. */
  readonly highSpotDeg: number | null;
  readonly verdict: JudgedVerdict | null;
  readonly next: FollowUp | null;
}

export interface RunOutSheet {
  readonly places: readonly WrittenRunOut[];
}

export interface RunOutBrief {
  readonly kind: 'run-out';
  readonly name: string;
  readonly subject: RunOutSubject;
  readonly places: readonly RunOutPlace[];
  readonly dialName: DialName;
  readonly dial: Dial;
  readonly limitOn: LimitOn;
  readonly specification: SetLimits;
}
