import type { Dial } from '../../server/engine/index.ts';
import { num } from '../drawing/svg.ts';
import type { Moves } from './types.ts';

const MM_PER_IN = 25.4;
/** Most units a millimetre of plunger is drawn as: a throw has to stay shorter than the plunger. */
const MOST_PER_MM = 5;
/** What is left of the plunger, in units, when it is all the way in: its contact point. */
const LEFT_OUT = 11;

/** A gauge's stem on its stand, drawn with its contact point at the origin and its barrel above. */
export interface Stem {
  /** Units from the contact point to the barrel with the plunger out. */
  readonly free: number;
  /** Units of barrel drawn. */
  readonly barrel: number;
  /** What holds the barrel, about the end of the barrel; moves with it. */
  readonly arm?: string;
}

/** Barrel (`data-part="gauge"`), plunger and contact point (`data-part="tip"`). The dial itself is drawn elsewhere. */
export function stemSvg(stem: Stem, dial: Dial, plungerMm: number): string {
  const moves = stemMoves(stem, dial, plungerMm, plungerMm);
  const at = (part: string) => moves[part]?.transform ?? '';
  return (
    `<g data-part="tip" transform="${at('tip')}"><path class="part" d="M-2.5 -8V-${num(stem.free + 4)}H2.5V-8Z"/>` +
    '<path class="part" d="M-4.5 -11H4.5L2.2 -4.4A2.6 2.6 0 1 1 -2.2 -4.4Z"/></g>' +
    `<g data-part="gauge" transform="${at('gauge')}"><path class="part" d="M-6 -${num(stem.free)}H6L8 -${num(stem.free + 4)}V-${num(stem.free + stem.barrel)}H-8V-${num(stem.free + 4)}Z"/>` +
    `${stem.arm === undefined ? '' : `<g transform="translate(0 -${num(stem.free)})">${stem.arm}</g>`}</g>`
  );
}

/** A barrel that is held fast, broken off above; its plunger comes out at `bottom`. */
export function heldBarrel(x: number, top: number, bottom: number): string {
  const [left, right] = [num(x - 6), num(x + 6)];
  return (
    `<path class="part" d="M${left} ${num(top)}Q${num(x - 3)} ${num(top + 5)} ${num(x)} ${num(top)}T${right} ${num(top)}` +
    `V${num(bottom)}H${left}Z"/>`
  );
}

/**
 * Where barrel and plunger stand while an action is played. `restMm` is where the plunger comes to rest: less than that, the gauge is
 * being set down on the work; more, a finger raises the tip off it.
 */
export function stemMoves(stem: Stem, dial: Dial, restMm: number, plungerMm: number): Moves {
  const perMm = unitsPerMm(stem, dial);
  return {
    gauge: { transform: `translate(0 ${num(perMm * Math.min(restMm, plungerMm))})` },
    tip: { transform: `translate(0 ${num(-perMm * Math.max(0, plungerMm - restMm))})` },
  };
}

function unitsPerMm({ free }: Stem, dial: Dial): number {
  const travelMm = dial.unit === 'in' ? dial.travel * MM_PER_IN : dial.travel;
  return Math.min(MOST_PER_MM, (free - LEFT_OUT) / travelMm);
}
