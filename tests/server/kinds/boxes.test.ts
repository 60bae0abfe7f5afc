import { describe, expect, it } from 'vitest';
import { brief, type CamLiftBrief, generateBench } from '../../../server/engine/index.ts';
import { deskOf, readBoxes, type Typed } from '../../../server/kinds/index.ts';

const inch: CamLiftBrief = brief(generateBench({ kind: 'cam-lift', positions: [2, 5] }, 'sheet'));
const metric: CamLiftBrief = brief(
  generateBench({ kind: 'cam-lift', positions: [2], dial: 'metric-0.01-10' }, 'sheet'),
);

function readSheet(plate: CamLiftBrief, typed: Typed) {
  const desk = deskOf('cam-lift');
  const { boxes, problems, blank } = readBoxes(desk.form(plate), typed);
  return { sheet: desk.sheet(plate, boxes), problems, blank: blank.map(({ name }) => name) };
}

describe('what is typed on the sheet', () => {
  it.each(['0.237', '.237', '0,237', '237 thou', '0.237 in', '0.237"', '6.0198 mm'])(
    'reads %s as the same lift',
    (text) => {
      expect(readSheet(inch, { '2.1.lift': text }).sheet.lobes[0]?.readings[0]?.lift).toBeCloseTo(0.237, 6);
    },
  );

  it('asks about a bare number that is too large, beside its box', () => {
    expect(readSheet(inch, { '2.1.lift': '237' }).problems).toEqual({
      '2.1.lift': 'Do you mean 0.237 in? Write it so.',
    });
    expect(readSheet(metric, { '2.lift': '602' }).problems).toEqual({
      '2.lift': 'Do you mean 6.02 mm? Write it so.',
    });
  });

  it('reads a return below zero, with either minus', () => {
    for (const text of ['-0.002', '−0.002', '-2 thou']) {
      expect(readSheet(inch, { '5.2.returned': text }).sheet.lobes[1]?.readings[1]?.returned).toBeCloseTo(
        -0.002,
        9,
      );
    }
  });

  it.each([
    ['2.1.turns', '2.5', /whole turns/],
    ['2.1.turns', 'two', /whole turns/],
    ['2.1.pointer', '101', /0 to 100/],
    ['2.1.pointer', '-3', /0 to 100/],
    ['2.1.lift', 'high', /length in inches/],
    ['2.verdict', 'fine', /Choose one/],
  ])('says what is wrong with %s = %s', (box, text, sentence) => {
    expect(readSheet(inch, { [box]: text }).problems[box]).toMatch(sentence);
  });

  it('leaves blank what is blank, and says which boxes those are', () => {
    const { sheet, problems, blank } = readSheet(metric, { '2.1.turns': ' 5 ', '2.verdict': 'inside' });
    expect(problems).toEqual({});
    expect(sheet.lobes[0]).toMatchObject({ lift: null, verdict: 'inside', next: null });
    expect(sheet.lobes[0]?.readings[0]).toMatchObject({ turns: 5, pointer: null });
    expect(blank).toContain('2.1.pointer');
    expect(blank).not.toContain('2.1.turns');
    // The revolution counter's own boxes may stay blank.
    expect(blank.filter((name) => name.includes('counter'))).toEqual([]);
  });
});
