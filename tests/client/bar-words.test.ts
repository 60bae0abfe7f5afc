import { expect, it } from 'vitest';
import { barredWords } from '../../views/client/models/bar-words.ts';

it.each([
  [null, ''],
  [0, 'Barred since zero: 0°, by the mark on the damper.'],
  [359.4, 'Barred since zero: 359°, by the mark on the damper.'],
  [359.6, 'Barred since zero: 1 turn and 0°, by the mark on the damper.'],
  [720, 'Barred since zero: 2 turns and 0°, by the mark on the damper.'],
  [-20, 'Barred since zero: 20° back, by the mark on the damper.'],
])('%s degrees are counted as a person counts them', (degrees, words) => {
  expect(barredWords(degrees)).toBe(words);
});
