import type {
  GaugeAction,
  GaugedBench,
  GaugedDefinition,
  GaugeState,
  GaugeView,
  GivenLimits,
  SetLimits,
} from '../../bench-parts/types.ts';
import type { Dial, DialName } from '../../dial/dial.ts';
import type { Lobe } from '../../lobe/lift-curve.ts';
import type { LengthUnit } from '../../units.ts';
import type { FollowUp } from '../cam-lift/types.ts';

/** Limits in crank degrees; a side left out or null is open. */
export interface DegreeLimits {
  readonly lower?: number | null;
  readonly upper?: number | null;
}

/**
 * What a sheet says about plotting one injection lobe. Level 1: a sound lobe in its time. 2: its nose may be worn, or its gear may stand a
 * tooth or a key off, and the gear train may have up to 1.2° of play. 3: the pointer of the degree wheel may be off too, grit may lie
 * under the base and the small hand may run backwards. Two to three turns of the pointer on an inch dial, five to seven on a metric
 * one; the face as the dial has it. Limits left out are drawn round the lobe as it was made. Common practice, no source.
 */
export interface LiftCurveDefinition extends GaugedDefinition {
  readonly kind: 'lift-curve';
  /** Maximum lift. */
  readonly specification?: GivenLimits;
  readonly width?: DegreeLimits;
  /** Of the lobe's centre: crank degrees from the cylinder's firing top dead centre, 0 to 720. */
  readonly centre?: DegreeLimits;
}

export interface DegreeRange {
  readonly lower: number | null;
  readonly upper: number | null;
}

export interface LiftCurveLimits {
  readonly lift: SetLimits;
  readonly width: DegreeRange;
  readonly centre: DegreeRange;
}

/** The lift at which opening and closing are taken: 0.050 in, or 1 mm. */
export interface CheckingLift {
  readonly unit: LengthUnit;
  readonly lift: number;
}

/** `below` and `above`: the lift or the width on that side of its limits. `shifted`: the centre off its limits. */
export type LiftCurveVerdict = 'inside' | 'below' | 'above' | 'shifted';

export interface LiftCurveBench extends GaugedBench {
  readonly kind: 'lift-curve';
  readonly limits: LiftCurveLimits;
  readonly checking: CheckingLift;
  /** As it stands in the engine, nose told from the cylinder's firing top dead centre. */
  readonly lobe: Lobe;
  /** Play of the gear train, crank degrees. */
  readonly backlashDeg: number;
  /** The wheel's pointer says so many degrees too much. */
  readonly pointerOffDeg: number;
  /** The piston meets its stop so many degrees before and after top dead centre. */
  readonly stopDeg: number;
  readonly startCrankDeg: number;
  readonly truly: LiftCurveVerdict;
}

export interface LiftCurveState extends GaugeState {
  /** Crank degrees from firing top dead centre, forward positive, not wrapped. */
  readonly crankDeg: number;
  /** The cam, told in crank degrees. */
  readonly camCrankDeg: number;
  readonly pointerOffDeg: number;
  /** What the wheel said where the piston met its stop, coming forward and coming back; null before it was tried. */
  readonly stops: StopReadings | null;
}

export interface StopReadings {
  readonly forwardDeg: number;
  readonly backDeg: number;
}

export type LiftCurveOwnAction = { readonly version?: 1 } & (
  | { readonly type: 'bar'; readonly degrees: number }
  /** Bar the piston against a stop from both sides, the stop then taken out: top dead centre is in the middle of the two. */
  | { readonly type: 'try-stop' }
  /** Bend the wheel's pointer, so that it says this many degrees more. */
  | { readonly type: 'set-wheel'; readonly degrees: number }
);

export type LiftCurveAction = LiftCurveOwnAction | GaugeAction;

/** The degree wheel itself is in the gauge's sample (`workDeg`); the mark on the cam gear says in which of the two turns it is. */
export interface LiftCurveView extends GaugeView {
  readonly kind: 'lift-curve';
  /** 1: from firing top dead centre on; 2: the turn after. */
  readonly turn: 1 | 2;
  readonly stops: StopReadings | null;
}

/** One line of the table: wheel and turn as crank degrees 0 to 720, the lift in the dial's unit. */
export interface CurvePoint {
  readonly crankDeg: number | null;
  readonly lift: number | null;
}

/** What is written. Angles in crank degrees 0 to 720, lifts in the dial's unit; null where a box is blank. */
export interface LiftCurveSheet {
  readonly points: readonly CurvePoint[];
  readonly highPointDeg: number | null;
  readonly opensDeg: number | null;
  readonly closesDeg: number | null;
  readonly widthDeg: number | null;
  readonly centreDeg: number | null;
  readonly maximumLift: number | null;
  readonly verdict: LiftCurveVerdict | null;
  readonly next: FollowUp | null;
}

export interface LiftCurveBrief {
  readonly kind: 'lift-curve';
  readonly name: string;
  readonly dialName: DialName;
  readonly dial: Dial;
  readonly limits: LiftCurveLimits;
  readonly checking: CheckingLift;
}
