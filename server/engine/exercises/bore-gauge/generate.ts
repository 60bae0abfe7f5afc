import { drawGauge, MARGIN_GRADUATIONS } from '../../bench-parts/limits.ts';
import { type Chance, chanceFor } from '../../random.ts';
import { fromMm, toMm } from '../../units.ts';
import type { BoreBench, BoreDefinition, BoreLimits, BoreSpecification, BoreVerdict } from './types.ts';

/** Sizes invented; out-of-round and taper: TM 9-2815-205-24, used. */
const USUAL: BoreLimits = { unit: 'in', nominal: 4.125, upper: 4.133, outOfRound: 0.003, taper: 0.002 };
/** How far beyond a limit a bad one may be, in graduations. */
const BEYOND = 4;
/** Where there is no such limit. */
const FREE = 6;

interface Span {
  readonly from: number;
  readonly to: number;
}
type Spans = Readonly<Record<'size' | 'outOfRound' | 'taper', Span>>;

/**
 * Draws a cylinder. Largest diameter, out-of-round and taper each keep two graduations from their limit, and at most one of them is
 * beyond it. The most wear is at the top, across the crank.
 * @throws RangeError for an unknown dial, limits that cannot be, or a dial too coarse or too short for them.
 */
export function generateBore(definition: BoreDefinition, seed: string | number): BoreBench {
  const text = String(seed);
  const gauge = drawGauge(definition, text, {
    dial: 'inch-0.0005-0.5',
    name: 'Practice engine, cylinder',
  });
  const limits = checked(definition.specification ?? USUAL);
  const level = definition.level ?? 2;
  const graduationMm = toMm(gauge.dial.graduation, gauge.dial.unit);
  const nominalMm = toMm(limits.nominal, limits.unit);
  const graduations = (length: number) => toMm(length, limits.unit) / graduationMm;
  const { truly, wear } = drawWear(limits, graduations, level, chanceFor(text, 'wear'));
  const ring = drawRing(nominalMm, gauge.dial, graduationMm, chanceFor(text, 'ring'));
  const place = chanceFor(text, 'ring-travel');
  const fromMm = Math.round(place.uniform(12, 26));
  const warm = chanceFor(text, 'warm');
  const isWarm = warm.chance(0.5);
  const sizes = (along: number, across: number) => ({
    along: nominalMm + along * graduationMm,
    across: nominalMm + across * graduationMm,
  });
  return {
    ...gauge,
    kind: 'bore-gauge',
    limits,
    nominalMm,
    ring,
    ringMm: toMm(ring, gauge.dial.unit),
    travel: { fromMm, toMm: fromMm + Math.round(place.uniform(100, 130)) },
    diametersMm: {
      top: sizes(...wear.top),
      middle: sizes(...wear.middle),
      bottom: sizes(...wear.bottom),
    },
    warmerK: level === 3 && isWarm ? warm.uniform(25, 40) : 0,
    truly,
  };
}

function checked(given: BoreSpecification): BoreLimits {
  const { unit, nominal, upper, outOfRound = null, taper = null } = given;
  if (!(nominal > 0) || !(upper > nominal) || !Number.isFinite(upper))
    throw new RangeError('The largest diameter allowed must be more than the nominal one.');
  for (const limit of [outOfRound, taper])
    if (limit !== null && !(limit > 0))
      throw new RangeError('A difference allowed must be more than nothing.');
  return { unit, nominal, upper, outOfRound, taper };
}

/** The shop's nearest ring, 14 to 24 graduations from the nominal size; its mark is good to a tenth of a graduation. */
function drawRing(nominalMm: number, dial: BoreBench['dial'], graduationMm: number, chance: Chance): number {
  const way = chance.chance(0.7) ? -1 : 1;
  const sizeMm = nominalMm + way * chance.uniform(14, 24) * graduationMm;
  const tenth = dial.graduation / 10;
  return Number((Math.round(fromMm(sizeMm, dial.unit) / tenth) * tenth).toFixed(6));
}

type Pair = readonly [along: number, across: number];

/** Graduations worn off at each level: b + taper and ovality, so that the largest of each is what was drawn. */
function drawWear(
  limits: BoreLimits,
  graduations: (length: number) => number,
  level: number,
  chance: Chance,
): { truly: BoreVerdict; wear: Readonly<Record<'top' | 'middle' | 'bottom', Pair>> } {
  const inside = spansFor('inside', limits, graduations);
  if (inside === null) throw new RangeError('The gauge is too coarse for these limits. Choose a finer one.');
  const canBe = (['above', 'out-of-round', 'tapered'] as const).filter(
    (verdict) => spansFor(verdict, limits, graduations) !== null,
  );
  const sound = chance.chance(0.45) || level === 1 || canBe.length === 0;
  const truly = sound ? 'inside' : chance.pick(canBe);
  const spans = spansFor(truly, limits, graduations) ?? inside;
  const draw = ({ from, to }: Span) => chance.uniform(from, to);
  const [oval, taper] = [draw(spans.outOfRound), draw(spans.taper)];
  // What the axes differ by more at the top than at the bottom is a part of the taper across.
  const difference = Math.min(oval, taper) * chance.uniform(0.3, 1);
  const along = taper - difference;
  const largest = draw({ from: Math.max(spans.size.from, along + oval), to: spans.size.to });
  const base = largest - along - oval;
  const half = chance.uniform(0.3, 0.7);
  const at = (share: number): Pair => [
    base + share * along,
    base + share * along + oval - difference + share * difference,
  ];
  return { truly, wear: { top: at(1), middle: at(half), bottom: at(0) } };
}

/** Where size over nominal, out-of-round and taper may lie for a verdict, in graduations; null where there is no room. */
function spansFor(
  verdict: BoreVerdict,
  limits: BoreLimits,
  graduations: (length: number) => number,
): Spans | null {
  const span = (limit: number | null, bad: boolean): Span | null => {
    if (limit === null) return bad ? null : { from: 0.3, to: FREE };
    const at = graduations(limit);
    if (bad) return { from: at + MARGIN_GRADUATIONS, to: at + MARGIN_GRADUATIONS + BEYOND };
    const to = at - MARGIN_GRADUATIONS;
    return to < 0.5 ? null : { from: 0.3, to };
  };
  const size = span(limits.upper - limits.nominal, verdict === 'above');
  const outOfRound = span(limits.outOfRound, verdict === 'out-of-round');
  const taper = span(limits.taper, verdict === 'tapered');
  if (size === null || outOfRound === null || taper === null) return null;
  // The top across has worn by at least as much as the bore is out of round and tapered.
  return outOfRound.to + taper.to > size.to
    ? squeezed({ size, outOfRound, taper })
    : { size, outOfRound, taper };
}

/** Both differences kept to what fits under the size; null where even the least of them does not. */
function squeezed({ size, outOfRound, taper }: Spans): Spans | null {
  const room = size.to - outOfRound.from - taper.from;
  if (room < 0) return null;
  const cut = ({ from, to }: Span): Span => ({ from, to: Math.min(to, from + room / 2) });
  return { size, outOfRound: cut(outOfRound), taper: cut(taper) };
}
