import { describe, expect, it } from 'vitest';
import { drawNumbers } from '../../../server/lessons/draws.ts';
import { loadCourse } from '../../../server/lessons/load.ts';
import { askQuestion, gradeAnswer } from '../../../server/lessons/questions.ts';
import type { Question } from '../../../server/lessons/schema.ts';
import { fromRoot } from '../../../server/root.ts';

const SEEDS = 200;
const QUESTIONS = loadCourse(fromRoot('lessons')).lessons.flatMap(({ slug, questions }) =>
  questions.map((question) => [`${slug}/${question.id}`, slug, question] as const),
);
const asked = QUESTIONS.filter(([, , question]) => !('choices' in question));
const drawnChoices = QUESTIONS.filter(
  ([, , question]) => 'choices' in question && question.draw !== undefined,
);

/** As the question itself draws them. */
const numbersOf = (slug: string, { draw, id }: Question, tries: number) =>
  drawNumbers(draw, `0/${slug}/${id}/${tries}`);

describe.each(asked)('the number asked for in %s', (_, slug, question) => {
  it('is right where it is right, and each slip is told as itself', () => {
    for (let tries = 0; tries < SEEDS; tries += 1) {
      const asking = { slug, personId: 0, tries };
      const { answer, reading } = numbersOf(slug, question, tries);
      if (answer === undefined) {
        const right = reading?.shown.high ?? Number.NaN;
        expect(gradeAnswer(question, asking, right.toFixed(4)), `try ${tries}`).toMatchObject({
          correct: true,
        });
        const turn = reading?.dial.rangePerTurn ?? 0;
        const wrong = gradeAnswer(question, asking, (right + turn).toFixed(4));
        expect(wrong, `try ${tries}`).toMatchObject({ ok: true, correct: false });
        continue;
      }
      // To a hundredth of what is allowed.
      const decimals = Math.max(0, Math.ceil(-Math.log10(answer.within)) + 2);
      const told = (value: number) => gradeAnswer(question, asking, value.toFixed(decimals));
      expect(told(answer.value), `try ${tries}`).toMatchObject({ ok: true, correct: true });
      for (const { value, why } of answer.slips) {
        expect(Math.abs(value - answer.value), `try ${tries}: ${why}`).toBeGreaterThan(answer.within);
        const graded = told(value);
        expect(graded, `try ${tries}: ${why}`).toMatchObject({ ok: true, correct: false });
        const words = graded.ok ? graded.feedbackHtml.replaceAll('&quot;', '"') : '';
        expect(words, `try ${tries}`).toContain(why.slice(0, 30));
      }
      expect(answer.sum, `try ${tries}`).not.toMatch(/NaN|undefined|Infinity/);
    }
  });

  it('stands in what is asked by chance at most', () => {
    let stands = 0;
    for (let tries = 0; tries < SEEDS; tries += 1) {
      const { answer } = numbersOf(slug, question, tries);
      if (answer === undefined) continue;
      const { askHtml } = askQuestion(question, { slug, personId: 0, tries });
      const numbers = (askHtml.match(/[−-]?\d+(\.\d+)?/g) ?? []).map((text) =>
        Number(text.replace('−', '-')),
      );
      if (numbers.some((number) => Math.abs(number - answer.value) <= answer.within)) stands += 1;
    }
    // A mean may fall on one of its readings, a difference on one of its parts.
    expect(stands / SEEDS).toBeLessThan(/mean/i.test(question.ask) ? 0.6 : 0.25);
  });
});

describe.each(drawnChoices)('the choices of %s', (_, slug, question) => {
  it('have their right answer among them, and not always the same', () => {
    if (!('choices' in question)) return;
    const right = new Set<string>();
    for (let tries = 0; tries < SEEDS; tries += 1) {
      const asking = { slug, personId: 0, tries };
      const { choices } = askQuestion(question, asking);
      const correct = (choices ?? []).filter(({ key }) => {
        const graded = gradeAnswer(question, asking, key);
        return graded.ok && graded.correct;
      });
      expect(correct.length, `try ${tries}`).toBe(1);
      right.add(correct[0]?.key ?? '');
    }
    if (question.right.startsWith('{{')) expect(right.size, [...right].join()).toBeGreaterThan(1);
  });

  it('stand in an order that is drawn anew', () => {
    const orders = new Set<string>();
    for (let tries = 0; tries < 40; tries += 1)
      orders.add(
        (askQuestion(question, { slug, personId: 0, tries }).choices ?? []).map(({ key }) => key).join(),
      );
    expect(orders.size).toBeGreaterThan(2);
  });
});
