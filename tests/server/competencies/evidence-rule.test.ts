import { describe, expect, it } from 'vitest';
import { readDemoProgram } from '../../../server/commands/load-program.ts';
import {
  type EvidenceRule,
  evidenceRule,
  ruleWords,
  USUAL_RULE,
} from '../../../server/competencies/evidence-rule.ts';
import { readRule, ruleValues } from '../../../server/competencies/rule-form.ts';

const RULES: EvidenceRule[] = [
  USUAL_RULE,
  { ...USUAL_RULE, holds: 'term', signOffs: 2 },
  { ...USUAL_RULE, holds: { months: 18 }, runs: { ...USUAL_RULE.runs, full: ['reading', 'verdict'] } },
  { ...USUAL_RULE, signOffs: 0 },
  { ...USUAL_RULE, runs: { ...USUAL_RULE.runs, count: 0, engines: 0, days: 0, badParts: 0, setUpFaults: 0 } },
];

describe('an evidence rule', () => {
  it('that ships is the usual one', () => {
    expect(evidenceRule.parse(readDemoProgram().competencies[0]?.rule)).toEqual(USUAL_RULE);
  });

  it('is said in words', () => {
    expect(ruleWords(USUAL_RULE)).toBe(
      'Two graded runs in a row, each at 80 % of the points or more, without a stop, without help, on 2 different engines, on 2 different days, one of them with a part outside its limits, one of them with a fault in the set-up; and one sign-off on a shop engine, passed. Dated, and held for good.'.replace(
        'Two',
        '2',
      ),
    );
    expect(ruleWords(RULES[1] as EvidenceRule)).toContain(
      'Held to the end of the term; then it is met anew.',
    );
    expect(ruleWords(RULES[2] as EvidenceRule)).toContain('Held for 18 months');
    expect(ruleWords(RULES[3] as EvidenceRule)).toContain(
      'Practice engines alone never complete a competency',
    );
    expect(ruleWords(RULES[4] as EvidenceRule)).toMatch(/^One sign-off on a shop engine, passed\./);
  });

  it('of the first kind reads as what it meant', () => {
    const first = {
      gradedRuns: 1,
      atLeastPercent: 80,
      noStops: true,
      shopSignOffs: 0,
      evidence: 'simulated',
    };
    expect(evidenceRule.parse(first)).toMatchObject({
      version: 2,
      runs: { count: 1, inARow: false, atLeastPercent: 80, noStops: true, engines: 0 },
      signOffs: 0,
      holds: 'for-good',
    });
  });

  it('comes back from its form as it went in', () => {
    for (const rule of RULES) {
      const problems = {};
      expect(readRule(ruleValues(rule), problems), JSON.stringify(problems)).toEqual(rule);
    }
  });

  it.each([
    [{ runs: 'two' }, 'runs'],
    [{ runs: '21' }, 'runs'],
    [{ runs: '0', signOffs: '0', engines: '', days: '', badParts: '', setUpFaults: '' }, 'runs'],
    [{ percent: '' }, 'percent'],
    [{ percent: '101' }, 'percent'],
    [{ days: '3' }, 'days'],
    [{ holds: 'months', months: '0' }, 'months'],
    [{ holds: 'always' }, 'holds'],
  ])('is refused by its form with %j, beside the field', (typed, field) => {
    const problems: Record<string, string> = {};
    expect(readRule({ ...ruleValues(USUAL_RULE), ...typed }, problems)).toBeNull();
    expect(Object.keys(problems)).toContain(field);
  });
});
