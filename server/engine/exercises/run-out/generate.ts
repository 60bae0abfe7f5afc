import { drawGauge, drawStretch, setLimits } from '../../bench-parts/limits.ts';
import type { GivenLimits, SetLimits } from '../../bench-parts/types.ts';
import type { DialName } from '../../dial/dial.ts';
import { chanceFor } from '../../random.ts';
import { toMm } from '../../units.ts';
import { heightAt } from './surface.ts';
import type { LimitOn, PlaceTruth, RunOutBench, RunOutDefinition, RunOutSubject } from './types.ts';

interface Usual {
  readonly name: string;
  readonly dial: DialName;
  readonly limitOn: LimitOn;
  readonly limits: GivenLimits;
}

/** Examples out of published manuals; sources at `RunOutDefinition`. */
const USUAL: Readonly<Record<RunOutSubject, Usual>> = {
  shaft: {
    name: 'Practice crankshaft on V-blocks',
    dial: 'metric-0.01-10',
    limitOn: 'eccentricity',
    limits: { unit: 'mm', upper: 0.05 },
  },
  housing: {
    name: 'Practice engine, flywheel housing',
    dial: 'inch-0.001-1',
    limitOn: 'tir',
    limits: { unit: 'in', upper: 0.008 },
  },
};

/** No part runs dead true: at least a graduation of movement, so that there is a high spot to find. */
const LEAST_GRADUATIONS = 2;

/**
 * Draws a shaft or a housing. Each place keeps two graduations of indicator reading from the limit.
 * @throws RangeError for an unknown subject or dial, a lower limit, limits that cannot be, or a dial too coarse for them.
 */
export function generateRunOut(definition: RunOutDefinition, seed: string | number): RunOutBench {
  const text = String(seed);
  const subject = definition.subject ?? 'shaft';
  const usual: Usual | undefined = USUAL[subject];
  if (usual === undefined) throw new RangeError(`Run-out is not measured on "${subject}" here.`);
  const gauge = drawGauge(definition, text, usual);
  const specification = setLimits(definition.specification ?? usual.limits);
  if (specification.lower !== null)
    throw new RangeError('No part can run too true: run-out has no lower limit.');
  const limitOn = definition.limitOn ?? (definition.specification === undefined ? usual.limitOn : 'tir');
  const onTir = readingLimits(specification, limitOn);
  const graduationMm = toMm(gauge.dial.graduation, gauge.dial.unit);
  const most = Math.max(2 * (toMm(onTir.upper ?? 0, onTir.unit) / graduationMm), LEAST_GRADUATIONS + 6);
  const places = (subject === 'housing' ? (['rim', 'face'] as const) : (['rim'] as const)).map(
    (place): PlaceTruth => {
      const chance = chanceFor(text, `place/${place}`);
      const { verdict, stretch } = drawStretch(
        onTir,
        gauge.dial,
        definition.level ?? 2,
        chance,
        most,
        LEAST_GRADUATIONS,
      );
      const drawn = {
        place,
        eccentricityMm: (chance.uniform(stretch.from, stretch.to) * graduationMm) / 2,
        highDeg: chance.uniform(0, 360),
        ovalMm: chance.uniform(0.02, 0.06) * graduationMm,
        ovalDeg: chance.uniform(0, 180),
        truly: verdict,
      };
      // The oval moves largest and smallest a hair: take that off again, so that the whole reading is what was drawn.
      const over = tirMm(drawn) - 2 * drawn.eccentricityMm;
      return { ...drawn, eccentricityMm: drawn.eccentricityMm - over / 2 };
    },
  );
  const hidden = chanceFor(text, 'shaft');
  return {
    ...gauge,
    kind: 'run-out',
    subject,
    limitOn,
    specification,
    places,
    wanderMm: hidden.uniform(3, 6) * graduationMm,
    wanderDeg: hidden.uniform(0, 360),
    startDeg: Math.round(hidden.uniform(0, 359)),
  };
}

/** Limits on the whole indicator reading, from limits on it or on half of it. */
export function readingLimits({ unit, upper }: SetLimits, limitOn: LimitOn): SetLimits {
  return { unit, lower: null, upper: upper === null ? null : limitOn === 'tir' ? upper : 2 * upper };
}

/** Largest less smallest height of a place over a turn, millimetres, to the half degree. */
export function tirMm(place: PlaceTruth): number {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let half = 0; half < 720; half += 1) {
    const height = heightAt(place, half / 2);
    low = Math.min(low, height);
    high = Math.max(high, height);
  }
  return high - low;
}
