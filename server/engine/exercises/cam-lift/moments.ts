import { toMm } from '../../units.ts';
import type { CamLiftBench } from './bench.ts';
import { type Moment, momentOf } from './perceive.ts';
import type { CamLiftState } from './state.ts';
import type { CannotWhy, Perception } from './types.ts';

/** What one action did: the next state, what is perceived, and every moment on the way, hidden things included. */
export interface Step {
  readonly state: CamLiftState;
  readonly said: readonly Perception[];
  readonly moments: readonly Moment[];
}

export function still(bench: CamLiftBench, state: CamLiftState, ...said: Perception[]): Step {
  return { state, said, moments: [momentOf(bench, state)] };
}

export function cannot(bench: CamLiftBench, state: CamLiftState, why: CannotWhy): Step {
  return still(bench, state, { code: 'cannot', why });
}

/** From one place of the pointer to another at one crank angle, with enough moments between to count turns by. */
export function slide(
  bench: CamLiftBench,
  from: CamLiftState,
  to: CamLiftState,
  ...said: Perception[]
): Step {
  const start = momentOf(bench, from);
  const end = momentOf(bench, to);
  const { dial } = bench;
  return { state: to, said, moments: [...between(start, end, toMm(dial.rangePerTurn, dial.unit)), end] };
}

const NONE: readonly Moment[] = [];

/** Moments that fill a jump, at most a fifth of a turn apart. */
export function between(start: Moment, end: Moment, turnMm: number): readonly Moment[] {
  const parts = Math.ceil(Math.abs(end.plungerMm - start.plungerMm) / (turnMm / 5));
  if (parts <= 1) return NONE;
  const mix = (a: number, b: number, share: number) => a + (b - a) * share;
  return Array.from({ length: parts - 1 }, (_, index) => {
    const share = (index + 1) / parts;
    return {
      ...end,
      tappetMm: mix(start.tappetMm, end.tappetMm, share),
      plungerMm: mix(start.plungerMm, end.plungerMm, share),
      graduations: mix(start.graduations, end.graduations, share),
      counterTurns: mix(start.counterTurns, end.counterTurns, share),
    };
  });
}
