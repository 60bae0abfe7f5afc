import { expect, it } from 'vitest';
import { barredWords } from '../../views/client/models/bar-words.ts';

it.each([
  [null, ''],
  [0, 'Barred since zero: 0°.'],
  [359.4, 'Barred since zero: 359°.'],
  [359.6, 'Barred since zero: 1 turn and 0°.'],
  [720, 'Barred since zero: 2 turns and 0°.'],
  [-20, 'Barred since zero: 20° back.'],
])('%s degrees are counted as a person counts them', (degrees, words) => {
  expect(barredWords(degrees)).toBe(words);
});
