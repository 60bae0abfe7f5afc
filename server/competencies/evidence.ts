import type { Criterion } from '../engine/index.ts';

/** A graded run that was handed in, as it is known on some day. */
export interface RunEvidence {
  readonly id: string;
  /** The item of a lab sheet it was for. */
  readonly itemId: number;
  /** When it was handed in; ISO 8601 in UTC. */
  readonly at: string;
  /** The day of that by the clock of its section. */
  readonly day: string;
  /** What tells its engine from others. */
  readonly engine: string;
  /** After changes. */
  readonly points: Readonly<Record<Criterion, number>>;
  readonly outOf: Readonly<Record<Criterion, number>>;
  readonly stops: number;
  readonly badPart: boolean;
  readonly setUpFault: boolean;
}

/** A sign-off on a shop engine, from the moment it counts: signed, or countersigned where a substitute signed it. */
export interface SignOffEvidence {
  readonly id: string;
  readonly itemId: number;
  readonly at: string;
  readonly passed: boolean;
}

/** Everything there is about one person and one competency, each kind oldest first. */
export interface Evidence {
  readonly runs: readonly RunEvidence[];
  readonly signOffs: readonly SignOffEvidence[];
}

/** A coordinator's word: it is held, it is not, or the evidence alone speaks again. */
export interface CoordinatorsWord {
  readonly word: 'granted' | 'revoked' | 'lifted';
  readonly at: string;
}
