import type { Level } from '../../bench-parts/types.ts';
import type { Dial, DialName } from '../../dial/dial.ts';
import type { HiddenFault } from '../../set-up/faults.ts';
import type { CamLiftBench } from '../cam-lift/bench.ts';
import type {
  CamLiftBrief,
  CamLiftDefinition,
  CamLiftSeen,
  CamLiftView,
  FollowUp,
} from '../cam-lift/types.ts';

/** What may be hidden, and so written: faults that are there before anybody measures, nothing at all, or a lobe that is truly low. */
export type FaultAnswer = HiddenFault | 'none' | 'worn-lobe';

/**
 * One hidden fault in the set-up of a cam-lift measurement, to be named from what the gauge does. All levels: one pump position, six or
 * two turns of the pointer and more, on the faces of cam lift. Level 1: a fault that is plain to see, one of four offered. Level 2: any
 * fault, or none. Level 3: also small ones, a little over two graduations, and a worn lobe, which is no fault of the set-up; the small
 * hand may run backwards and the gauge may be metric.
 */
export interface FaultFindingDefinition {
  readonly kind: 'fault-finding';
  readonly version?: 1;
  /** Name shown for the engine, invented. */
  readonly engineName?: string;
  /** Default 2. */
  readonly level?: Level;
  readonly dial?: DialName;
  /** Nominal lift and limits in `unit`; a limit left out is open. Default: drawn from the seed. */
  readonly specification?: CamLiftDefinition['specification'];
  /** For lessons alone, which show a fault on purpose. A graded sheet never holds it: then the seed hides the fault. */
  readonly fault?: FaultAnswer;
}

export interface FaultFindingBench {
  readonly kind: 'fault-finding';
  readonly version: 1;
  readonly seed: string;
  readonly level: Level;
  readonly dialName: DialName;
  readonly dial: Dial;
  readonly fault: FaultAnswer;
  /** Answers the sheet offers. */
  readonly offered: readonly FaultAnswer[];
  /** The engine with its gauge and stand, worked on with the actions of cam lift. */
  readonly engine: CamLiftBench;
}

export type FaultFindingView = Omit<CamLiftView, 'kind'> & { readonly kind: 'fault-finding' };
export type FaultFindingSeen = Omit<CamLiftSeen, 'now'> & { readonly now: FaultFindingView };

export type FaultFindingBrief = Omit<CamLiftBrief, 'kind'> & {
  readonly kind: 'fault-finding';
  readonly level: Level;
  readonly offered: readonly FaultAnswer[];
};

/** The sheet as written. Readings in the dial's unit; null where a box is blank. */
export interface FaultFindingSheet {
  readonly fault: FaultAnswer | null;
  /** Highest reading and return as the set-up was found. */
  readonly foundHigh: number | null;
  readonly foundReturn: number | null;
  /** Highest reading after the fault was set right; the same again where nothing was wrong. */
  readonly trueHigh: number | null;
  /** What the fault did to the reading, high or return, in graduations. */
  readonly effectGraduations: number | null;
  readonly next: FollowUp | null;
}
