import { drawGauge, drawStretch, setLimits } from '../../bench-parts/limits.ts';
import type { GivenLimits } from '../../bench-parts/types.ts';
import { chanceFor } from '../../random.ts';
import { toMm } from '../../units.ts';
import type { EndPlayBench, EndPlayDefinition, EndPlaySubject } from './types.ts';

/** Examples out of published manuals; sources at `EndPlayDefinition`. */
const USUAL: Readonly<Record<EndPlaySubject, { readonly name: string; readonly limits: GivenLimits }>> = {
  crankshaft: { name: 'Practice engine, crankshaft', limits: { unit: 'in', lower: 0.004, upper: 0.018 } },
  'wheel-bearing': {
    name: 'Practice hub, wheel bearing',
    limits: { unit: 'in', lower: 0.001, upper: 0.005 },
  },
};

/**
 * Draws a shaft or hub with its float. The movement keeps two graduations from each limit.
 * @throws RangeError for an unknown subject or dial, limits that cannot be, or a dial too coarse for them.
 */
export function generateEndPlay(definition: EndPlayDefinition, seed: string | number): EndPlayBench {
  const text = String(seed);
  const subject = definition.subject ?? 'crankshaft';
  const usual: (typeof USUAL)[EndPlaySubject] | undefined = USUAL[subject];
  if (usual === undefined) throw new RangeError(`End play is not measured on "${subject}" here.`);
  const gauge = drawGauge(definition, text, { dial: 'inch-0.0005-0.5', name: usual.name });
  const specification = setLimits(definition.specification ?? usual.limits);
  const chance = chanceFor(text, 'float');
  const graduationMm = toMm(gauge.dial.graduation, gauge.dial.unit);
  const largest = toMm(specification.upper ?? specification.lower ?? 0, specification.unit) / graduationMm;
  const { verdict, stretch } = drawStretch(
    specification,
    gauge.dial,
    definition.level ?? 2,
    chance,
    Math.max(1.6 * largest, largest + 8),
    // No float at all is a bearing that binds: nothing to measure.
    1,
  );
  return {
    ...gauge,
    kind: 'end-play',
    subject,
    specification,
    floatMm: chance.uniform(stretch.from, stretch.to) * graduationMm,
    startShare: chanceFor(text, 'start').uniform(0.3, 0.7),
    truly: verdict,
  };
}
