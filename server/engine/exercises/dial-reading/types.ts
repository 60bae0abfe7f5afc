import type { GaugeSample, Level } from '../../bench-parts/types.ts';
import type { Dial, DialName, SetDial } from '../../dial/dial.ts';
import type { LengthUnit } from '../../units.ts';

/**
 * What a sheet says about dial-reading drills. What each level hides:
 * 1: up to two turns of the pointer, inwards, a continuous face, a small hand that turns forwards and begins at zero.
 * 2: up to four turns, in or out, and the small hand begins anywhere but at zero.
 * 3: up to seven turns, every dial, balanced faces, small hands that run backwards or are not there, and the pointer often comes to rest
 * within a tenth of a turn of zero.
 * A dial with little travel turns less. Every gauge is free of errors of its own: what is practised is reading. Common practice, no source.
 */
export interface DialReadingDefinition {
  readonly kind: 'dial-reading';
  readonly version?: 1;
  /** Name shown for the drills, invented. */
  readonly name?: string;
  /** Default 2. */
  readonly level?: Level;
  /** 1 to 20, default 5. */
  readonly drills?: number;
  /** Only this dial, as it is printed; left out, drawn. */
  readonly dial?: DialName;
  /** Only this face; left out, as the level has it. */
  readonly face?: Dial['face'];
  /** Only dials in this unit. */
  readonly unit?: LengthUnit;
}

/** One dial, zeroed, and the movement that is to be read. Lengths in the dial's unit. */
export interface Drill {
  readonly dialName: DialName;
  readonly dial: SetDial;
  /** From the zero, in positive. Hidden. */
  readonly movement: number;
}

export interface DialReadingBench {
  readonly kind: 'dial-reading';
  readonly version: 1;
  readonly seed: string;
  readonly name: string;
  readonly drills: readonly Drill[];
}

export interface DialReadingState {
  readonly actions: number;
  /** The drill before the student, from 1. */
  readonly drill: number;
  /** Of each drill: is its movement made, and was it ever watched? */
  readonly made: readonly boolean[];
  readonly watched: readonly boolean[];
}

/** `version` is left out for 1. */
export type DialReadingAction = { readonly version?: 1 } & (
  | { readonly type: 'go-to'; readonly drill: number }
  /** See the movement of the drill at so many turns of the pointer a second; back to its zero with `watch-back`. */
  | { readonly type: 'watch'; readonly speed: number }
  | { readonly type: 'watch-back'; readonly speed: number }
  /** Something was written on the sheet: for which drill, and which of its boxes. */
  | { readonly type: 'note'; readonly item: number; readonly box: string }
);

export interface DialReadingView {
  readonly kind: 'dial-reading';
  readonly drill: number;
  /** The gauge stands on its stand throughout. */
  readonly indicator: 'on';
  /** Has the pointer run its movement? */
  readonly made: boolean;
  readonly watched: boolean;
  readonly sample: GaugeSample;
}

/** What was written of one drill; null where a box is blank. */
export interface WrittenDrill {
  /** Counted from 1. */
  readonly drill: number;
  /** Whole turns of the pointer from zero, whichever way it ran. */
  readonly turns: number | null;
  /** Graduations from the last zero, counted the way the pointer ran: 63 on a face from 0 to 100 is 37 when it ran down. */
  readonly pointer: number | null;
  /** Small hand, in turns. */
  readonly counterBefore: number | null;
  readonly counterAfter: number | null;
  /** In the dial's unit: plus when the plunger went in, minus when it came out. */
  readonly reading: number | null;
}

export interface DialReadingSheet {
  readonly drills: readonly WrittenDrill[];
}

export interface DialReadingBrief {
  readonly kind: 'dial-reading';
  readonly name: string;
  readonly drills: readonly { readonly drill: number; readonly dialName: DialName; readonly dial: Dial }[];
}
