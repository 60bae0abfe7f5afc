import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { generateCamLift } from '../../server/engine/exercises/cam-lift/generate.ts';
import { gradeAttempt } from '../../server/engine/index.ts';
import { anyDefinition, anySeed, LONG_DIALS, OTHER_DIALS } from '../support/arbitraries/cam-lift.ts';
import { SLOW_LAW } from '../support/arbitraries/settings.ts';
import { observe } from '../support/observer.ts';
import { charged } from './support/bench.ts';

const ENGINES = [
  ...LONG_DIALS.flatMap((dial) =>
    ([4, 6] as const).map((cylinders) => ({ kind: 'cam-lift' as const, dial, cylinders })),
  ),
  ...OTHER_DIALS.map((dial) => ({ kind: 'cam-lift' as const, dial, cylinders: 6 as const })),
];

describe('a careful student who uses only what can be seen', () => {
  it.each(ENGINES)(
    'gets all points and no remark that costs any, $dial, $cylinders cylinders',
    (definition) => {
      for (let seed = 0; seed < 8; seed += 1) {
        const { bench, actions, sheet } = observe(definition, seed);
        const grade = gradeAttempt(bench, actions, sheet);
        expect({
          seed,
          ...grade.points,
          charged: charged(grade),
          stops: grade.stops,
          mistakes: grade.mistakes,
        }).toEqual({
          ...{ seed, setUp: 30, procedure: 20, reading: 30, verdict: 20 },
          ...{ charged: [], stops: [], mistakes: [] },
        });
      }
    },
  );

  it('gets all points whatever the sheet asks for', () => {
    fc.assert(
      fc.property(anyDefinition, anySeed, (definition, seed) => {
        const { bench, actions, sheet } = observe(definition, seed);
        const grade = gradeAttempt(bench, actions, sheet);
        expect({ total: grade.total, stops: grade.stops }).toEqual({ total: 100, stops: [] });
      }),
      SLOW_LAW,
    );
  });

  it('writes a lift within two graduations of the truth, and so comes to the true verdict', () => {
    for (let seed = 100; seed < 115; seed += 1) {
      const { bench, actions, sheet } = observe({ kind: 'cam-lift' }, seed);
      for (const lobe of gradeAttempt(bench, actions, sheet).lobes) {
        expect(Math.abs((lobe.writtenLift ?? 0) - lobe.trueLift)).toBeLessThanOrEqual(0.002 + 1e-9);
        expect(lobe.writtenVerdict).toBe(lobe.trueVerdict);
      }
    }
  });

  it('is told of an engine that holds a fault only after grading', () => {
    const truths = generateCamLift({ kind: 'cam-lift' }, 3).positions;
    const { bench, actions, sheet } = observe({ kind: 'cam-lift' }, 3);
    expect(gradeAttempt(bench, actions, sheet).lobes.map(({ position }) => position)).toEqual(truths);
  });
});

describe('choosing "inside" every time', () => {
  it('never passes an engine that holds a bad lobe: there is a stop, and no points for the verdict', () => {
    let bad = 0;
    for (let seed = 0; seed < 24; seed += 1) {
      const { bench, actions, sheet } = observe({ kind: 'cam-lift' }, seed, { verdict: () => 'inside' });
      const grade = gradeAttempt(bench, actions, sheet);
      const badLobes = grade.lobes
        .filter(({ trueVerdict }) => trueVerdict !== 'inside')
        .map(({ position }) => position);
      bad += badLobes.length;
      expect(grade.stops.map(({ code, position }) => ({ code, position }))).toEqual(
        badLobes.map((position) => ({ code: 'bad-lobe-passed', position })),
      );
      expect(grade.points.verdict).toBe(badLobes.length > 0 ? 0 : 20);
    }
    expect(bad).toBeGreaterThan(10);
  });
});
