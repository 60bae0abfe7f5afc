import { describe, expect, it } from 'vitest';
import {
  decide,
  type Evidence,
  type EvidenceRule,
  evidenceRule,
  ruleWords,
} from '../../../server/competencies/rule.ts';

const rule: EvidenceRule = {
  gradedRuns: 1,
  atLeastPercent: 80,
  noStops: true,
  shopSignOffs: 0,
  evidence: 'simulated',
};
const run = (id: string, parts: Partial<Evidence> = {}): Evidence => ({
  id,
  way: 'graded-run',
  handedInAt: `2026-09-10T0${id}:00:00.000Z`,
  points: 80,
  stops: 0,
  ...parts,
});

describe('an evidence rule', () => {
  const cases: [string, Partial<EvidenceRule>, Evidence[], boolean, string[]][] = [
    ['nothing done', {}, [], false, []],
    ['just below', {}, [run('1', { points: 79.9 })], false, []],
    ['on the share', {}, [run('1', { points: 80 })], true, ['1']],
    ['just above', {}, [run('1', { points: 80.1 })], true, ['1']],
    [
      'a share between tenths',
      { atLeastPercent: 80.05 },
      [run('1', { points: 80 }), run('2', { points: 80.1 })],
      true,
      ['2'],
    ],
    ['all points with a stop', {}, [run('1', { points: 100, stops: 1 })], false, []],
    ['a stop where stops are allowed', { noStops: false }, [run('1', { stops: 2 })], true, ['1']],
    ['practice only', {}, [run('1', { way: 'practice', points: 100 })], false, []],
    ['not handed in', {}, [run('1', { handedInAt: null, points: null })], false, []],
    ['handed in and not graded', {}, [run('1', { points: null })], false, []],
    ['one of two', { gradedRuns: 2 }, [run('1'), run('2', { points: 60 })], false, ['1']],
    [
      'two of two, in the order of handing in',
      { gradedRuns: 2 },
      [run('3'), run('2', { points: 60 }), run('1')],
      true,
      ['1', '3'],
    ],
    ['no share asked', { atLeastPercent: 0 }, [run('1', { points: 0 })], true, ['1']],
    [
      'everything asked',
      { atLeastPercent: 100 },
      [run('1', { points: 99.9 }), run('2', { points: 100 })],
      true,
      ['2'],
    ],
  ];
  it.each(cases)('decides %s', (_name, changed, attempts, meets, counting) => {
    const decision = decide({ ...rule, ...changed }, attempts);
    expect(decision.meetsSimulatedPart).toBe(meets);
    expect(decision.counting).toEqual(counting);
    expect(decision.missing.length > 0).toBe(!meets);
  });

  it('gives each attempt the reasons for which it does not count, all of them', () => {
    const { attempts, missing } = decide({ ...rule, gradedRuns: 3 }, [
      run('1'),
      run('2', { points: 41.5, stops: 2 }),
    ]);
    expect(attempts).toEqual([
      { id: '1', counts: true, reasons: [] },
      { id: '2', counts: false, reasons: ['41.5 points, 80 are needed', '2 stops'] },
    ]);
    expect(missing).toEqual(['2 more graded runs at 80 % or more, without a stop']);
  });

  it('is said in words', () => {
    expect(ruleWords(rule)).toBe(
      'One graded run on a practice engine at 80 % of the points or more and without a stop.',
    );
    expect(ruleWords({ ...rule, gradedRuns: 2, noStops: false, shopSignOffs: 1 })).toBe(
      '2 graded runs on a practice engine at 80 % of the points or more, and one sign-off on a shop engine.',
    );
  });

  it.each([{ gradedRuns: 0 }, { atLeastPercent: 101 }, { evidence: 'shop' }, { more: 1 }])(
    'is refused when it holds %j',
    (bad) => {
      expect(evidenceRule.safeParse({ ...rule, ...bad }).success).toBe(false);
      expect(evidenceRule.safeParse(rule).success).toBe(true);
    },
  );
});
