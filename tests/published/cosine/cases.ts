import { cosineFactor, shownLeaning, trueFromShown } from '../../../server/engine/index.ts';
import { asPrinted, from, type PublishedCase } from '../published-case.ts';

const maker = from('an indicator maker’s catalogue (2019)', 'seen');
const older = from('the same maker’s older print', 'seen');
const magazine = from('a machining magazine’s page on cosine error', 'seen');
const geometry = from('geometry', 'computed');

const pairs = <T>(values: readonly (readonly [number, string])[], make: (deg: number, print: string) => T) =>
  values.map(([deg, print]) => make(deg, print));

export const cases: readonly PublishedCase[] = [
  // The maker cuts some factors and rounds others: a hundredth either way.
  ...pairs(
    [
      [10, '0.98'],
      [20, '0.94'],
      [30, '0.87'],
      [40, '0.77'],
      [50, '0.64'],
      [60, '0.50'],
    ],
    (deg, print) => maker(`factor for ${deg}°`, print, 0.01, () => cosineFactor(deg)),
  ),
  ...pairs(
    [
      [30, '0.86'],
      [40, '0.76'],
    ],
    (deg, print) => older(`factor for ${deg}°`, print, 0.01, () => cosineFactor(deg)),
  ),
  // The prints are 0.200 times the printed factor, so off by up to 0.2 of its hundredth.
  ...pairs(
    [
      [10, '0.196'],
      [20, '0.188'],
      [30, '0.174'],
    ],
    (deg, print) =>
      maker(`shown 0.200 mm, leaning ${deg}°: true, mm`, print, 0.0015, () =>
        trueFromShown(0.2, deg, 'leans-on-square-face'),
      ),
  ),
  magazine('shown 0.004 in, leaning 60°: true, in', '0.002', 1e-12, () =>
    trueFromShown(0.004, 60, 'leans-on-square-face'),
  ),
  ...pairs(
    [
      [10, '0.984808'],
      [20, '0.939693'],
      [30, '0.866025'],
      [40, '0.766044'],
      [50, '0.642788'],
      [60, '0.500000'],
    ],
    (deg, print) => geometry(`cosine of ${deg}°`, print, asPrinted(print), () => cosineFactor(deg)),
  ),
  ...pairs(
    [
      [3, '0.200274'],
      [5, '0.200764'],
      [8, '0.201966'],
      [10, '0.203085'],
      [15, '0.207055'],
    ],
    (deg, print) =>
      geometry(`true 0.200 in, leaning ${deg}°: shown, in`, print, asPrinted(print), () =>
        shownLeaning(0.2, deg, 'leans-on-square-face'),
      ),
  ),
];
