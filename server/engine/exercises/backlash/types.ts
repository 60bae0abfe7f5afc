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
 * What a sheet says about a backlash exercise. Default: a timing gear pair against 0.004 to 0.012 in (TM 9-2815-253-24: standard
 * 0.004 to 0.007 in, limit 0.012 in), its teeth within 0.002 in of each other (common practice, no source). Examples, never a
 * specification for anyone's engine.
 */
export interface BacklashDefinition extends GaugedDefinition {
  readonly kind: 'backlash';
  /** How many teeth, spread evenly round the gear, 2 to 8. Default 4. */
  readonly teeth?: number;
  readonly specification?: GivenLimits;
  /** Most that teeth may differ, in the unit of the limits; null asks for no spread. */
  readonly spread?: number | null;
}

export type BacklashVerdict = 'inside' | 'below' | 'above' | 'uneven';

export interface BacklashBench extends GaugedBench {
  readonly kind: 'backlash';
  readonly specification: SetLimits;
  readonly spread: number | null;
  /** Play at each tooth to be measured, millimetres at the pitch circle. Hidden. */
  readonly lashMm: readonly number[];
  readonly truly: BacklashVerdict;
}

export interface BacklashState extends GaugeState {
  /** Tooth under the tip, counted from 1; null before one is chosen. */
  readonly tooth: number | null;
  /** Is the other gear held? */
  readonly held: boolean;
  /** Where in its play the rocked gear stands, millimetres at the pitch circle. */
  readonly rockedMm: number;
}

export type BacklashOwnAction = {
  readonly version?: 1;
} /** Bar the gears until this tooth is where the tip goes. Takes the indicator off. */ & (
  | { readonly type: 'turn-to'; readonly tooth: number }
  /** Hold the other gear, or let it go. */
  | { readonly type: 'hold'; readonly on: boolean }
  /** Rock the gear under the tip; `way` 1 pushes the plunger in. `effort` 0 to 1. */
  | { readonly type: 'rock'; readonly way: 1 | -1; readonly effort: number }
);

export type BacklashAction = BacklashOwnAction | GaugeAction;

export interface BacklashView extends GaugeView {
  readonly kind: 'backlash';
  readonly tooth: number | null;
  readonly held: boolean;
}

/** Lengths in the dial's unit; null where the box is blank. */
export interface BacklashSheet {
  /** Backlash at each tooth, in order. */
  readonly teeth: readonly (number | null)[];
  readonly smallest: number | null;
  readonly largest: number | null;
  /** Largest less smallest. */
  readonly spread: number | null;
  readonly verdict: BacklashVerdict | null;
  readonly next: FollowUp | null;
}

export interface BacklashBrief {
  readonly kind: 'backlash';
  readonly name: string;
  readonly teeth: number;
  readonly dialName: DialName;
  readonly dial: Dial;
  readonly specification: SetLimits;
  readonly spread: number | null;
}
