/** The four criteria of a grade. */
export type Criterion = 'setUp' | 'procedure' | 'reading' | 'verdict';

export const CRITERIA: readonly Criterion[] = ['setUp', 'procedure', 'reading', 'verdict'];

/** Points by criterion. Common practice, no source. */
export const FULL_POINTS: Readonly<Record<Criterion, number>> = {
  setUp: 30,
  procedure: 20,
  reading: 30,
  verdict: 20,
};

/** A value a remark speaks of: a number in the unit its name ends in, a code, or a list of codes. */
export type RemarkValue = number | string | boolean | null | readonly string[];

/** What was seen, where in the log, and what it cost. A code with values: the words live in one catalogue. */
export interface Remark {
  readonly code: string;
  readonly criterion: Criterion | null;
  readonly position: number | null;
  /** 1 or 2, where it is about one reading. */
  readonly reading: number | null;
  /** Index of the action in the log it is tied to, or null where nothing was done. */
  readonly at: number | null;
  readonly pointsLost: number;
  readonly values: Readonly<Record<string, RemarkValue>>;
}

/** A fault that fails the run for the record, whatever its points. */
export interface Stop {
  readonly code: 'whole-turn-error' | 'bad-lobe-passed' | 'bad-part-passed' | 'reading-without-measurement';
  readonly position: number;
  readonly at: number | null;
  readonly values: Readonly<Record<string, RemarkValue>>;
}

/** How sure the diagnosis of a wrong reading is. */
export interface NamedMistake {
  readonly position: number;
  /** 1 or 2; null for the lobe's lift line. */
  readonly reading: number | null;
  /** `one` names it, `either` names two, `unexplained` says honestly that no one mistake explains it. */
  readonly how: 'one' | 'either' | 'unexplained';
  readonly mistakes: readonly string[];
  /** Written minus shown, in graduations. */
  readonly offGraduations: number | null;
  readonly at: number | null;
}

/** One stretch of the replay: one set-up on one lobe, the gauge's travel against barred crank. */
export interface TraceRun {
  readonly position: number;
  readonly setUp: number;
  /** Crank degrees from the bench's start, forwards positive, not wrapped. */
  readonly crankDeg: readonly number[];
  /** Travel of the pointer from the last zero, in the dial's unit; before a zero, from where the indicator was set. */
  readonly travel: readonly number[];
  /** Action index of each point. */
  readonly at: readonly number[];
  readonly marks: readonly TraceMark[];
}

export interface TraceMark {
  readonly what: 'zero' | 'high' | 'return' | 'note' | 'press' | 'rolled-back' | 'missed-high';
  readonly index: number;
  readonly crankDeg: number;
  readonly travel: number;
  readonly at: number;
}

/** A graded attempt. */
export interface Grade {
  readonly engineVersion: string;
  readonly points: Readonly<Record<Criterion, number>>;
  readonly outOf: Readonly<Record<Criterion, number>>;
  readonly total: number;
  readonly stops: readonly Stop[];
  readonly remarks: readonly Remark[];
  readonly mistakes: readonly NamedMistake[];
  /** Cam lift only; empty for other kinds. */
  readonly lobes: readonly LobeOutcome[];
  /** What was so of each item of the other kinds; left out for cam lift. */
  readonly items?: readonly ItemOutcome[];
  readonly trace: readonly TraceRun[];
}

/** What was so on one lobe, told only after grading. Lengths in the dial's unit. */
export interface LobeOutcome {
  readonly position: number;
  readonly condition: string;
  readonly tappet: string;
  readonly trueLift: number;
  readonly trueVerdict: 'inside' | 'below' | 'above';
  /** Highest reading their gauge showed for each of the two readings; null where nothing was measured. */
  readonly shown: readonly (number | null)[];
  readonly writtenLift: number | null;
  readonly writtenVerdict: string | null;
  readonly writtenNext: string | null;
  /** State of the roller and what was written of it, where the sheet has a line for it. */
  readonly roller?: string;
  readonly writtenRoller?: string | null;
}

/** What was so of one item of a kind other than cam lift, told only after grading. Lengths in the dial's unit, angles in degrees. */
export interface ItemOutcome {
  readonly item: number;
  /** Results of the part as it truly is, by name. */
  readonly truth: Readonly<Record<string, number>>;
  /** Null where nothing is judged. */
  readonly trueVerdict: string | null;
  readonly shown: Readonly<Record<string, number | null>>;
  readonly written: Readonly<Record<string, number | null>>;
  readonly writtenVerdict: string | null;
  readonly writtenNext: string | null;
}
