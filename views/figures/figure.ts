import type { DialDrawing } from '../drawing/dial.ts';

/** What a lesson says of a figure: `{{figure dial dial=inch-0.001-1}}` gives `dial`. */
export type Given = Readonly<Record<string, string>>;

/** Something to move, choose or press. */
export type Control = Slide | Choose | Press;

export interface Slide {
  readonly kind: 'slide';
  readonly name: string;
  readonly label: string;
  readonly min: number;
  readonly max: number;
  readonly step: number;
  readonly value: number;
  /** What stands beside the slider, and is said of it. */
  readonly said: string;
  /** How far the figure follows in a second, slowly enough to count turns by; left out, it follows at once. */
  readonly perSecond?: number;
}

export interface Choose {
  readonly kind: 'choose';
  readonly name: string;
  readonly label: string;
  readonly options: readonly { readonly value: string; readonly label: string }[];
  readonly value: string;
}

export interface Press {
  readonly kind: 'press';
  readonly name: string;
  readonly label: string;
  /** A switch that is on or off. */
  readonly pressed?: boolean;
  /** It does nothing now. */
  readonly off?: boolean;
}

/** One figure to be read beside the drawings. */
export interface Readout {
  readonly name: string;
  readonly label: string;
  readonly text: string;
}

/** A dial, and what it is for a person who does not see it. */
export type ShownDial = DialDrawing & { readonly title: string };

/** A figure at one moment. The same drawings, controls and read-outs are there all the time. */
export interface Shown {
  readonly drawings: readonly { readonly name: string; readonly svg: string }[];
  readonly dial: ShownDial | null;
  readonly controls: readonly Control[];
  readonly reads: readonly Readout[];
  /** A sentence under the figure; null where nothing is to be said. */
  readonly told: string | null;
}

/**
 * A figure that is being used. It holds how it stands now; the server asks it once for paper and for the page as it arrives, the page
 * asks after everything that is done. Pure but for that.
 */
export interface LiveFigure {
  /** What is to be seen, under the figure. */
  readonly caption: string;
  /** Moves, chooses or presses. A control that is not there, or a value that is none, changes nothing. */
  set(control: string, value: string): void;
  show(): Shown;
}

/** What a figure may be told by the lesson, and how it begins. @throws RangeError for something given that cannot be. */
export interface FigureKind {
  /** Keys a lesson may give. */
  readonly takes: readonly string[];
  /** `id` is unique on the page, for the names in its drawings. */
  begin(given: Given, id: string): LiveFigure;
}

/** A figure whose state is replaced by another at everything that is done. */
export function liveFigure<State>(
  parts: {
    readonly caption: string;
    readonly set: (state: State, control: string, value: string) => State;
    readonly show: (state: State) => Shown;
  },
  first: State,
): LiveFigure {
  let state = first;
  return {
    caption: parts.caption,
    set: (control, value) => {
      state = parts.set(state, control, value);
    },
    show: () => parts.show(state),
  };
}

/** A number from a control, held to its ends; nonsense leaves what was. */
export function held(value: string, min: number, max: number, otherwise: number): number {
  const number = Number(value);
  return value.trim() === '' || !Number.isFinite(number) ? otherwise : Math.min(Math.max(number, min), max);
}

/** A number a lesson gives. @throws RangeError when it is none, or outside. */
export function givenNumber(given: Given, key: string, otherwise: number, min: number, max: number): number {
  const text = given[key];
  if (text === undefined) return otherwise;
  const value = Number(text);
  if (text === '' || !(value >= min && value <= max))
    throw new RangeError(`${key}=${text} must be a number from ${min} to ${max}`);
  return value;
}

/** A word a lesson gives. @throws RangeError when it is none of those. */
export function givenWord<T extends string>(given: Given, key: string, words: readonly T[], otherwise: T): T {
  const text = given[key] ?? otherwise;
  const found = words.find((word) => word === text);
  if (found === undefined) throw new RangeError(`${key}=${text} must be one of ${words.join(', ')}`);
  return found;
}
