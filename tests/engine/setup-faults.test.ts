import { beforeAll, describe, expect, it } from 'vitest';
import { brief, explainSetUp, generateBench, type SeenAction, setUpHint } from '../../server/engine/index.ts';
import { GOALS, isReached } from './setup-faults/goals.ts';
import { measure, type Told, tell } from './setup-faults/measure.ts';
import { drawRun } from './setup-faults/population.ts';

/** A quick look with a fixed seed; `npm run setup-faults` does thousands and prints what was taken for what. */
const EACH = 8;
const CLEAN = 60;

describe('simulated students with one known fault of set-up', () => {
  let told: readonly Told[];
  beforeAll(() => {
    told = measure(EACH, CLEAN, 'quick');
  }, 120_000);

  it.each(GOALS)('$what', (goal) => {
    const share = goal.share(told);
    expect(isReached(goal, share), `${(100 * share).toFixed(2)} %`).toBe(true);
  });

  it('shows where in the log each named fault was seen', () => {
    for (const { run, diagnosis, said } of told) {
      if (said !== 'named') continue;
      const { evidence = [] } = diagnosis.likely.find(({ fault }) => diagnosis.faults.includes(fault)) ?? {};
      expect({ kind: run.kind, evidence: evidence.length > 0 }).toEqual({ kind: run.kind, evidence: true });
      for (const { at } of evidence) expect(at === null || (at >= 0 && at < run.actions)).toBe(true);
    }
  });
});

describe('the diagnosis of a set-up', { timeout: 60_000 }, () => {
  it('says a lean that nobody looked for cannot be told from another lift', () => {
    const run = lookedFor(false);
    const { how, faults, untold } = tell(run).diagnosis;
    expect({
      how,
      leans: untold.includes('indicator-leans'),
      named: faults.includes('indicator-leans'),
    }).toEqual({
      ...{ how: 'indistinguishable', leans: true, named: true },
    });
  });

  it('names the same lean once somebody has looked along the bore', () => {
    const { how, faults } = tell(lookedFor(true)).diagnosis;
    expect({ how, faults }).toEqual({ how: 'one', faults: ['indicator-leans'] });
  });

  it('hints at the look that was left out, and never names the fault', () => {
    const run = lookedFor(false);
    const hint = setUpHint(run.plate, run.log).find(({ position }) => position === run.position);
    expect(hint?.tests).toContain('look-along-the-bore');
    expect(JSON.stringify(hint)).not.toContain('indicator-leans');
  });

  it('depends on what was seen alone', () => {
    const run = drawRun('same', 'tappet-hung');
    expect(explainSetUp(run.plate, run.log)).toEqual(explainSetUp(run.plate, structuredClone(run.log)));
  });

  it('says nothing of an empty log, and does not break on one that is cut anywhere', () => {
    const plate = brief(generateBench({ kind: 'cam-lift' }, 1));
    expect(explainSetUp(plate, [])).toEqual([]);
    const { log } = drawRun('cut', 'rod-loose');
    const cuts: readonly SeenAction[][] = log.map((_, n) => log.slice(n));
    for (const cut of cuts)
      for (const { likely } of explainSetUp(plate, cut))
        expect(likely.every(({ probability }) => probability >= 0 && probability <= 1)).toBe(true);
  });
});

/** A leaning indicator measured by a student who looked along the bore, or did not. */
function lookedFor(looked: boolean) {
  for (let n = 0; ; n += 1) {
    const run = drawRun(`lean/${n}`, 'indicator-leans');
    const square = run.log.some(({ action }) => action.type === 'align');
    if (square === looked && !run.habits.setsRight) return run;
  }
}
