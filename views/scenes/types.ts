import type { DrawingNames } from '../drawing/index.ts';

/** Attributes to set by the `data-part` of an element; `text` sets what is written in it. */
export type Moves = Readonly<Record<string, Readonly<Record<string, string>>>>;

/** One moment of an action, of whatever kind: what a drawing may follow. */
export interface SceneMoment {
  /** Crank, or the degree of the work under the tip, 0 to 360; null where nothing turns. */
  readonly deg: number | null;
  /** How far the plunger is in, millimetres, to a fifth: enough to draw it. */
  readonly plungerMm: number;
  /** Effort on the bar, 0 to 1; null where nobody bars. */
  readonly effort: number | null;
}

/**
 * How the work of a kind looks to a person standing there. Drawn by the server when the page loads and by the page after each action, from
 * what the engine lets be seen and nothing else. Pure; strings of SVG.
 */
export interface Scene<Brief, View> {
  /** The whole drawing, as it stands now; nothing, an empty string, while there is nothing yet to see. */
  draw(brief: Brief, view: View, names: DrawingNames): string;
  /** What moves of it while an action is played; nothing where all stands still. */
  move(brief: Brief, view: View, moment: SceneMoment): Moves;
  /** What stands where, in a sentence or two, for a person who does not see it. Never a reading of the dial. */
  describe(brief: Brief, view: View): string;
}
