import type { GuardedVerdict } from '../../decision/judge.ts';
import type { Certificate } from '../../dial/certificate.ts';
import type { Dial, DialName } from '../../dial/dial.ts';
import type { LengthUnit } from '../../units.ts';

/**
 * What a sheet says about a cam-lift exercise. Everything but `kind` may be left out; `generate.ts` holds the defaults.
 * It never says what is hidden: that comes from the seed.
 */
export interface CamLiftDefinition {
  readonly kind: 'cam-lift';
  readonly version?: 1;
  /** Name shown for the engine, invented. */
  readonly engineName?: string;
  readonly cylinders?: 4 | 6;
  /**
   * How much is hidden. 1: lifts between one turn of an inch dial and two, tappets and set-ups as they should be. 2 (default): two turns
   * and more, one fault of tappet or set-up in about half the engines, one lobe in twenty low by a whole turn. 3: three turns and more, more
   * faults, balanced faces, small hands that run backwards. Limits are kept from by two graduations at every level, but for `closeCalls`.
   */
  readonly level?: CamLiftLevel;
  /** Must hold each cylinder once. Default 1-3-4-2 or 1-5-3-6-2-4. */
  readonly firingOrder?: readonly number[];
  readonly dial?: DialName;
  /** Default as the dial is printed; at level 3 drawn. */
  readonly face?: Dial['face'];
  /** Must a gauge be chosen from a tray on which not every one fits? `dial` is then the one that is sure to lie on it. Default false. */
  readonly chooseGauge?: boolean;
  /** Must a rod be chosen? Default false. */
  readonly chooseRod?: boolean;
  /** Must the specification be looked up on a page with the lifts of other camshafts? Default false. */
  readonly lookUp?: boolean;
  /** How a lift is judged: by itself, or with a guard band of its uncertainty, "too close to call" between. Default simple. */
  readonly decision?: 'simple' | 'guarded';
  /** May a lift lie nearer a limit than two graduations, or its uncertainty? Default false. */
  readonly closeCalls?: boolean;
  /** How many pump positions to measure (drawn from the seed), or which ones. Default 2. */
  readonly positions?: number | readonly number[];
  /** Nominal lift and limits in `unit`; a limit left out is open. Default: drawn from the seed. */
  readonly specification?: {
    readonly unit: LengthUnit;
    readonly nominal: number;
    readonly lower?: number | null;
    readonly upper?: number | null;
  };
  /** May tappets hang or stick? Default true, at level 1 false. */
  readonly tappetFaults?: boolean;
  /** May indicator, stand or rod be set up badly until they are looked at? Default true, at level 1 false. */
  readonly setUpFaults?: boolean;
  /** Must 720° be barred for every reading, or is a lobe seen up, down and back to base circle enough? Default false. */
  readonly fullCycle?: boolean;
  /** Has the sheet a line for the roller, and may rollers be bad? Default false. */
  readonly rollerVerdict?: boolean;
  /** Does the gauge come with its calibration certificate? Default false. */
  readonly certificate?: boolean;
}

export type CamLiftLevel = 1 | 2 | 3;

/** How lifts are judged; U in the specification's unit, which is named, with its coverage factor. */
export type Decision =
  | { readonly rule: 'simple' }
  | {
      readonly rule: 'guarded';
      readonly expanded: number;
      readonly k: number;
      readonly unit: LengthUnit;
    };

/** Limits in the unit they were given in; `null` is an open side. */
export interface Limits {
  readonly lower: number | null;
  readonly upper: number | null;
}

export interface Specification extends Limits {
  readonly unit: LengthUnit;
  readonly nominal: number;
}

/** What a student does. `version` lets old logs be read for ever; it is left out for 1. */
export type CamLiftAction = { readonly version?: 1 } /** Take a gauge from the tray. */ & (
  | { readonly type: 'choose-gauge'; readonly gauge: DialName }
  /** Take a rod, by its place from 1. */
  | { readonly type: 'choose-rod'; readonly rod: number }
  /** Look up the specification: the row of a camshaft's letter where there are several. */
  | { readonly type: 'look-up'; readonly letter?: string }
  /** One stroke more on the student's own tally of the pointer passing zero. */
  | { readonly type: 'tally' }
  | { readonly type: 'move'; readonly position: number }
  /** Look at the roller of the tappet, while it is out. */
  | { readonly type: 'inspect' }
  /** Put the tappet in, or push it home again. */
  | { readonly type: 'seat' }
  /** Turn the tappet until its slot meets the guide pin. */
  | { readonly type: 'turn-tappet' }
  /** Press on the rod. */
  | { readonly type: 'press' }
  /** Let the indicator down until the plunger is in by this many turns of the pointer. */
  | { readonly type: 'preload'; readonly turns: number }
  /** Look along the bore at how the indicator stands; `square` sets it in line with the bore. */
  | { readonly type: 'align'; readonly square?: boolean }
  /** Tighten a part of the stand, or seat the rod firmly. */
  | { readonly type: 'tighten'; readonly part: RigPart }
  /** Raise the tip and let it down again, once. */
  | { readonly type: 'lift-tip' }
  /** Turn the bezel until its zero is under the pointer. */
  | { readonly type: 'zero' }
  | { readonly type: 'clamp' }
  | { readonly type: 'unclamp' }
  /**
   * Bar the crank by degrees, clockwise facing the front positive. `speed` in degrees of crank a second.
   * `hold`: seconds the bar is held still before it is let go; left out, it is not let go.
   */
  | { readonly type: 'bar'; readonly degrees: number; readonly speed?: number; readonly hold?: number }
  /** Something was written on the sheet: which lobe, which reading, which box. */
  | { readonly type: 'note'; readonly position: number; readonly reading: 1 | 2; readonly box: NoteBox }
);

export type RigPart = 'arm' | 'base' | 'rod';

export type NoteBox = 'counterBefore' | 'counterHigh' | 'turns' | 'pointer' | 'lift' | 'returned';

/** What can be seen at one moment of barring. */
export interface Sample {
  /** Crank mark, 0 to 360. */
  readonly crankDeg: number;
  /** Pointer against the face, in graduations, 0 to n. */
  readonly pointer: number;
  /** Small hand, in turns. */
  readonly counter: number | null;
  /** How far the plunger is in, to the nearest fifth of a millimetre: enough to draw it, not to measure by. */
  readonly plungerMm: number;
  /** Effort on the bar, 0 (turns by itself or at rest) to 1 (all a person can do). */
  readonly effort: number;
}

/** What a person standing there sees without doing anything. */
export interface CamLiftView {
  readonly kind: 'cam-lift';
  /** Gauge and rod in hand; null where none has been taken, or none is to be chosen. */
  readonly gauge: DialName | null;
  readonly rod: number | null;
  /** The student's own strokes since the last zero. */
  readonly tally: number;
  readonly position: number | null;
  /** What was found of the roller of this position when it was looked at; null where it has not been. */
  readonly roller: readonly RollerLook[] | null;
  readonly tappet: 'out' | 'in';
  readonly indicator: 'off' | 'on';
  /** How far the bezel has turned the face, in graduations, clockwise. */
  readonly faceTurn: number;
  readonly zeroed: boolean;
  readonly clamped: boolean;
  /** Degrees barred since the last zero, by the chalk mark on the damper; null before a zero. */
  readonly barredDeg: number | null;
  readonly sample: Sample;
}

/** What can be found of a roller in the hand: its colour, its surface and its shape, in this order. */
export type RollerLook =
  | 'roller-bright'
  | 'roller-blue'
  | 'roller-smooth'
  | 'roller-pits'
  | 'roller-scores'
  | 'roller-round'
  | 'roller-uneven';

/** What an action lets the student perceive, besides the dial. Codes with values; the words are elsewhere. */
export type Perception =
  | { readonly code: 'metal-on-metal' }
  | { readonly code: 'dull-stop' }
  | { readonly code: 'far-up' }
  | { readonly code: RollerLook }
  | { readonly code: 'slot-finds-pin' }
  | { readonly code: 'turns-freely' }
  | { readonly code: 'pointer-drops' }
  | { readonly code: 'pointer-holds' }
  | { readonly code: 'tappet-drops' }
  | { readonly code: 'indicator-set' }
  | { readonly code: 'nothing-to-lift' }
  | { readonly code: 'tip-comes-back' }
  | { readonly code: 'bezel-at-zero' }
  | { readonly code: 'bezel-clamped' }
  | { readonly code: 'bezel-free' }
  | { readonly code: 'stands-square' }
  | { readonly code: 'leans'; readonly degrees: number }
  | { readonly code: 'tip-in-hole' }
  | { readonly code: 'set-square' }
  | { readonly code: 'was-loose'; readonly part: RigPart }
  | { readonly code: 'was-tight'; readonly part: RigPart }
  | { readonly code: 'click' }
  | { readonly code: 'tip-off-the-work' }
  | { readonly code: 'hard-stop' }
  | { readonly code: 'compression' }
  | { readonly code: 'rolled-back'; readonly degrees: number }
  | { readonly code: 'ran-on'; readonly degrees: number }
  | { readonly code: 'let-go' }
  | { readonly code: 'moved'; readonly position: number }
  | { readonly code: 'noted' }
  | { readonly code: 'tallied'; readonly count: number }
  | { readonly code: 'gauge-in-hand'; readonly gauge: DialName }
  | { readonly code: 'rod-in-hand'; readonly fit: 'snug' | 'rocks'; readonly end: 'flat' | 'centre-hole' }
  | ({ readonly code: 'specification'; readonly letter: string | null } & Specification)
  | { readonly code: 'still-rocks' }
  /** It cannot be done now, and why. */
  | { readonly code: 'cannot'; readonly why: CannotWhy };

export type CannotWhy =
  | 'unknown-action'
  | 'no-such-position'
  | 'choose-a-position'
  | 'choose-a-gauge'
  | 'choose-a-rod'
  | 'nothing-to-choose'
  | 'no-such-row'
  | 'tappet-is-out'
  | 'tappet-is-in'
  | 'indicator-is-off'
  | 'bezel-is-clamped'
  | 'not-a-number'
  | 'too-far';

/** What the student perceives of one action: what is said, the dial all the way through, and how it stands now. */
export interface CamLiftSeen {
  readonly said: readonly Perception[];
  readonly samples: readonly Sample[];
  readonly now: CamLiftView;
}

/** One reading as written, in the dial's unit; null where the box is blank. */
export interface WrittenReading {
  readonly counterBefore: number | null;
  readonly counterHigh: number | null;
  readonly turns: number | null;
  readonly pointer: number | null;
  readonly lift: number | null;
  readonly returned: number | null;
}

/** What may be written of a lift; too close to call only where the sheet judges with a guard band. */
export type Verdict = GuardedVerdict;
export type RollerVerdict = 'sound' | 'not-again';
export type FollowUp = 'return-to-service' | 'measure-again' | 'correct-set-up' | 'replace';

export interface WrittenLobe {
  readonly position: number;
  readonly readings: readonly WrittenReading[];
  /** The lobe's lift: the mean of the two readings, as the student wrote it. */
  readonly lift: number | null;
  readonly verdict: Verdict | null;
  readonly next: FollowUp | null;
  /** Where the sheet has a line for it. */
  readonly roller?: RollerVerdict | null;
}

/** The lab sheet as written. */
export interface CamLiftSheet {
  /** Where the gauge was to be chosen: which one the readings were taken with. */
  readonly gauge?: DialName | null;
  readonly lobes: readonly WrittenLobe[];
}

/** What may be told of a bench before it is graded: the engine's plate, the dial's face, the specification. */
export interface CamLiftBrief {
  readonly kind: 'cam-lift';
  readonly engineName: string;
  readonly cylinders: number;
  readonly firingOrder: readonly number[];
  readonly positions: readonly number[];
  readonly dialName: DialName;
  readonly dial: Dial;
  /** Null where it must be looked up. */
  readonly specification: Specification | null;
  /** Where it must be looked up: the letter on this camshaft, and the letters that have a row. */
  readonly page?: { readonly letter: string; readonly rows: readonly string[] };
  /** Where lifts are judged with a guard band. */
  readonly decision?: Decision;
  /** The gauges to choose from; `dial` is then one of them, not yet the student's. */
  readonly tray?: readonly { readonly dialName: DialName; readonly dial: Dial }[];
  /** How many rods there are to choose from. */
  readonly rods?: number;
  readonly fullCycle: boolean;
  /** The gauge's own errors, where its certificate lies beside it. */
  readonly certificate?: Certificate;
  /** Has the sheet a line for the roller? */
  readonly rollerVerdict?: true;
}
