import { describe, expect, it } from 'vitest';
import { gradeAttempt, type Mistake, type NamedMistake } from '../../server/engine/index.ts';
import { type Habits, observe, type SeenLobe, writeSheet, writeWhatIsSeen } from '../support/observer.ts';

/** Four lobes that are told apart by their lifts: 0.258, 0.257, 0.157 and 0.247 in. Fires 1-3-4-2. */
const attempt = observe(
  { kind: 'cam-lift', dial: 'inch-0.001-1', cylinders: 4, positions: [1, 2, 3, 4] },
  306,
);

function mistakesOn(seen: readonly SeenLobe[], habits: Habits = {}): readonly NamedMistake[] {
  return gradeAttempt(attempt.bench, attempt.actions, writeSheet(attempt.plate, seen, habits)).mistakes;
}

/** The lines in rising order, each with what was seen of another lobe. */
function written(order: readonly number[]): SeenLobe[] {
  return order.map((position, row) => ({
    position: row + 1,
    readings: attempt.seen.find((lobe) => lobe.position === position)?.readings ?? [],
  }));
}

const told = (mistakes: readonly NamedMistake[]) =>
  mistakes.map(({ position, reading, mistakes: [mistake] }) => [position, reading, mistake]);
const eachLine = (mistake: Mistake) => [1, 2, 3, 4].map((position) => [position, null, mistake]);

describe('the lines of a sheet together', () => {
  it('say nothing when they are right', () => {
    expect(attempt.seen.map(({ readings: [one] }) => (one?.turns ?? 0) * 100 + (one?.pointer ?? 0))).toEqual([
      258, 257, 156, 247,
    ]);
    expect(mistakesOn(attempt.seen)).toEqual([]);
  });

  it('are in firing order, written in cylinder order: said once of each line that is off, and no more', () => {
    const mistakes = mistakesOn(written([1, 3, 4, 2]));
    expect(told(mistakes)).toEqual([
      [2, null, 'firing-order'],
      [3, null, 'firing-order'],
      [4, null, 'firing-order'],
    ]);
    for (const [row, off] of [-100, 90, 10].entries())
      expect(Math.abs((mistakes[row]?.offGraduations ?? 0) - off)).toBeLessThan(2);
  });

  it('are not in firing order when one of them is two graduations from it', () => {
    const offOn = (graduations: number): Habits => ({
      write: (seen, position) => {
        const right = writeWhatIsSeen(seen);
        return position === 4
          ? { ...right, turns: null, pointer: null, lift: (right.lift ?? 0) + graduations * 0.001 }
          : right;
      },
    });
    const codes = (graduations: number) =>
      told(mistakesOn(written([1, 3, 4, 2]), offOn(graduations))).map(([, , code]) => code);
    expect(codes(0)).toContain('firing-order');
    expect(codes(2.5)).not.toContain('firing-order');
  });

  it('that are on each other’s lines in another order are each another lobe’s', () => {
    expect(told(mistakesOn(written([4, 2, 3, 1])))).toEqual([
      [1, null, 'another-lobe'],
      [4, null, 'another-lobe'],
    ]);
  });

  it('of which one alone is off are not on each other’s lines', () => {
    // Lobe 1 with the reading of lobe 4, ten graduations lower, and lobe 4 with its own.
    const mistakes = told(mistakesOn(written([4, 2, 3, 4])));
    expect(mistakes.every(([position, reading]) => position === 1 && reading !== null)).toBe(true);
  });

  it.each([2, 0.5])('that are all %f times as large are the value of a graduation', (factor) => {
    const write: Habits['write'] = (seen) => {
      const right = writeWhatIsSeen(seen);
      return { ...right, turns: null, pointer: null, lift: (right.lift ?? 0) * factor };
    };
    expect(told(mistakesOn(attempt.seen, { write }))).toEqual(eachLine('graduation-value'));
  });

  it('that are twice as large but for one say so of their own readings alone', () => {
    const write: Habits['write'] = (seen, position) => {
      const right = writeWhatIsSeen(seen);
      return position === 1 ? right : { ...right, lift: (right.lift ?? 0) * 2 };
    };
    const mistakes = told(mistakesOn(attempt.seen, { write }));
    expect(mistakes.map(([position, reading]) => [position, reading])).toEqual([
      [2, 1],
      [2, 2],
      [3, 1],
      [3, 2],
      [4, 1],
      [4, 2],
    ]);
    expect(new Set(mistakes.map(([, , code]) => code))).toEqual(new Set(['graduation-value']));
  });
});
