import type { Level } from '../../bench-parts/types.ts';
import type { LengthUnit } from '../../units.ts';
import type { FollowUp } from '../cam-lift/types.ts';
import type { TorqueUnit } from './torque-units.ts';

/**
 * What a sheet says about tightening with an adapter. Default: a pump clamp of four bolts at 20 lbf·ft and two line nuts at 35 lbf·ft through
 * an open-end adapter; common practice, no source, and never a specification for anyone's engine: the maker's manual comes first.
 *
 * Level 1: the scale is in the unit of the values, the adapter straight ahead or across, wrench and bolts good. Level 2: the scale may be in
 * another unit, the adapter at any of seven angles, a wrench past its check date, a bolt that was stretched before. Level 3: also a
 * wrench that is in date and reads wrong, which a torque tester shows, and dirty threads.
 */
export interface TorqueAdapterDefinition {
  readonly kind: 'torque-adapter';
  readonly version?: 1;
  readonly name?: string;
  readonly level?: Level;
  readonly joints?: readonly GivenJoint[];
  /** Unit of the wrench's scale. */
  readonly scaleUnit?: TorqueUnit;
  /** Middle of the grip to the square, and square to fastener, in `unit`. */
  readonly lengths?: { readonly unit: LengthUnit; readonly wrench: number; readonly adapter: number };
}

/** One joint of the job. */
export interface GivenJoint {
  readonly name: string;
  readonly wanted: number;
  readonly unit: TorqueUnit;
  /** Angle at which the adapter has to stand to reach it: 0 straight ahead, 90 across, 180 turned back; drawn where left out. */
  readonly angleDeg?: number;
  /** The order its bolts are tightened in; each number once, from 1. */
  readonly order: readonly number[];
}

export type Joint = Required<GivenJoint>;

/** Where the hand pulls: at the mark L was measured to, nearer the head, or at the very end. */
export type GripPlace = 'mark' | 'choked' | 'end';

export interface TorqueAdapterBench {
  readonly version: 1;
  readonly kind: 'torque-adapter';
  readonly seed: string;
  readonly name: string;
  readonly joints: readonly Joint[];
  readonly scale: {
    readonly unit: TorqueUnit;
    readonly step: number;
    readonly least: number;
    readonly most: number;
  };
  readonly lengthUnit: LengthUnit;
  readonly gripLength: number;
  readonly overallLength: number;
  readonly adapterLength: number;
  /** Is there a torque tester? */
  readonly tester: boolean;
  /** Hidden from here on. What each wrench gives over what it is set to, less 1; and whether its check is past due. */
  readonly wrenches: readonly { readonly error: number; readonly overdue: boolean }[];
  /** By joint: the bolt that was stretched before and the share of the torque wanted at which it gives way; and the dirty one. */
  readonly stretched: readonly ({ readonly bolt: number; readonly share: number } | null)[];
  readonly dirty: readonly (number | null)[];
  readonly startSetting: number;
}

export interface BoltState {
  readonly torqueNm: number;
  readonly gaveWay: boolean;
  readonly cleaned: boolean;
  readonly marked: boolean;
  /** Has it been run down by hand, and has the wrench clicked on it, since it was last loose? What the student did and felt. */
  readonly ranDown: boolean;
  readonly clicked: boolean;
}

/** A bolt of a joint, both from 1. */
export interface BoltPlace {
  readonly joint: number;
  readonly bolt: number;
}

/** What a person knows of a bolt who looks at it and remembers what they did to it; never its torque. */
export type BoltView = Pick<BoltState, 'marked' | 'ranDown' | 'clicked'>;

export interface TorqueAdapterState {
  readonly actions: number;
  readonly wrench: number | null;
  readonly registerRead: boolean;
  readonly angleDeg: number | null;
  readonly setting: number;
  readonly grip: GripPlace;
  readonly bolts: readonly (readonly BoltState[])[];
  /** The bolt last worked on. */
  readonly at: BoltPlace | null;
}

/** Joints and bolts count from 1, as they are numbered on the job. */
export type TorqueAdapterAction = { readonly version?: 1 } & (
  | { readonly type: 'read-register' }
  | { readonly type: 'take-wrench'; readonly wrench: number }
  /** Put the adapter on at an angle to the handle. */
  | { readonly type: 'set-adapter'; readonly angleDeg: number }
  | { readonly type: 'set-wrench'; readonly setting: number }
  /** Pull against the torque tester, without the adapter. */
  | { readonly type: 'test-wrench' }
  | { readonly type: 'grip'; readonly place: GripPlace }
  | { readonly type: 'run-down'; readonly joint: number; readonly bolt: number }
  | { readonly type: 'clean'; readonly joint: number; readonly bolt: number }
  /** `speed` 0 to 1: up to 0.5 a smooth pull. `past`: pull on after the click. */
  | {
      readonly type: 'pull';
      readonly joint: number;
      readonly bolt: number;
      readonly speed: number;
      readonly past?: boolean;
    }
  | { readonly type: 'loosen'; readonly joint: number; readonly bolt: number }
  | { readonly type: 'mark'; readonly joint: number; readonly bolt: number }
  /** Turn the scale back to its lowest mark, for storage. */
  | { readonly type: 'back-off' }
  | { readonly type: 'note'; readonly item: number; readonly box: string }
);

export type TorqueSaidCode =
  | 'wrench-in-check'
  | 'wrench-overdue'
  | 'wrench-taken'
  | 'adapter-set'
  | 'wrench-set'
  | 'tester-reads'
  | 'hand-moved'
  | 'runs-freely'
  | 'runs-stiffly'
  | 'threads-cleaned'
  | 'click'
  | 'click-with-a-jerk'
  | 'click-pulled-past'
  | 'clicks-at-once'
  | 'turns-on-without-click'
  | 'loosened'
  | 'marked'
  | 'backed-off'
  | 'noted';

export type TorqueCannot =
  | 'unknown-action'
  | 'not-a-number'
  | 'off-the-scale'
  | 'no-wrench'
  | 'no-adapter'
  | 'no-tester'
  | 'no-such-place'
  | 'reaches-past-the-hand';

export type TorqueSaid =
  | { readonly code: TorqueSaidCode; readonly wrench?: number; readonly torque?: number }
  | { readonly code: 'cannot'; readonly why: TorqueCannot };

export interface TorqueAdapterView {
  readonly kind: 'torque-adapter';
  readonly wrench: number | null;
  readonly angleDeg: number | null;
  readonly setting: number;
  readonly grip: GripPlace;
  readonly bolts: readonly (readonly BoltView[])[];
  readonly at: BoltPlace | null;
}

export interface TorqueAdapterSeen {
  readonly said: readonly TorqueSaid[];
  readonly now: TorqueAdapterView;
}

export type TorqueVerdict = 'inside' | 'below' | 'above' | 'turns-on';

/** What was written of one joint; null where a box is blank. */
export interface WrittenJoint {
  readonly joint: number;
  /** What the wrench is set to for the full torque, and in which unit. */
  readonly setting: number | null;
  readonly unit: TorqueUnit | null;
  readonly order: readonly number[];
  /** `inside`: every bolt has its torque. `turns-on`: a bolt turned on without the torque rising. */
  readonly verdict: TorqueVerdict | null;
  /** `measure-again`: loosen and tighten again. `replace`: a new bolt. */
  readonly next: FollowUp | null;
}

export interface TorqueAdapterSheet {
  readonly joints: readonly WrittenJoint[];
}

export interface TorqueAdapterBrief
  extends Pick<
    TorqueAdapterBench,
    | 'kind'
    | 'name'
    | 'joints'
    | 'scale'
    | 'lengthUnit'
    | 'gripLength'
    | 'overallLength'
    | 'adapterLength'
    | 'tester'
  > {
  readonly wrenches: number;
  /** Every sheet says so first. */
  readonly caution: 'makers-manual-first';
}
