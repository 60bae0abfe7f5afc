import { drawGauge, MARGIN_GRADUATIONS, setLimits, stretchFor } from '../../bench-parts/limits.ts';
import { type Chance, chanceFor } from '../../random.ts';
import { toMm } from '../../units.ts';
import type { BacklashBench, BacklashDefinition, BacklashVerdict } from './types.ts';

/** Source at `BacklashDefinition`. */
const USUAL = { unit: 'in', lower: 0.004, upper: 0.012 } as const;
const USUAL_SPREAD = 0.002;

/**
 * Draws a gear pair. Exactly one thing is wrong, or none; smallest, largest and spread keep two graduations from their limits.
 * @throws RangeError for an unknown dial, a number of teeth out of 2 to 8, limits that cannot be, or a dial too coarse for them.
 */
export function generateBacklash(definition: BacklashDefinition, seed: string | number): BacklashBench {
  const text = String(seed);
  const gauge = drawGauge(definition, text, {
    dial: 'inch-0.0005-0.5',
    name: 'Practice engine, timing gears',
  });
  const specification = setLimits(definition.specification ?? USUAL);
  const spread =
    definition.spread === undefined
      ? definition.specification === undefined
        ? USUAL_SPREAD
        : null
      : definition.spread;
  const teeth = definition.teeth ?? 4;
  if (!Number.isInteger(teeth) || teeth < 2 || teeth > 8)
    throw new RangeError('Backlash is measured at 2 to 8 teeth.');
  const graduationMm = toMm(gauge.dial.graduation, gauge.dial.unit);
  const graduations = (length: number) => toMm(length, specification.unit) / graduationMm;
  const allowed = spread === null ? 4 : graduations(spread);
  if (!(allowed > 0)) throw new RangeError('The spread allowed must be more than nothing.');
  const largest = graduations(specification.upper ?? specification.lower ?? 0);
  const stretch = (verdict: 'inside' | 'below' | 'above') =>
    stretchFor(verdict, specification, gauge.dial, Math.max(1.6 * largest, largest + 8), 1);
  const inside = stretch('inside');
  if (inside === null || allowed < MARGIN_GRADUATIONS)
    throw new RangeError('The gauge is too coarse for these limits. Choose a finer one.');
  const chance = chanceFor(text, 'gears');
  const room = inside.to - inside.from;
  const canBe: readonly BacklashVerdict[] = [
    ...(stretch('above') === null ? [] : (['above'] as const)),
    ...(stretch('below') === null ? [] : (['below'] as const)),
    ...(spread !== null && room >= allowed + MARGIN_GRADUATIONS ? (['uneven'] as const) : []),
  ];
  const sound = chance.chance(0.45) || definition.level === 1 || canBe.length === 0;
  const truly = sound ? 'inside' : chance.pick(canBe);
  const most = Math.min(allowed - MARGIN_GRADUATIONS, truly === 'inside' ? room : 2);
  const apart =
    truly === 'uneven'
      ? chance.uniform(allowed + MARGIN_GRADUATIONS, Math.min(room, allowed + 5))
      : chance.uniform(Math.min(0.4, most), Math.max(0, most));
  const within = (truly === 'uneven' ? inside : stretch(truly)) ?? inside;
  // A stretch below the limit may be narrower than the teeth are apart.
  const fits = Math.min(apart, within.to - within.from);
  const base = chance.uniform(within.from, within.to - fits);
  return {
    ...gauge,
    kind: 'backlash',
    specification,
    spread,
    lashMm: shares(teeth, chance).map((share) => (base + share * fits) * graduationMm),
    truly,
  };
}

/** Where each tooth lies between smallest and largest: one of each, the rest between. */
function shares(teeth: number, chance: Chance): number[] {
  const rest = Array.from({ length: teeth - 2 }, () => chance.uniform(0, 1));
  return chance.shuffle([0, 1, ...rest]);
}
