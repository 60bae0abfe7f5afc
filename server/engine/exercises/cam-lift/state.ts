import type { DialName } from '../../dial/dial.ts';
import { type CamLiftBench, rigAt } from './bench.ts';
import type { RigPart } from './types.ts';

/** How a practice engine stands between two actions. Hidden: only `look` and `act` say what may be seen of it. */
export interface CamLiftState {
  /** How many actions have been taken. */
  readonly actions: number;
  /** Crank angle, forward positive, not wrapped: 0 is cylinder 1's firing top dead centre. */
  readonly crankDeg: number;
  /** The cam in crank degrees (twice its own angle), behind the backlash. */
  readonly camCrankDeg: number;
  /** Share of its gas the cylinder near top dead centre still holds. */
  readonly charge: number;
  /** Is a hand on the bar? */
  readonly held: boolean;
  readonly position: number | null;
  /** Gauge and rod in hand; null where none has been taken, or none is to be chosen. */
  readonly gauge: DialName | null;
  readonly rod: number | null;
  /** The student's own strokes since the last zero. */
  readonly tally: number;
  /** Rows of the specification page that were looked up; the only row has the mark ''. */
  readonly lookedUp: readonly string[];
  /** Positions whose roller has been looked at. */
  readonly rollersSeen: readonly number[];
  readonly tappet: TappetState;
  readonly indicator: IndicatorState | null;
  readonly rig: RigState;
  /** Where the face stands: graduations the bezel has turned it, counted on over whole turns. */
  readonly faceTurn: number;
  readonly clamped: boolean;
  /** Crank angle at the last zero of this set-up. */
  readonly zeroedAtCrankDeg: number | null;
  /** Set-ups so far: an indicator set down anew is a new one. */
  readonly setUps: number;
  /** Times the tip has been lifted, over all set-ups: each draws its own little scatter. */
  readonly tipLifts: number;
  /** Times an unclamped bezel was touched or shaken. */
  readonly bezelTouches: number;
  /** Times a loose stand was shaken. */
  readonly shakes: number;
}

/** What has been set right at this pump position. */
export interface RigState {
  readonly square: boolean;
  readonly tight: readonly RigPart[];
}

export const RIG_AS_FOUND: RigState = { square: false, tight: [] };

export function isTight({ rig }: CamLiftState, part: RigPart): boolean {
  return rig.tight.includes(part);
}

/** The part that is loose and has not been tightened; null when all is firm. */
export function looseNow(bench: CamLiftBench, state: CamLiftState): RigPart | null {
  if (state.position === null) return null;
  const { loosePart } = rigAt(bench, state.position, state.rod);
  return loosePart === null || isTight(state, loosePart) ? null : loosePart;
}

export interface TappetState {
  readonly in: boolean;
  readonly slotOnPin: boolean;
  /** Where it hangs now; 0 when it is home. */
  readonly hungMm: number;
  readonly heightMm: number;
}

export interface IndicatorState {
  /** Plunger position with the tappet at height 0, millimetres; negative when the tip would not reach. */
  readonly standMm: number;
  /** How much more or less than the tappet this set-up shows over the whole lift: 1 plus the set-up's scatter. */
  readonly scale: number;
  /** Which pass over the lobe the cam is in, and what that pass adds to the scale. */
  readonly pass: number;
  readonly passScale: number;
  /** Where the works of the gauge stand: its plunger, behind the hysteresis. */
  readonly worksMm: number;
  /** What a leaning indicator shows of a travel: 1 when it is square, more when it leans, less with its tip caught. */
  readonly factor: number;
  /** Where a loose rod has rocked to. */
  readonly rodMm: number;
}

export const TAPPET_OUT: TappetState = { in: false, slotOnPin: false, hungMm: 0, heightMm: 0 };

/** The engine as the student finds it: unit pumps off, nothing set up, the crank wherever it was left. */
export function startCamLift(bench: CamLiftBench): CamLiftState {
  return {
    actions: 0,
    crankDeg: bench.startCrankDeg,
    camCrankDeg: bench.startCrankDeg,
    charge: 1,
    held: false,
    position: null,
    gauge: null,
    rod: null,
    tally: 0,
    lookedUp: [],
    rollersSeen: [],
    tappet: TAPPET_OUT,
    indicator: null,
    rig: RIG_AS_FOUND,
    faceTurn: bench.startFaceTurn,
    clamped: false,
    zeroedAtCrankDeg: null,
    setUps: 0,
    tipLifts: 0,
    bezelTouches: 0,
    shakes: 0,
  };
}

/** The indicator off the rod: its zero is gone with it. */
export function withoutIndicator(state: CamLiftState): CamLiftState {
  return { ...state, indicator: null, clamped: false, zeroedAtCrankDeg: null };
}

/** The state a step of the crank further. Written out, since this happens at every degree and a spread costs twenty times as much. */
export function turnedState(
  before: CamLiftState,
  crankDeg: number,
  camCrankDeg: number,
  charge: number,
  tappet: TappetState,
  indicator: IndicatorState | null,
): CamLiftState {
  return {
    actions: before.actions,
    crankDeg,
    camCrankDeg,
    charge,
    held: before.held,
    position: before.position,
    gauge: before.gauge,
    rod: before.rod,
    tally: before.tally,
    lookedUp: before.lookedUp,
    rollersSeen: before.rollersSeen,
    tappet,
    indicator,
    rig: before.rig,
    faceTurn: before.faceTurn,
    clamped: before.clamped,
    zeroedAtCrankDeg: before.zeroedAtCrankDeg,
    setUps: before.setUps,
    tipLifts: before.tipLifts,
    bezelTouches: before.bezelTouches,
    shakes: before.shakes,
  };
}
