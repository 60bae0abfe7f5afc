import { type JudgedVerdict, judgeSimply } from '../decision/judge-simply.ts';
import { DIALS, type Dial, type DialName } from '../dial/dial.ts';
import type { Chance } from '../random.ts';
import { chanceFor } from '../random.ts';
import { convertLength, toMm } from '../units.ts';
import type { GaugedBench, GaugedDefinition, GivenLimits, SetLimits } from './types.ts';

/** Graduations that a generated answer keeps from every limit. design: "two graduations"; common practice, no source. */
export const MARGIN_GRADUATIONS = 2;

/**
 * The part of a bench that every job with an indicator shares.
 * @throws RangeError for a dial that does not exist, or a level that is not 1, 2 or 3.
 */
export function drawGauge(
  definition: GaugedDefinition,
  seed: string,
  usual: { readonly dial: DialName; readonly name: string },
): GaugedBench {
  const level = definition.level ?? 2;
  if (![1, 2, 3].includes(level)) throw new RangeError('The level must be 1, 2 or 3.');
  const dialName = definition.dial ?? usual.dial;
  const printed: Dial | undefined = DIALS[dialName];
  if (printed === undefined) throw new RangeError(`No dial is called "${dialName}".`);
  const hidden = chanceFor(seed, 'gauge');
  const backwards = hidden.chance(0.5);
  const gritty = hidden.chance(0.5);
  const balanced = hidden.chance(0.5);
  return {
    version: 1,
    seed,
    name: definition.name ?? usual.name,
    dialName,
    dial: {
      ...printed,
      face: definition.face ?? (level === 3 && balanced ? 'balanced' : printed.face),
      counter: level === 3 && backwards ? 'backwards' : printed.counter,
    },
    startFaceTurn: Math.round(chanceFor(seed, 'bezel').uniform(0, 100)),
    gritty: level === 3 && gritty,
  };
}

/** Limits with the sides left out told as open. @throws RangeError when both are open, or they are the wrong way round. */
export function setLimits({ unit, lower = null, upper = null }: GivenLimits): SetLimits {
  if (lower === null && upper === null)
    throw new RangeError('The limits are open on both sides: nothing to judge against.');
  judgeSimply(0, { lower, upper });
  return { unit, lower, upper };
}

/** The verdict a length in the dial's unit calls for against limits in their own unit: simple acceptance. */
export function verdictIn(limits: SetLimits, length: number, dial: Pick<Dial, 'unit'>): JudgedVerdict {
  return judgeSimply(convertLength(length, dial.unit, limits.unit), limits);
}

/** A stretch of lengths, in graduations. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

/**
 * Where an answer may lie to call for a verdict, in graduations of the dial, two graduations or more from every limit.
 * Below: from 0. Above: up to `most`. Null where there is no room.
 */
export function stretchFor(
  verdict: JudgedVerdict,
  limits: SetLimits,
  dial: Dial,
  most: number,
  least = 0,
): Stretch | null {
  const graduations = (limit: number | null) =>
    limit === null ? null : toMm(limit, limits.unit) / toMm(dial.graduation, dial.unit);
  const lower = graduations(limits.lower);
  const upper = graduations(limits.upper);
  const stretch = {
    inside: {
      from: Math.max(least, (lower ?? Number.NEGATIVE_INFINITY) + MARGIN_GRADUATIONS),
      to: (upper ?? most) - MARGIN_GRADUATIONS,
    },
    below: { from: least, to: (lower ?? Number.NEGATIVE_INFINITY) - MARGIN_GRADUATIONS },
    above: { from: (upper ?? Number.POSITIVE_INFINITY) + MARGIN_GRADUATIONS, to: most },
  }[verdict];
  // Binary rounding may leave a stretch of one point a hair the wrong way round.
  if (stretch.from > stretch.to + 1e-6) return null;
  return { from: Math.min(stretch.from, stretch.to), to: stretch.to };
}

/**
 * Draws the verdict an answer calls for and where it may lie. Level 1 is always inside; else 45 % are.
 * @throws RangeError when the dial is too coarse for the limits.
 */
export function drawStretch(
  limits: SetLimits,
  dial: Dial,
  level: number,
  chance: Chance,
  most: number,
  least = 0,
): { readonly verdict: JudgedVerdict; readonly stretch: Stretch } {
  const share = chance.uniform(0, 1);
  const inside = stretchFor('inside', limits, dial, most, least);
  if (inside === null)
    throw new RangeError(
      `A graduation of ${dial.graduation} ${dial.unit} is too coarse for these limits. Choose a finer gauge.`,
    );
  if (level === 1 || share < 0.45) return { verdict: 'inside', stretch: inside };
  const wanted = share < 0.65 ? (['below', 'above'] as const) : (['above', 'below'] as const);
  for (const verdict of wanted) {
    const stretch = stretchFor(verdict, limits, dial, most, least);
    if (stretch !== null) return { verdict, stretch };
  }
  return { verdict: 'inside', stretch: inside };
}
