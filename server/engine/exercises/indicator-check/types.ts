import type {
  GaugeAction,
  GaugedBench,
  GaugedDefinition,
  GaugeState,
  GaugeView,
} from '../../bench-parts/types.ts';
import type { Dial, DialName } from '../../dial/dial.ts';
import type { GaugeError } from '../../dial/gauge-error.ts';
import type { LengthUnit } from '../../units.ts';
import type { FollowUp } from '../cam-lift/types.ts';

/**
 * What a sheet says about the check of a dial indicator over gauge blocks. Limits default to the row of JIS B 7503:2011 for the gauge;
 * an inch gauge has none there and must be given its own.
 *
 * The pointer runs over the whole plan: ten turns less one on the usual gauge, on the face as printed. Level 1: a sound indicator, clean
 * blocks. Level 2: it may have a slow error, one that comes back every turn, hysteresis, or a plunger that sticks at one place. Level 3: a
 * block may be dirty until it is wiped, another does not wring for a burr, grit may lie under the stand, and the small hand may run
 * backwards. Half a turn, which the standard limits too, has no box. Temperature is left out: 9 mm of steel 5 °C too warm are half a
 * micrometre long, a twentieth of a graduation (11.5 µm a metre and degree, ISO 3650, from memory).
 */
export interface IndicatorCheckDefinition extends GaugedDefinition {
  readonly kind: 'indicator-check';
  readonly limits?: IndicatorCheckLimits;
  /** `whole`: the points of JIS B 7503. `short` (default): every tenth over the first turn, then every turn. */
  readonly plan?: 'short' | 'whole';
}

/** What each figure may be at most, in `unit`: spans of error, as `indicatorFigures` works them out. */
export interface IndicatorCheckLimits extends Figures {
  readonly unit: LengthUnit;
}

/** Spans of error of an indicator, all in one unit. */
export interface Figures {
  /** Largest less smallest error over all points, both ways. */
  readonly wholeRange: number;
  /** The same inside any one turn of the pointer. */
  readonly oneTurn: number;
  /** Largest step of error between points next to each other, a tenth of a turn apart, one way at a time. */
  readonly adjacent: number;
  /** Largest difference at one point between coming back and going in. */
  readonly hysteresis: number;
  /** Largest less smallest of five readings at one point. */
  readonly repeatability: number;
}

/** What is wrong with the indicator: nothing, or what puts it outside its limits. */
export type IndicatorFault = 'sound' | 'slow' | 'periodic' | 'hysteresis' | 'sticky';

/** Where the plunger sticks, and how much wider the play is there. Plunger from its outermost place, millimetres. */
export interface StickyPlace {
  readonly fromMm: number;
  readonly toMm: number;
  readonly widthMm: number;
}

export interface IndicatorCheckBench extends GaugedBench {
  readonly kind: 'indicator-check';
  readonly limits: IndicatorCheckLimits;
  /** Travels to be looked at, the dial's unit, rising from 0. */
  readonly plan: readonly number[];
  /** Hidden from here on. */
  readonly fault: IndicatorFault;
  readonly error: GaugeError;
  readonly sticky: StickyPlace | null;
  /** Blocks that read high: by grit until wiped, or by a burr that no wiping takes off. Travel in the dial's unit. */
  readonly badBlocks: readonly {
    readonly travel: number;
    readonly highMm: number;
    readonly why: 'grit' | 'burr';
  }[];
  readonly truly: 'inside' | 'above';
}

export interface IndicatorCheckState extends GaugeState {
  /** Size under the tip over the zero block, the dial's unit. */
  readonly travel: number;
  /** What lies between block and anvil, millimetres. */
  readonly highMm: number;
  /** Which way the plunger moved last, and in which set-up: 1 in, −1 out. A tip just set down has moved in. */
  readonly way: 1 | -1;
  readonly movedInSetUp: number;
  /** Does the tip hang after it was let down slowly? */
  readonly eased: boolean;
  readonly moves: number;
}

export type IndicatorCheckOwnAction =
  /**
   * Slide a block in under the tip, larger than the zero block by `travel` (the dial's unit; 0 is the zero block). A larger one than the last
   * pushes the plunger in, a smaller one lets it out. `stack` 2 is the same size put together from other blocks.
   */
  | {
      readonly version?: 1;
      readonly type: 'put-block';
      readonly travel: number;
      readonly wiped?: boolean;
      readonly stack?: 1 | 2;
    }
  /** Raise the plunger by its lifter a turn and let it down on the same block. */
  | { readonly version?: 1; readonly type: 'let-down'; readonly how: 'fast' | 'slowly' };

export type IndicatorCheckAction = IndicatorCheckOwnAction | GaugeAction;

export interface IndicatorCheckView extends GaugeView {
  readonly kind: 'indicator-check';
  readonly travel: number;
}

/** What was read over one block, the dial's unit; null where the box is blank. */
export interface WrittenPoint {
  readonly at: number;
  readonly up: number | null;
  readonly down: number | null;
}

/** Lengths in the dial's unit, read to a tenth of a graduation; null where the box is blank. */
export interface IndicatorCheckSheet {
  readonly points: readonly WrittenPoint[];
  /** Five readings at one point. */
  readonly repeats: readonly (number | null)[];
  /** The error of largest size going in, with its sign: shown less nominal, counted from the reading at 0. */
  readonly largestError: number | null;
  readonly wholeRange: number | null;
  readonly oneTurn: number | null;
  readonly adjacent: number | null;
  readonly hysteresis: number | null;
  readonly repeatability: number | null;
  readonly verdict: 'inside' | 'above' | null;
  /** `return-to-service`: use it. `measure-again`: check it again. `correct-set-up`: have it adjusted. `replace`: out of use. */
  readonly next: FollowUp | null;
}

export interface IndicatorCheckBrief {
  readonly kind: 'indicator-check';
  readonly name: string;
  readonly dialName: DialName;
  readonly dial: Dial;
  readonly limits: IndicatorCheckLimits;
  readonly plan: readonly number[];
}
