import { describe, expect, it } from 'vitest';
import { drawNumbers } from '../../../server/lessons/draws.ts';
import { gradeAnswer } from '../../../server/lessons/questions.ts';
import type { Question } from '../../../server/lessons/schema.ts';

const graded = (draw: string, write: (value: number) => string) => {
  const question: Question = { id: 'asked', draw, ask: '?', label: '?', hint: '?' };
  const value = drawNumbers(draw, '0/check/asked/0').answer?.value ?? Number.NaN;
  return gradeAnswer(question, { slug: 'check', personId: 0, tries: 0 }, write(value));
};

describe('a number that is worked out', () => {
  it.each([
    ['adapter-in-line', (value: number) => `${value.toFixed(2)} lbf-ft`],
    ['adapter-in-line', (value: number) => `${value.toFixed(2)} ft-lb`],
    ['torque-other-unit', (value: number) => `${value.toFixed(1)}Nm`],
    ['plunger-volume', (value: number) => `${value.toFixed(1)} mm3`],
    ['crank-to-cam', (value: number) => `${value} degrees`],
    ['crank-to-cam', (value: number) => `${value}°`],
    ['lean-error', (value: number) => `${value.toFixed(4)} inches`],
    ['lean-error', (value: number) => value.toFixed(4).replace('.', ',')],
  ])('of %s is taken with its unit as people write it', (draw, write) => {
    expect(graded(draw, write)).toMatchObject({ ok: true, correct: true });
  });

  it('is asked for again in another unit, as words, or as nothing', () => {
    expect(graded('lean-error', (value) => `${value} mm`)).toEqual({
      ok: false,
      problem: 'The answer is in inches.',
    });
    expect(graded('lifts-in-turns', (value) => `${value} in`)).toEqual({
      ok: false,
      problem: 'Write the number alone.',
    });
    for (const odd of ['', 'many', '1..2', '0x10', 'NaN', '1e3'])
      expect(
        graded('lean-error', () => odd),
        odd,
      ).toMatchObject({ ok: false });
  });
});
