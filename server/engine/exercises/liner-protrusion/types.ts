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
import type { FollowUp } from '../cam-lift/types.ts';

/**
 * What a sheet says about a liner-protrusion exercise. Default: each point 0.001 to 0.004 in above the block, points of one liner
 * and neighbours within 0.002 in (TM 9-2815-260-24). Examples, never a specification for anyone's engine.
 */
export interface LinerDefinition extends GaugedDefinition {
  readonly kind: 'liner-protrusion';
  /** How many neighbouring liners, 2 to 6. Default 2. */
  readonly liners?: number;
  readonly specification?: GivenLimits;
  /** Most that the four points of a liner may differ, in the unit of the limits; null for no such limit. */
  readonly within?: number | null;
  /** Most that the means of two neighbours may differ, in the unit of the limits; null for no such limit. */
  readonly between?: number | null;
}

export type LinerVerdict = 'inside' | 'below' | 'above' | 'uneven';

export interface LinerLimits {
  readonly each: SetLimits;
  readonly within: number | null;
  readonly between: number | null;
}

/** Points measured on a liner. */
export const POINTS = 4;

export interface LinerTruth {
  /** Protrusion at each of the four points, pressed down, millimetres; minus below the block. Hidden. */
  readonly pointsMm: readonly number[];
  /** How much higher it stands until it is pressed down. Hidden. */
  readonly springMm: number;
  /** The deck beside it, millimetres from true. Hidden. */
  readonly deckMm: number;
  readonly truly: LinerVerdict;
}

export interface LinerBench extends GaugedBench {
  readonly kind: 'liner-protrusion';
  readonly limits: LinerLimits;
  readonly liners: readonly LinerTruth[];
  /** Are neighbours level enough? */
  readonly betweenTruly: 'inside' | 'above';
}

/** Where the tip stands: on the deck beside a liner, or on one of a liner's four points. */
export type LinerSpot =
  | { readonly on: 'deck'; readonly liner: number }
  | { readonly on: 'liner'; readonly liner: number; readonly point: number };

export interface LinerState extends GaugeState {
  readonly spot: LinerSpot | null;
  /** Liners that have been pressed down, in order. */
  readonly pressed: readonly number[];
}

export type LinerOwnAction = {
  readonly version?: 1;
} /** Slide the bridge until the tip stands there. The gauge keeps its zero. */ & (
  | { readonly type: 'place'; readonly on: 'deck'; readonly liner: number }
  | { readonly type: 'place'; readonly on: 'liner'; readonly liner: number; readonly point: number }
  /** Clamp a liner down evenly, as the manual asks (50 lbf·ft in TM 9-2815-260-24). It stays clamped. */
  | { readonly type: 'press-liner'; readonly liner: number }
);

export type LinerAction = LinerOwnAction | GaugeAction;

export interface LinerView extends GaugeView {
  readonly kind: 'liner-protrusion';
  readonly spot: LinerSpot | null;
  readonly pressed: readonly number[];
}

/** What is written for a liner, in the dial's unit, minus below the block; null where the box is blank. */
export interface WrittenLiner {
  readonly liner: number;
  readonly points: readonly (number | null)[];
  readonly mean: number | null;
  /** Largest less smallest of the four. */
  readonly within: number | null;
  readonly verdict: LinerVerdict | null;
  readonly next: FollowUp | null;
}

export interface LinerSheet {
  readonly liners: readonly WrittenLiner[];
  /** Largest difference between the means of two neighbours. */
  readonly between: number | null;
  readonly betweenVerdict: 'inside' | 'above' | null;
  readonly betweenNext: FollowUp | null;
}

export interface LinerBrief {
  readonly kind: 'liner-protrusion';
  readonly name: string;
  readonly liners: number;
  readonly points: number;
  readonly dialName: DialName;
  readonly dial: Dial;
  readonly limits: LinerLimits;
}
