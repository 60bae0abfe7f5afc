import type {
  GaugeAction,
  GaugedBench,
  GaugedDefinition,
  GaugeState,
  GaugeView,
  SetLimits,
} from '../../bench-parts/types.ts';
import type { JudgedVerdict } from '../../decision/judge-simply.ts';
import type { Dial, DialName } from '../../dial/dial.ts';
import type { Lobe } from '../../lobe/lift-curve.ts';
import type { LengthUnit } from '../../units.ts';
import type { FollowUp } from '../cam-lift/types.ts';

/**
 * What a sheet says about a valve-lift exercise: an engine with pushrods and rockers; for each chosen valve lobe lift, valve lift, lash and
 * rocker ratio. Default limits: intake 0.447 to 0.481 in, exhaust 0.436 to 0.470 in (TM 5-3805-280-24-2: wear limit, and the most when new;
 * that manual takes the lash out first, here it is in the lift). Ratio and lash: common practice, no source. Examples, never a
 * specification for anyone's engine.
 *
 * Level 1: every valve is inside and tappets are solid. Level 2: a lobe may be worn, a rocker of another ratio, the lash too large, one of
 * them at a valve. Level 3: besides, there may be grit under the base, a balanced face, a small hand that runs backwards, and hydraulic
 * tappets, some of them bled down. At every level the indicator leans until it is lined up. With 0.100 in a turn the lobe takes three turns of
 * the pointer and the valve four to five, with 1 mm eight and eleven to twelve; the valve's run backwards.
 */
export interface ValveDefinition extends GaugedDefinition {
  readonly kind: 'valve-lift';
  readonly cylinders?: 4 | 6;
  /** Must hold each cylinder once. Default 1-3-4-2 or 1-5-3-6-2-4. */
  readonly firingOrder?: readonly number[];
  /** Cylinders of which both valves are measured (how many, drawn from the seed), or which valves. Default 1. */
  readonly valves?: number | readonly ValveName[];
  /** Default solid, at level 3 drawn. */
  readonly tappets?: TappetKind;
  readonly specification?: ValveSpecification;
}

export type Valve = 'intake' | 'exhaust';
export const VALVES = ['intake', 'exhaust'] as const;
export type TappetKind = 'solid' | 'hydraulic';

export interface ValveName {
  readonly cylinder: number;
  readonly valve: Valve;
}

/** Lengths in `unit`. Hydraulic tappets have no lash, whatever is said here. */
export interface ValveSpecification {
  readonly unit: LengthUnit;
  readonly ratio: number;
  readonly intake: ValveLimits;
  readonly exhaust: ValveLimits;
}

export interface ValveLimits {
  /** Least and largest valve lift. */
  readonly lower: number;
  readonly upper: number;
  /** Lash as it should be set. */
  readonly lash: number;
}

export type ValveFault = 'none' | 'worn-lobe' | 'wrong-rocker' | 'large-lash';

export interface ValveTruth extends ValveName {
  readonly lobe: Lobe;
  readonly ratio: number;
  /** Lash between rocker and valve. */
  readonly lashMm: number;
  /** How much more play a tappet that has bled down leaves at the valve; 0 for one that has not. */
  readonly bledMm: number;
  readonly fault: ValveFault;
  readonly truly: JudgedVerdict;
}

export interface ValveBench extends GaugedBench {
  readonly kind: 'valve-lift';
  readonly firingOrder: readonly number[];
  readonly tappets: TappetKind;
  readonly specification: ValveSpecification;
  /** Crank at the start, degrees from cylinder 1's firing top dead centre. */
  readonly startDeg: number;
  /** In the order of the sheet. Hidden but for their names. */
  readonly valves: readonly ValveTruth[];
}

/** Where the tip stands: on the pushrod, on the valve's spring retainer, or on the rocker over the valve. */
export type ValvePlace = 'pushrod' | 'retainer' | 'rocker';
export const PLACES = ['pushrod', 'retainer', 'rocker'] as const;

export interface ValveSpot extends ValveName {
  readonly at: ValvePlace;
}

export interface ValveState extends GaugeState {
  /** Barred so far, degrees from cylinder 1's firing top dead centre, forward positive, not wrapped. */
  readonly crankDeg: number;
  readonly spot: ValveSpot | null;
  /** How far the tappet of the valve under the tip is up, millimetres; follows the crank. */
  readonly upMm: number;
  /** How far the rocker's nose has come down, from where it touches the pushrod on base circle, millimetres. */
  readonly noseMm: number;
  readonly pumped: boolean;
}

export type ValveOwnAction = {
  readonly version?: 1;
} & (
  | {
      readonly type: 'move';
      readonly cylinder: number;
      readonly valve: Valve;
      readonly at: ValvePlace;
    }
  /** Bar the crank, forward positive. */
  | { readonly type: 'bar'; readonly degrees: number }
  /** Rock the rocker by hand: up against the pushrod, or down onto the valve. */
  | { readonly type: 'rock-rocker'; readonly way: 'up' | 'down' }
  /** Pump up the tappet of this valve with oil, or put a solid one in its place. */
  | { readonly type: 'pump-up' }
);

export type ValveAction = ValveOwnAction | GaugeAction;

export interface ValveView extends GaugeView {
  readonly kind: 'valve-lift';
  readonly spot: ValveSpot | null;
  /** Crank from cylinder 1's firing top dead centre, 0 to 720: the mark, and which rockers are loose, show it. */
  readonly crankDeg: number;
}

/** What is written for a valve, lengths in the dial's unit; null where the box is blank. A lift's sign does not count. */
export interface WrittenValve extends ValveName {
  readonly lobeLift: number | null;
  readonly valveLift: number | null;
  readonly lash: number | null;
  /** (Valve lift + lash) / lobe lift. */
  readonly ratio: number | null;
  readonly verdict: JudgedVerdict | null;
  readonly next: FollowUp | null;
}

export interface ValveSheet {
  readonly valves: readonly WrittenValve[];
}

export interface ValveBrief {
  readonly kind: 'valve-lift';
  readonly name: string;
  readonly dialName: DialName;
  readonly dial: Dial;
  readonly firingOrder: readonly number[];
  readonly tappets: TappetKind;
  readonly valves: readonly ValveName[];
  readonly specification: ValveSpecification;
}

/** Limits of a valve's lift as limits are judged by. */
export function limitsOf({ specification }: ValveBench, valve: Valve): SetLimits {
  const { lower, upper } = specification[valve];
  return { unit: specification.unit, lower, upper };
}
