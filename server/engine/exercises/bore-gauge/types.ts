import type {
  GaugeAction,
  GaugedBench,
  GaugedDefinition,
  GaugeState,
  GaugeView,
} from '../../bench-parts/types.ts';
import type { Dial, DialName } from '../../dial/dial.ts';
import type { LengthUnit } from '../../units.ts';
import type { FollowUp } from '../cam-lift/types.ts';

/**
 * What a sheet says about a bore-gauge exercise: one cylinder, six places, a two-point gauge zeroed in a setting ring. Default: out-of-round
 * at most 0.003 in and taper at most 0.002 in, used (TM 9-2815-205-24), the bore at most 0.008 in over its nominal size (common
 * practice, no source). Examples, never a specification for anyone's engine.
 *
 * Level 1: the cylinder is inside. Level 2: it may be too large, out of round or tapered, one of them at a time. Level 3: besides, ring and
 * bore may be dirty, the block may still be warm from washing, and the small hand may run backwards. At every level the gauge goes in
 * slanted, there is a ridge above the travel of the rings, and the ring is not of the nominal size. Readings stay within one turn of
 * a 0.0005 in or 0.01 mm gauge; with 0.001 mm they may pass a turn. Either face.
 */
export interface BoreDefinition extends GaugedDefinition {
  readonly kind: 'bore-gauge';
  readonly specification?: BoreSpecification;
}

/** Lengths in `unit`; null is no such limit. */
export interface BoreSpecification {
  readonly unit: LengthUnit;
  readonly nominal: number;
  /** Largest diameter allowed. */
  readonly upper: number;
  readonly outOfRound?: number | null;
  readonly taper?: number | null;
}

export type BoreLimits = Required<BoreSpecification>;

export const LEVELS = ['top', 'middle', 'bottom'] as const;
export const AXES = ['along', 'across'] as const;
/** Top, middle and bottom of the travel of the rings. */
export type BoreLevel = (typeof LEVELS)[number];
/** Along the crank, or across it, where the piston thrusts. */
export type BoreAxis = (typeof AXES)[number];

export type BoreVerdict = 'inside' | 'above' | 'out-of-round' | 'tapered';

/** Depths below the deck, millimetres. */
export interface RingTravel {
  readonly fromMm: number;
  readonly toMm: number;
}

export interface BoreBench extends GaugedBench {
  readonly kind: 'bore-gauge';
  readonly limits: BoreLimits;
  /** The bore as it was made, and above and below the travel of the rings still is. */
  readonly nominalMm: number;
  /** The size marked on the setting ring, in the dial's unit, and the same in millimetres. */
  readonly ring: number;
  readonly ringMm: number;
  /** Where the rings travel; a rule and a lamp show it. */
  readonly travel: RingTravel;
  /** Diameter at each level and axis, at room temperature, millimetres. Hidden. */
  readonly diametersMm: Readonly<Record<BoreLevel, Readonly<Record<BoreAxis, number>>>>;
  /** Kelvin that the block is warmer than the ring. Hidden until it is felt. */
  readonly warmerK: number;
  readonly truly: BoreVerdict;
}

/** Where the gauge is. */
export type BoreSpot =
  | { readonly in: 'ring' }
  | { readonly in: 'cylinder'; readonly depthMm: number; readonly axis: BoreAxis };

export interface BoreState extends GaugeState {
  readonly spot: BoreSpot | null;
  /** Degrees that the gauge slants from square to the bore. */
  readonly tiltDeg: number;
  /** Times it was put somewhere. */
  readonly puts: number;
  readonly cooled: boolean;
}

export type BoreOwnAction = {
  readonly version?: 1;
} & (
  | { readonly type: 'put'; readonly in: 'ring' }
  /** Depth below the deck in millimetres. */
  | { readonly type: 'put'; readonly in: 'cylinder'; readonly depthMm: number; readonly axis: BoreAxis }
  /** Tilt the handle by so many degrees, one way or the other; the pointer turns back where the gauge stands square. */
  | { readonly type: 'rock'; readonly degrees: number }
  /** Feel whether ring and block are as warm as each other. */
  | { readonly type: 'feel-temperature' }
  /** Leave block and ring side by side until they are. */
  | { readonly type: 'let-cool' }
);

export type BoreAction = BoreOwnAction | GaugeAction;

export interface BoreView extends GaugeView {
  readonly kind: 'bore-gauge';
  readonly spot: BoreSpot | null;
  /** How the handle slants, to two degrees: what an eye gets. */
  readonly slantDeg: number;
}

/** What is written for a place, in the dial's unit; null where the box is blank. */
export interface WrittenBore {
  readonly level: BoreLevel;
  readonly axis: BoreAxis;
  /** Where the pointer turned back, from zero: plus is plunger in, a smaller bore. */
  readonly reading: number | null;
  readonly diameter: number | null;
}

export interface BoreSheet {
  readonly places: readonly WrittenBore[];
  readonly largest: number | null;
  /** Largest difference across a level. */
  readonly outOfRound: number | null;
  /** Largest difference along an axis. */
  readonly taper: number | null;
  readonly verdict: BoreVerdict | null;
  readonly next: FollowUp | null;
}

export interface BoreBrief {
  readonly kind: 'bore-gauge';
  readonly name: string;
  readonly dialName: DialName;
  readonly dial: Dial;
  readonly limits: BoreLimits;
  readonly ring: number;
  readonly travel: RingTravel;
}
