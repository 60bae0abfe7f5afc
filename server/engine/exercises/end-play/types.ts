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
 * What a sheet says about an end-play exercise. Default: a crankshaft against 0.004 to 0.018 in (TM 5-3895-346-14: new 0.004 to
 * 0.011 in, used at most 0.018 in), or a wheel bearing against 0.001 to 0.005 in (TMC RP 618). Examples, never a specification
 * for anyone's engine.
 */
export interface EndPlayDefinition extends GaugedDefinition {
  readonly kind: 'end-play';
  readonly subject?: EndPlaySubject;
  readonly specification?: GivenLimits;
}

export type EndPlaySubject = 'crankshaft' | 'wheel-bearing';

export interface EndPlayBench extends GaugedBench {
  readonly kind: 'end-play';
  readonly subject: EndPlaySubject;
  readonly specification: SetLimits;
  /** The whole movement. Hidden. */
  readonly floatMm: number;
  /** Where in it the shaft was left, 0 rear to 1 front. Hidden. */
  readonly startShare: number;
  readonly truly: JudgedVerdict;
}

export interface EndPlayState extends GaugeState {
  /** Where the shaft or hub stands, 0 hard to the rear, `floatMm` hard to the front. */
  readonly axialMm: number;
}

export type EndPlayOwnAction = {
  readonly version?: 1;
  /** Pry, push or pull it one way. The tip stands on the front, so frontwards is plus. */
  readonly type: 'pry';
  readonly way: 'front' | 'rear';
  /** 0 to 1: all a person should put on a short bar. */
  readonly effort: number;
  /** Turn the hub to and fro about 45° while at it, so that the rollers seat. Counts on a wheel bearing. */
  readonly rock?: boolean;
};

export type EndPlayAction = EndPlayOwnAction | GaugeAction;

export interface EndPlayView extends GaugeView {
  readonly kind: 'end-play';
}

/** Lengths in the dial's unit, plus or minus as read; null where the box is blank. */
export interface EndPlaySheet {
  /** The movement read, once and again. */
  readonly readings: readonly (number | null)[];
  /** The end play: the mean of the readings. */
  readonly endPlay: number | null;
  readonly verdict: JudgedVerdict | null;
  readonly next: FollowUp | null;
}

export interface EndPlayBrief {
  readonly kind: 'end-play';
  readonly name: string;
  readonly subject: EndPlaySubject;
  readonly dialName: DialName;
  readonly dial: Dial;
  readonly specification: SetLimits;
}
