import { drawGauge, MARGIN_GRADUATIONS, setLimits, stretchFor } from '../../bench-parts/limits.ts';
import { type Chance, chanceFor } from '../../random.ts';
import { fromMm, toMm } from '../../units.ts';
import {
  type LinerBench,
  type LinerDefinition,
  type LinerLimits,
  type LinerVerdict,
  POINTS,
} from './types.ts';
import { judgeStep, largestStep } from './verdict.ts';

/** TM 9-2815-260-24. */
const USUAL = { each: { unit: 'in', lower: 0.001, upper: 0.004 }, within: 0.002, between: 0.002 } as const;

interface DrawnLiner {
  readonly truly: LinerVerdict;
  readonly graduations: readonly number[];
}

/**
 * Draws neighbouring liners. Every point, every liner's spread and every step between neighbours keeps two graduations from its
 * limit; a liner has one thing wrong with it, or none.
 * @throws RangeError for an unknown dial, a number of liners out of 2 to 6, limits that cannot be, or a dial too coarse for them.
 */
export function generateLiners(definition: LinerDefinition, seed: string | number): LinerBench {
  const text = String(seed);
  const gauge = drawGauge(definition, text, {
    dial: 'inch-0.0001-0.05',
    name: 'Practice engine, cylinder liners',
  });
  const count = definition.liners ?? 2;
  if (!Number.isInteger(count) || count < 2 || count > 6)
    throw new RangeError('Protrusion is measured on 2 to 6 liners.');
  const limits: LinerLimits = {
    each: setLimits(definition.specification ?? USUAL.each),
    within: allowed(definition.within, definition.specification === undefined ? USUAL.within : null),
    between: allowed(definition.between, definition.specification === undefined ? USUAL.between : null),
  };
  const graduationMm = toMm(gauge.dial.graduation, gauge.dial.unit);
  const drawn = drawUntilClear(
    limits,
    graduationMm,
    gauge.dial,
    count,
    definition.level ?? 2,
    chanceFor(text, 'liners'),
  );
  const hidden = chanceFor(text, 'block');
  const liners = drawn.map(({ truly, graduations }) => ({
    pointsMm: graduations.map((one) => one * graduationMm),
    // Enough to be seen on any gauge: a liner that is not pressed down stands on its seal.
    springMm: Math.max(toMm(hidden.uniform(0.00125, 0.0025), 'in'), 2.5 * graduationMm),
    deckMm: hidden.uniform(-0.1, 0.1) * graduationMm,
    truly,
  }));
  const step = largestStep(drawn.map(({ graduations }) => meanOf(graduations))) ?? 0;
  return {
    ...gauge,
    kind: 'liner-protrusion',
    limits,
    liners,
    betweenTruly: judgeStep(fromMm(step * graduationMm, gauge.dial.unit), limits, gauge.dial),
  };
}

function allowed(given: number | null | undefined, usual: number | null): number | null {
  const limit = given === undefined ? usual : given;
  if (limit !== null && !(limit > 0)) throw new RangeError('A difference allowed must be more than nothing.');
  return limit;
}

type SetDial = LinerBench['dial'];

/** Draws liner by liner until no step between neighbours comes within two graduations of its limit. */
function drawUntilClear(
  limits: LinerLimits,
  graduationMm: number,
  dial: SetDial,
  count: number,
  level: number,
  chance: Chance,
): DrawnLiner[] {
  const between = limits.between === null ? null : toMm(limits.between, limits.each.unit) / graduationMm;
  const liners: DrawnLiner[] = [];
  for (let tries = 0; tries < 600; tries += 1) {
    // Where two bad ones will not stand side by side clearly, sound ones will.
    const one = drawLiner(limits, graduationMm, dial, tries < 300 ? level : 1, chance);
    const before = liners.at(-1);
    const step = before === undefined ? 0 : Math.abs(meanOf(one.graduations) - meanOf(before.graduations));
    if (between !== null && before !== undefined && Math.abs(step - between) < MARGIN_GRADUATIONS) continue;
    liners.push(one);
    if (liners.length === count) return liners;
  }
  throw new RangeError('These limits leave no room for neighbours that can be told apart with this gauge.');
}

function drawLiner(
  limits: LinerLimits,
  graduationMm: number,
  dial: SetDial,
  level: number,
  chance: Chance,
): DrawnLiner {
  const graduations = (limit: number | null) =>
    limit === null ? null : toMm(limit, limits.each.unit) / graduationMm;
  const largest = graduations(limits.each.upper ?? limits.each.lower) ?? 0;
  const lowest = (graduations(limits.each.lower) ?? 0) - 7;
  const stretch = (verdict: 'inside' | 'below' | 'above') =>
    stretchFor(verdict, limits.each, dial, largest + 10, lowest);
  const inside = stretch('inside');
  const within = graduations(limits.within) ?? 5;
  if (inside === null || within < MARGIN_GRADUATIONS)
    throw new RangeError('The gauge is too coarse for these limits. Choose a finer one.');
  const room = inside.to - inside.from;
  const canBe: readonly LinerVerdict[] = [
    ...(stretch('above') === null ? [] : (['above'] as const)),
    ...(stretch('below') === null ? [] : (['below'] as const)),
    ...(limits.within !== null && room >= within + MARGIN_GRADUATIONS ? (['uneven'] as const) : []),
  ];
  const sound = chance.chance(0.6) || level === 1 || canBe.length === 0;
  const truly = sound ? 'inside' : chance.pick(canBe);
  const stand = (truly === 'uneven' ? inside : stretch(truly)) ?? inside;
  const width = stand.to - stand.from;
  const most = Math.min(within - MARGIN_GRADUATIONS, width);
  const apart =
    truly === 'uneven'
      ? chance.uniform(within + MARGIN_GRADUATIONS, Math.min(room, within + 4))
      : chance.uniform(Math.min(0.3, most), most);
  const base = chance.uniform(stand.from, stand.to - apart);
  const rest = Array.from({ length: POINTS - 2 }, () => chance.uniform(0, 1));
  return { truly, graduations: chance.shuffle([0, 1, ...rest]).map((share) => base + share * apart) };
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, one) => sum + one, 0) / values.length;
}
