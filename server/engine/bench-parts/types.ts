import type { Dial, DialName } from '../dial/dial.ts';
import type { LengthUnit } from '../units.ts';

/** What every job with an indicator on a stand shares: the gauge, where its bezel was left, and whether grit lies where the base goes. */
export interface GaugedBench {
  readonly version: 1;
  readonly seed: string;
  readonly name: string;
  readonly dialName: DialName;
  readonly dial: Dial;
  /** Graduations the bezel stands turned by when the student comes. */
  readonly startFaceTurn: number;
  /** Is there grit where the base will stand? */
  readonly gritty: boolean;
}

/**
 * How much is hidden. 1: the part is sound and the shop is clean. 2: the part may be bad. 3: there may be grit under the base too,
 * the face may be balanced and the small hand run backwards. Turns of the pointer come with the job: none to two for a part inside its
 * limits, more for one that is far out.
 */
export type Level = 1 | 2 | 3;

/** What a sheet may say of the gauge, whatever is measured with it. */
export interface GaugedDefinition {
  readonly version?: 1;
  /** Name shown for the work, invented. */
  readonly name?: string;
  /** Default 2. */
  readonly level?: Level;
  readonly dial?: DialName;
  /** Default as the dial is printed, at level 3 drawn. */
  readonly face?: Dial['face'];
}

/** Limits as a manual prints them; a side left out is open. `unit` is that of the limits, not of the dial. */
export interface GivenLimits {
  readonly unit: LengthUnit;
  readonly lower?: number | null;
  readonly upper?: number | null;
}

export interface SetLimits {
  readonly unit: LengthUnit;
  readonly lower: number | null;
  readonly upper: number | null;
}

/** The indicator as it stands on the work. Lengths in millimetres. */
export interface Stand {
  /** Plunger position with the work at 0. */
  readonly standMm: number;
  /** What the set-up shows for a movement of 1: its scatter, and the lean. */
  readonly scale: number;
  /** Degrees between the plunger and the movement to be measured; 0 once it has been lined up. */
  readonly leanDeg: number;
}

/** The gauge's part of a bench's state. Hidden: only `look` and `act` say what may be seen of it. */
export interface GaugeState {
  readonly actions: number;
  readonly stand: Stand | null;
  readonly faceTurn: number;
  readonly clamped: boolean;
  readonly zeroed: boolean;
  /** Was the place of the base wiped? */
  readonly wiped: boolean;
  readonly setUps: number;
  readonly tipLifts: number;
  readonly touches: number;
}

/** What can be seen of the gauge at one moment. */
export interface GaugeSample {
  /** Pointer against the face, in graduations, 0 to n. */
  readonly pointer: number;
  /** Small hand, in turns. */
  readonly counter: number | null;
  /** How far the plunger is in, to a fifth of a millimetre: enough to draw it, not to measure by. */
  readonly plungerMm: number;
  /** Degree on the work that is under the tip, 0 to 360, where the work turns; else null. */
  readonly workDeg: number | null;
}

/** What a person standing there sees of the gauge without doing anything. */
export interface GaugeView {
  readonly indicator: 'off' | 'on';
  readonly faceTurn: number;
  readonly zeroed: boolean;
  readonly clamped: boolean;
  readonly sample: GaugeSample;
}

/** Everything of one moment, hidden things included: what grades and replays are made of. */
export interface GaugeMoment {
  readonly at: number;
  readonly plungerMm: number;
  /** Counted on over whole turns from the face's zero, in graduations. */
  readonly graduations: number;
  readonly counterTurns: number;
  /** Degrees the work has been turned, not wrapped; 0 where it does not turn. */
  readonly turnedDeg: number;
}

/** What is done to the gauge whatever is measured. `version` is left out for 1. */
export type GaugeAction =
  /** Wipe the place where the base stands, and the work under the tip. */
  | { readonly type: 'wipe' }
  /** Set the indicator down until the plunger is in by this many turns of the pointer. */
  | { readonly type: 'set-indicator'; readonly turns: number }
  /** Bring the plunger in line with the movement to be measured. */
  | { readonly type: 'align' }
  | { readonly type: 'lift-tip' }
  | { readonly type: 'zero' }
  | { readonly type: 'clamp' }
  | { readonly type: 'unclamp' }
  /** Something was written on the sheet: for which item, and which of its boxes. */
  | { readonly type: 'note'; readonly item: number; readonly box: string };

/** What an action lets the student perceive. One list for all kinds, so that one catalogue has the words. */
export type GaugeSaid =
  | { readonly code: GaugeSaidCode }
  /** It cannot be done now, and why. */
  | { readonly code: 'cannot'; readonly why: GaugeCannot };

export type GaugeSaidCode =
  | 'wiped-grit'
  | 'wiped-clean'
  | 'indicator-set'
  | 'lined-up'
  | 'nothing-to-lift'
  | 'tip-comes-back'
  | 'bezel-at-zero'
  | 'bezel-clamped'
  | 'bezel-free'
  | 'tip-off-the-work'
  | 'hard-stop'
  | 'noted'
  | 'solid-stop'
  | 'springy-stop'
  | 'turned'
  | 'pushed-one-way'
  | 'shaft-wanders'
  | 'gear-held'
  | 'gear-free'
  | 'both-gears-turn'
  | 'moved'
  | 'liner-pressed-down'
  | 'liner-goes-down'
  | 'indicator-fitted'
  | 'rocked'
  | 'one-temperature'
  | 'work-is-warm'
  | 'work-has-cooled'
  | 'tappet-pumped-up'
  | 'tappet-is-solid'
  | 'block-wrung'
  | 'block-does-not-wring'
  | 'block-not-wiped'
  | 'let-down'
  | 'drill-taken-up'
  | 'pointer-ran'
  | 'pointer-ran-back'
  | 'stop-tried'
  | 'wheel-set';

export type GaugeCannot =
  | 'unknown-action'
  | 'not-a-number'
  | 'too-far'
  | 'indicator-is-off'
  | 'bezel-is-clamped'
  | 'no-such-place'
  | 'choose-a-place'
  | 'held-in-the-hand'
  | 'pointer-is-there';

export interface GaugeStep<S> {
  readonly state: S;
  readonly said: readonly GaugeSaid[];
  readonly moments: readonly GaugeMoment[];
}

/** What a kind knows of its own work: pure, and never throwing for an odd action. */
export interface Work<B extends GaugedBench, S extends GaugeState, A> {
  /** Is the gauge held in the hand, its indicator fitted in it for good? Then nothing can be lined up, and no tip lifted. */
  readonly inHand?: true;
  /** Where the surface under the tip stands, towards the gauge, millimetres. */
  heightMm(bench: B, state: S): number;
  /** Degrees the work has been turned, not wrapped; null where it does not turn. */
  turnedDeg(state: S): number | null;
  /**
   * What the gauge's works show of its plunger, millimetres, where the gauge itself is what is measured: then the stand adds no scatter
   * of its own. Left out, a gauge shows its plunger.
   */
  shownMm?(bench: B, state: S, plungerMm: number): number;
  /** What a lean of so many degrees makes of a movement of 1. */
  leanFactor(leanDeg: number, state: S): number;
  /** Standard deviation of a set-up's scale, as a share; default 0.004. Smaller where what is measured is long. */
  readonly scaleScatter?: number;
  /** Why the indicator cannot be set down now, or null. */
  whyNotSet(state: S): GaugeCannot | null;
  /** The kind's own actions. */
  does(bench: B, state: S, action: A): OwnStep<S>;
}

/** What a kind's own action does: states gone through, in order. The gauge follows from one to the next. */
export interface OwnStep<S> {
  readonly said: readonly GaugeSaid[];
  readonly through: readonly S[];
}
