import { positiveRemainder } from '../../angles.ts';
import { graduationsPerTurn } from '../../dial/dial.ts';
import { shownMm } from '../../dial/gauge-error.ts';
import { readGraduations } from '../../dial/read-dial.ts';
import { effortToBar, gasPush } from '../../drive/effort.ts';
import { displacementOf } from '../../lobe/lift-curve.ts';
import { toMm } from '../../units.ts';
import { type CamLiftBench, lobeAt, rollerAt, withGauge } from './bench.ts';
import { passesOver, plungerMm } from './indicator.ts';
import { flatMm, rollerLooks } from './roller.ts';
import type { CamLiftState } from './state.ts';
import type { CamLiftView, RollerLook, Sample } from './types.ts';

/** With the plunger out the pointer stands near nine o'clock (American Gage Design, P: longislandindicator.com summary). */
const POINTER_AT_REST_TURNS = -0.25;

/** Everything about one moment, hidden and seen: what the replay and the grade are made of. */
export interface Moment {
  /** Index in the log of the action it belongs to. */
  readonly at: number;
  readonly crankDeg: number;
  readonly camCrankDeg: number;
  /** Surface of the cam under the tappet, millimetres over the base circle. */
  readonly camMm: number;
  readonly tappetMm: number;
  readonly plungerMm: number;
  /** Pointer counted on over whole turns from the face's own zero, in graduations: the reading once the bezel has been zeroed. */
  readonly graduations: number;
  /** Small hand, in turns. */
  readonly counterTurns: number;
  readonly effort: number;
}

/** Surface of the cam under the tappet of the chosen position; 0 with no position chosen. */
export function camSurfaceMm(bench: CamLiftBench, position: number | null, camCrankDeg: number): number {
  return surfaceOf(bench, position)(camCrankDeg);
}

/** The same, for many places of one cam. */
export function surfaceOf(bench: CamLiftBench, position: number | null): (camCrankDeg: number) => number {
  if (position === null) return () => 0;
  const { lobe } = lobeAt(bench, position);
  const { noseCrankDeg } = lobe;
  const heightMm = displacementOf(lobe);
  const flatDeepMm = rollerAt(bench, position).flatMm;
  const passOf = passesOver(bench, position);
  return (camCrankDeg) => {
    const pass = passOf(camCrankDeg);
    const fromNoseCamDeg = (camCrankDeg - noseCrankDeg) / 2 - 360 * pass;
    if (flatDeepMm === 0) return heightMm(fromNoseCamDeg);
    return heightMm(fromNoseCamDeg) - flatMm(bench.seed, lobe, flatDeepMm, pass, fromNoseCamDeg);
  };
}

export function momentOf(bench: CamLiftBench, state: CamLiftState, direction: 1 | -1 | 0 = 0): Moment {
  return momentAt(
    bench,
    state,
    camSurfaceMm(bench, state.position, state.camCrankDeg),
    effortOf(bench, state, direction),
  );
}

/** The same where cam surface and effort are known. */
export function momentAt(bench: CamLiftBench, state: CamLiftState, camMm: number, effort: number): Moment {
  const { dial } = bench;
  const plunger = plungerMm(bench, state);
  const shown = state.indicator === null ? 0 : shownMm(bench.gauge, dial, state.indicator.worksMm);
  const counterTurns = shown / toMm(dial.rangePerTurn, dial.unit) + POINTER_AT_REST_TURNS;
  return {
    at: state.actions - 1,
    crankDeg: state.crankDeg,
    camCrankDeg: state.camCrankDeg,
    camMm,
    tappetMm: state.tappet.heightMm,
    plungerMm: plunger,
    // Against the case from twelve o'clock, less what the bezel has turned the face.
    graduations: counterTurns * graduationsPerTurn(dial) - state.faceTurn,
    counterTurns,
    effort,
  };
}

/** Barring takes effort one way; standing, a hand that holds the bar feels the gas; let go, it feels nothing. */
export function effortOf(
  { compression }: CamLiftBench,
  { held, crankDeg, charge }: CamLiftState,
  direction: 1 | -1 | 0,
): number {
  if (!held) return 0;
  return direction === 0
    ? Math.abs(gasPush(compression, crankDeg, charge))
    : effortToBar(compression, crankDeg, charge, direction);
}

/** What the eye gets of a moment: the pointer to a hundredth of a graduation, the rest more coarsely. */
export function sampleOf(bench: CamLiftBench, moment: Moment): Sample {
  const perTurn = graduationsPerTurn(bench.dial);
  const { pointer } = readGraduations(bench.dial, moment.graduations, 0);
  const turnedCounter = bench.dial.counter === 'backwards' ? -moment.counterTurns : moment.counterTurns;
  return {
    crankDeg: round(positiveRemainder(moment.crankDeg, 360), 1) % 360,
    pointer: round(pointer, 2) % perTurn,
    counter: bench.dial.counter === 'none' ? null : round(positiveRemainder(turnedCounter, 10), 3) % 10,
    plungerMm: Math.round(moment.plungerMm * 5) / 5,
    effort: round(moment.effort, 2),
  };
}

function round(value: number, places: number): number {
  const scale = 10 ** places;
  return Math.round(value * scale) / scale;
}

/** A roller once looked at is remembered while its position is at hand, also when its tappet has gone in. */
function rollerSeen(bench: CamLiftBench, { position, rollersSeen }: CamLiftState): RollerLook[] | null {
  return position !== null && rollersSeen.includes(position) ? rollerLooks(rollerAt(bench, position)) : null;
}

/** What a person standing there sees without doing anything. */
export function lookAtCamLift(found: CamLiftBench, state: CamLiftState): CamLiftView {
  const bench = withGauge(found, state.gauge);
  const perTurn = graduationsPerTurn(bench.dial);
  return {
    kind: 'cam-lift',
    gauge: state.gauge,
    rod: state.rod,
    tally: state.tally,
    position: state.position,
    roller: rollerSeen(bench, state),
    tappet: state.tappet.in ? 'in' : 'out',
    indicator: state.indicator === null ? 'off' : 'on',
    faceTurn: round(positiveRemainder(state.faceTurn, perTurn), 2) % perTurn,
    zeroed: state.zeroedAtCrankDeg !== null,
    clamped: state.clamped,
    barredDeg: state.zeroedAtCrankDeg === null ? null : round(state.crankDeg - state.zeroedAtCrankDeg, 1),
    sample: sampleOf(bench, momentOf(bench, state)),
  };
}
