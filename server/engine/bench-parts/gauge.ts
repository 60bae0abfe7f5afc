import { clamp, positiveRemainder } from '../angles.ts';
import { graduationsPerTurn } from '../dial/dial.ts';
import { readGraduations } from '../dial/read-dial.ts';
import { toMm } from '../units.ts';
import type { GaugedBench, GaugeMoment, GaugeSample, GaugeState, GaugeView, Work } from './types.ts';

/** With the plunger out the pointer stands near nine o'clock (American Gage Design, P: longislandindicator.com summary). */
export const POINTER_AT_REST_TURNS = -0.25;

/** The gauge as the student finds it: off the work, its bezel where the last one left it. */
export function startGauge(bench: GaugedBench): GaugeState {
  return {
    actions: 0,
    stand: null,
    faceTurn: bench.startFaceTurn,
    clamped: false,
    zeroed: false,
    wiped: false,
    setUps: 0,
    tipLifts: 0,
    touches: 0,
  };
}

/** Millimetres of plunger in one graduation of this bench's dial. */
export function graduationMm({ dial }: GaugedBench): number {
  return toMm(dial.graduation, dial.unit);
}

/** Turns of the pointer in a length in millimetres. */
export function turnsIn(bench: GaugedBench, lengthMm: number): number {
  return lengthMm / graduationMm(bench) / graduationsPerTurn(bench.dial);
}

/** Where the plunger would be pushed to if it had no ends, millimetres; 0 with the indicator off the work. */
export function freePlungerMm<B extends GaugedBench, S extends GaugeState, A>(
  work: Work<B, S, A>,
  bench: B,
  state: S,
): number {
  if (state.stand === null) return 0;
  return state.stand.standMm + work.heightMm(bench, state) * state.stand.scale;
}

/** The gauge at a state of the bench, hidden things included. */
export function momentOf<B extends GaugedBench, S extends GaugeState, A>(
  work: Work<B, S, A>,
  bench: B,
  state: S,
): GaugeMoment {
  const plungerMm = clamp(freePlungerMm(work, bench, state), 0, toMm(bench.dial.travel, bench.dial.unit));
  const shownMm = state.stand === null ? plungerMm : work.shownMm?.(bench, state, plungerMm);
  return momentAt(bench, state, plungerMm, work.turnedDeg(state) ?? 0, shownMm);
}

/** The same with the plunger held at a place by hand, the works showing it or what is given. */
export function momentAt(
  bench: GaugedBench,
  state: GaugeState,
  plungerMm: number,
  turnedDeg: number,
  shownMm = plungerMm,
): GaugeMoment {
  const { dial } = bench;
  const counterTurns = shownMm / toMm(dial.rangePerTurn, dial.unit) + POINTER_AT_REST_TURNS;
  const graduations = counterTurns * graduationsPerTurn(dial) - state.faceTurn;
  return { at: state.actions - 1, plungerMm, graduations, counterTurns, turnedDeg };
}

/** Moments from one to the next, at most a fifth of a turn of the pointer apart, the last included. */
export function slide(bench: GaugedBench, from: GaugeMoment, to: GaugeMoment): GaugeMoment[] {
  const fifthMm = toMm(bench.dial.rangePerTurn, bench.dial.unit) / 5;
  const parts = Math.max(1, Math.ceil(Math.abs(to.plungerMm - from.plungerMm) / fifthMm));
  const mix = (a: number, b: number, share: number) => a + (b - a) * share;
  return Array.from({ length: parts }, (_, index) => {
    const share = (index + 1) / parts;
    if (share === 1) return to;
    return {
      at: to.at,
      plungerMm: mix(from.plungerMm, to.plungerMm, share),
      graduations: mix(from.graduations, to.graduations, share),
      counterTurns: mix(from.counterTurns, to.counterTurns, share),
      turnedDeg: mix(from.turnedDeg, to.turnedDeg, share),
    };
  });
}

/** What the eye gets of a moment: the pointer to a hundredth of a graduation, the rest more coarsely. */
export function sampleOf(bench: GaugedBench, moment: GaugeMoment, turns: boolean): GaugeSample {
  const { dial } = bench;
  const perTurn = graduationsPerTurn(dial);
  const { pointer } = readGraduations(dial, moment.graduations, 0);
  const small = dial.counter === 'backwards' ? -moment.counterTurns : moment.counterTurns;
  return {
    pointer: rounded(pointer, 2) % perTurn,
    counter: dial.counter === 'none' ? null : rounded(positiveRemainder(small, 10), 3) % 10,
    plungerMm: Math.round(moment.plungerMm * 5) / 5,
    workDeg: turns ? rounded(positiveRemainder(moment.turnedDeg, 360), 1) % 360 : null,
  };
}

/** What is seen of the gauge without doing anything. */
export function lookAtGauge<B extends GaugedBench, S extends GaugeState, A>(
  work: Work<B, S, A>,
  bench: B,
  state: S,
): GaugeView {
  const perTurn = graduationsPerTurn(bench.dial);
  return {
    indicator: state.stand === null ? 'off' : 'on',
    faceTurn: rounded(positiveRemainder(state.faceTurn, perTurn), 2) % perTurn,
    zeroed: state.zeroed,
    clamped: state.clamped,
    sample: sampleOf(bench, momentOf(work, bench, state), work.turnedDeg(state) !== null),
  };
}

/** To a number of decimals. */
export function rounded(value: number, places: number): number {
  const scale = 10 ** places;
  return Math.round(value * scale) / scale;
}
