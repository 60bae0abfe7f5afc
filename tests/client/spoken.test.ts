import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type SpokenFace,
  spokenAtRest,
  spokenPassings,
  spokenRun,
} from '../../views/client/models/spoken.ts';

const FACE: SpokenFace = { graduations: 100, counterTurns: 10 };

/** A run from one travel to another, in graduations, as the server samples it: a fifth of a turn apart at most. */
function run(from: number, to: number, graduations = 100) {
  const parts = Math.max(1, Math.ceil(Math.abs(to - from) / (0.2 * graduations)));
  return Array.from({ length: parts + 1 }, (_, part) => {
    const at = from + ((to - from) * part) / parts;
    const wrap = (value: number, turn: number) => ((value % turn) + turn) % turn;
    return { pointer: wrap(at, graduations), counter: wrap(1.6 + at / graduations, 10) };
  });
}

describe('a run said aloud', () => {
  it('says each passing of zero, then where the hands stand', () => {
    expect(spokenRun(run(0, 237), FACE)).toEqual([
      'The pointer passes zero, going up.',
      'The pointer passes zero, going up.',
      'Pointer at 37 of 100; small hand at 4.',
    ]);
  });

  it('says which way the pointer goes', () => {
    expect(spokenRun(run(0, -137), FACE)).toEqual([
      'The pointer passes zero, going down.',
      'Pointer at 63 of 100; small hand between 0 and 1, nearer 0.',
    ]);
  });

  it('says of a run that ends on zero that it comes there', () => {
    expect(spokenRun(run(137, 0), FACE).slice(0, 2)).toEqual([
      'The pointer passes zero, going down.',
      'The pointer comes to zero, going down.',
    ]);
  });

  it('does not take a hand that trembles on zero for one that passes', () => {
    const still = [0, 0.1, 99.9, 0.2, 99.8, 0].map((pointer) => ({ pointer, counter: 2 }));
    expect(spokenPassings(still, FACE)).toEqual([]);
  });

  it('does not say of a pointer that turns back on zero that it passed', () => {
    const touched = [80, 95, 0, 95, 80].map((pointer) => ({ pointer, counter: null }));
    expect(spokenPassings(touched, FACE)).toEqual([]);
  });

  it('says nothing of nothing', () => {
    expect(spokenRun([], FACE)).toEqual([]);
  });

  it('passes zero as often as whole turns are in the run, whatever the dial', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -7000, max: 7000 }),
        fc.constantFrom(50, 100, 200),
        (hundredths, graduations) => {
          const turns = hundredths / 1000;
          fc.pre(Math.abs(turns - Math.round(turns)) > 0.01);
          const said = spokenPassings(run(0, turns * graduations, graduations), { graduations });
          expect(said).toHaveLength(Math.floor(Math.abs(turns)));
          expect(said.every(({ words }) => words.endsWith(turns > 0 ? 'up.' : 'down.'))).toBe(true);
        },
      ),
    );
  });
});

describe('the hands at rest', () => {
  it.each([
    [37.1, 2.5, 'Pointer at 37 of 100; small hand between 2 and 3.'],
    [37.3, 2.3, 'Pointer at 37.5 of 100; small hand between 2 and 3, nearer 2.'],
    [99.5, 9.7, 'Pointer at 99.5 of 100; small hand between 9 and 0, nearer 0.'],
    [99.9, 9.97, 'Pointer at zero; small hand at 0.'],
    [37, null, 'Pointer at 37 of 100.'],
  ])('%s and %s', (pointer, counter, words) => {
    expect(spokenAtRest({ pointer, counter }, FACE)).toBe(words);
  });

  it('says the numeral on a face whose numerals do not count graduations', () => {
    const face = { ...FACE, numeralStep: 5, counterTurns: 0 };
    expect(spokenAtRest({ pointer: 37, counter: 2 }, face)).toBe(
      'Pointer 7 graduations past the numeral 15.',
    );
    expect(spokenAtRest({ pointer: 40, counter: 2 }, face)).toBe('Pointer at the numeral 20.');
  });

  it('says the side on a balanced face', () => {
    const face = { ...FACE, balanced: true, counterTurns: 0 };
    expect(spokenAtRest({ pointer: 37, counter: 2 }, face)).toBe(
      'Pointer at 37 on the right, 100 graduations round the face.',
    );
    expect(spokenAtRest({ pointer: 63, counter: 2 }, { ...face, numeralStep: 5 })).toBe(
      'Pointer 7 graduations past the numeral 15 on the left.',
    );
  });

  it('reads a small hand off the face it is on', () => {
    expect(spokenAtRest({ pointer: 0, counter: 7.3 }, { ...FACE, counterTurns: 5 })).toBe(
      'Pointer at zero; small hand between 2 and 3, nearer 2.',
    );
  });
});
