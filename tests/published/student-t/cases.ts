import { coverageFactor } from '../../../server/engine/index.ts';
import { asPrinted, from, type PublishedCase } from '../published-case.ts';

const g2 = from('JCGM 100:2008 (GUM), table G.2', 'from memory');
const computed = from('Student t, two-sided', 'computed');

/** One column of the table: t for 1, 2, … 10 degrees of freedom. */
const COLUMNS: Readonly<Record<string, string>> = {
  '68.27': '1.84 1.32 1.20 1.14 1.11 1.09 1.08 1.07 1.06 1.05',
  '90': '6.31 2.92 2.35 2.13 2.02 1.94 1.89 1.86 1.83 1.81',
  '95': '12.71 4.30 3.18 2.78 2.57 2.45 2.36 2.31 2.26 2.23',
  '95.45': '13.97 4.53 3.31 2.87 2.65 2.52 2.43 2.37 2.32 2.28',
  '99': '63.66 9.92 5.84 4.60 4.03 3.71 3.50 3.36 3.25 3.17',
};

const THREE_DECIMALS = {
  1: '12.706',
  2: '4.303',
  3: '3.182',
  4: '2.776',
  5: '2.571',
  9: '2.262',
  10: '2.228',
  20: '2.086',
  50: '2.009',
} as const;

export const cases: readonly PublishedCase[] = [
  ...Object.entries(COLUMNS).flatMap(([percent, column]) =>
    column
      .split(' ')
      .map((t, index) =>
        g2(`t for ${percent} %, ${index + 1} degrees of freedom`, t, asPrinted(t), () =>
          coverageFactor(index + 1, Number(percent) / 100),
        ),
      ),
  ),
  g2('t for 95.45 %, 20 degrees of freedom', '2.13', asPrinted('2.13'), () => coverageFactor(20, 0.9545)),
  g2('t for 95.45 %, 50 degrees of freedom', '2.05', asPrinted('2.05'), () => coverageFactor(50, 0.9545)),
  ...Object.entries(THREE_DECIMALS).map(([freedom, t]) =>
    computed(`t for 95 %, ${freedom} degrees of freedom`, t, asPrinted(t), () =>
      coverageFactor(Number(freedom), 0.95),
    ),
  ),
];
