import { expect } from 'vitest';
import type { Answer } from '../../../server/lessons/draw-kit.ts';
import { drawNumbers } from '../../../server/lessons/draws.ts';
import { gradeAnswer } from '../../../server/lessons/questions.ts';

/** Every value of a draw as a number, minus signs and plus signs as they are written on the page. */
export type Numbers = (key: string) => number;

const SEEDS = 200;

/** Runs `look` on many seeds of a draw. */
export function overSeeds(
  name: string,
  look: (value: Numbers, drawn: ReturnType<typeof drawNumbers>) => void,
) {
  for (let seed = 0; seed < SEEDS; seed += 1) {
    const drawn = drawNumbers(name, `seed/${seed}`);
    const value = (key: string) => {
      const number = Number(drawn.values[key]?.replace('−', '-'));
      expect(Number.isFinite(number), `${name} ${key}`).toBe(true);
      return number;
    };
    look(value, drawn);
  }
}

/** The answer that is asked for, as typed by a reader who has it right, and each slip as typed by one who has not. */
export function checkAnswers(name: string, right: (value: Numbers) => number, plausible: [number, number]) {
  overSeeds(name, (value, { answer, values }) => {
    if (!answer) throw new Error(`${name} asks for no number`);
    expect(answer.value, JSON.stringify(values)).toBeCloseTo(right(value), 9);
    expect(answer.value).toBeGreaterThanOrEqual(plausible[0] - 1e-9);
    expect(answer.value).toBeLessThanOrEqual(plausible[1] + 1e-9);
    checkSlips(answer);
    // Nothing on the page is the answer.
    for (const [key, text] of Object.entries(values))
      expect(Math.abs(Number(text.replace('−', '-')) - answer.value), `${name} ${key}`).not.toBeLessThan(
        answer.within,
      );
  });
  for (let tries = 0; tries < SEEDS; tries += 1) checkGraded(name, tries);
}

function checkSlips({ value, slips, within }: Answer) {
  const numbers = [value, ...slips.map((slip) => slip.value)];
  numbers.forEach((one, index) => {
    for (const other of numbers.slice(index + 1)) expect(Math.abs(one - other)).toBeGreaterThan(within);
  });
}

/** Types right answer and slips into the question as the page would. */
function checkGraded(name: string, tries: number) {
  const question = { id: 'one', draw: name, ask: 'What?', label: 'It', hint: 'A number' };
  const asking = { slug: 'sample', personId: 1, tries };
  const { answer } = drawNumbers(name, `1/sample/one/${tries}`);
  if (!answer) throw new Error(`${name} asks for no number`);
  const typed = (value: number) => gradeAnswer(question, asking, String(Number(value.toFixed(6))));
  expect(typed(answer.value)).toMatchObject({ ok: true, correct: true });
  for (const { value, why } of answer.slips) {
    const graded = typed(value);
    expect(graded, why).toMatchObject({ ok: true, correct: false });
    expect(graded.ok && plain(graded.feedbackHtml), why).toContain(plain(why));
  }
}

function plain(text: string): string {
  return text.replace(/<[^>]*>|[*`]/g, '').replaceAll('&quot;', '"');
}

/** Every verdict a draw may give is met, and it is the one that `judged` finds from the page. */
export function checkVerdicts(name: string, judged: (value: Numbers) => string, all: readonly string[]) {
  const seen = new Set<string>();
  overSeeds(name, (value, { values }) => {
    expect(values.verdict, JSON.stringify(values)).toBe(judged(value));
    seen.add(values.verdict ?? '');
  });
  expect([...seen].sort()).toEqual([...all].sort());
}
