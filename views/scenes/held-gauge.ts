import type { Dial } from '../../server/engine/index.ts';
import { num } from '../drawing/svg.ts';
import type { Moves, SceneMoment } from './types.ts';

const MM_PER_IN = 25.4;
/** What is left of the plunger, in units, when it is all the way in: its contact point. */
const LEFT_OUT = 11;
/** Most units a millimetre is drawn as. */
const MOST_PER_MM = 3;
/** Two moments of one degree: nothing has been turned between them. */
const SAME_DEG = 0.05;

/** A gauge whose barrel is held fast while the work moves under its tip. */
export interface HeldGauge {
  readonly x: number;
  /** Where the tip stands at rest. */
  readonly y: number;
  /** Units from the tip to the barrel with the plunger out. */
  readonly free: number;
  /** Units of barrel drawn. */
  readonly barrel: number;
  /** Which way the arm that holds it goes off the drawing. */
  readonly arm: 'left' | 'right';
}

/** How far, in units upwards, each part stands from where it is at rest. */
export interface Off {
  readonly work: number;
  readonly tip: number;
  readonly barrel: number;
}

export function unitsPerMm(free: number, dial: Dial): number {
  const travelMm = dial.unit === 'in' ? dial.travel * MM_PER_IN : dial.travel;
  return Math.min(MOST_PER_MM, (free - LEFT_OUT) / travelMm);
}

/**
 * What a moment moves. While something is turned the work goes with the tip. Else the work stands: a plunger further in than at rest was
 * raised by a finger, one less far in is on a gauge that is still being set down.
 */
export function offRest(perMm: number, rest: Omit<SceneMoment, 'effort'>, moment: SceneMoment): Off {
  const up = perMm * (moment.plungerMm - rest.plungerMm);
  if (Math.abs((moment.deg ?? 0) - (rest.deg ?? 0)) > SAME_DEG) return { work: up, tip: up, barrel: 0 };
  return up > 0 ? { work: 0, tip: up, barrel: 0 } : { work: 0, tip: 0, barrel: -up };
}

/** Plunger and contact point (`data-part="tip"`), and over it the barrel with its arm (`data-part="gauge"`). */
export function heldSvg(gauge: HeldGauge, dial: Dial, plungerMm: number): string {
  const moves = heldMoves(gauge, dial, plungerMm, { work: 0, tip: 0, barrel: 0 });
  const { barrel, free, arm } = gauge;
  const way = arm === 'left' ? -1 : 1;
  const foot = `M-6 0V-${barrel}Q-3 -${barrel - 5} 0 -${barrel}T6 -${barrel}V0Z`;
  return (
    `<g data-part="tip" transform="${moves.tip?.transform}"><path class="part" d="M-2.5 -8V-${num(free + 14)}H2.5V-8Z"/>` +
    '<path class="part" d="M-4.5 -11H4.5L2.2 -4.4A2.6 2.6 0 1 1 -2.2 -4.4Z"/></g>' +
    `<g data-part="gauge" transform="${moves.gauge?.transform}"><path class="part" d="M${way * 2} -16H${way * 320}V-28H${way * 2}Z"/>` +
    `<path class="part" d="${foot}"/><path class="part" d="M-10 -13H10V-31H-10Z"/></g>`
  );
}

export function heldMoves({ x, y, free }: HeldGauge, dial: Dial, restMm: number, off: Off): Moves {
  const bottom = y - free + unitsPerMm(free, dial) * restMm;
  return {
    tip: { transform: `translate(${num(x)} ${num(y - off.tip)})` },
    gauge: { transform: `translate(${num(x)} ${num(bottom - off.barrel)})` },
  };
}
