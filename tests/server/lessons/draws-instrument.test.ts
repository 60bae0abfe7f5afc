import { describe, expect, it } from 'vitest';
import { drawNumbers } from '../../../server/lessons/draws.ts';
import { gradeAnswer } from '../../../server/lessons/questions.ts';
import type { Question } from '../../../server/lessons/schema.ts';

const SEEDS = 200;
const drawn = (name: string) =>
  Array.from({ length: SEEDS }, (_, seed) => drawNumbers(name, `0/check/asked/${seed}`));

/** A question with nothing but its draw, for the judging of an answer. */
const asking = (draw: string): Question => ({ id: 'asked', draw, ask: '?', label: '?', hint: '?' });

/** What must hold for every number that is asked for: right is right, and each slip is told as itself. */
function answersHold(name: string, decimals: number) {
  drawn(name).forEach(({ answer }, seed) => {
    if (!answer) throw new Error(`${name} asks for no number`);
    const told = (value: number) =>
      gradeAnswer(asking(name), { slug: 'check', personId: 0, tries: seed }, value.toFixed(decimals));
    expect(told(answer.value), `${name} ${seed}`).toMatchObject({ ok: true, correct: true });
    for (const { value, why } of answer.slips) {
      expect(Math.abs(value - answer.value), `${name} ${seed}: ${why}`).toBeGreaterThan(answer.within);
      const graded = told(value);
      expect(graded).toMatchObject({ ok: true, correct: false });
      expect(graded.ok && graded.feedbackHtml.replaceAll('&quot;', '"')).toContain(why.slice(0, 40));
    }
  });
}

describe('the dial indicator', () => {
  it('asks for numbers whose slips are each told as themselves', () => {
    answersHold('one-turn', 4);
    answersHold('bezel-then-move', 0);
    answersHold('same-pointer', 5);
  });

  it('one-turn: graduations times their value, on every gauge of the drawer', () => {
    const gauges = drawn('one-turn').map(({ values, answer }) => {
      expect(answer?.value).toBeCloseTo(Number(values.count) * Number(values.graduation), 9);
      return `${values.graduation} ${values.unit}`;
    });
    expect(new Set(gauges).size).toBe(4);
  });

  it('bezel-then-move: thousandths moved, whatever the pointer stood at', () => {
    for (const { values, answer } of drawn('bezel-then-move'))
      expect(answer?.value).toBe(Math.round(Number(values.move) * 1000));
  });

  it('same-pointer: half a thousandth for each graduation', () => {
    for (const { values, answer } of drawn('same-pointer'))
      expect(answer?.value).toBeCloseTo(Number(values.pointer) * 0.0005, 9);
  });
});
