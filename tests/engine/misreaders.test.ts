import { beforeAll, describe, expect, it } from 'vitest';
import { GOALS, isReached, type Measured, measureAll } from './misreaders/goals.ts';
import type { Population } from './misreaders/measure.ts';

/** A quick look with a fixed seed; `npm run misreaders` does twenty thousand of each and prints what was taken for what. */
const ATTEMPTS = 1500;

describe.each<Population>(['trade', 'alike'])(
  'simulated students with a known mistake, drawn as in %s',
  (population) => {
    let measured: Measured;
    beforeAll(() => {
      measured = measureAll(ATTEMPTS, population, 'quick');
    }, 30_000);

    // A goal that is not reached is said by the command, and stands here again when it is.
    it.each(GOALS.filter(({ open = [] }) => !open.includes(population)))('$what', (goal) => {
      const share = goal.share(measured);
      expect(isReached(goal, share), `${(100 * share).toFixed(2)} %`).toBe(true);
    });
  },
);
