import {
  type BudgetPart,
  type Coverage,
  summarise,
  uncertaintyBudget,
} from '../../../server/engine/index.ts';
import { asPrinted, from, type PublishedCase, present } from '../published-case.ts';

const gtc = from('JCGM 100:2008 (GUM) H.1, as worked in MSLNZ/GTC, GUM_H1', 'seen');
const h1 = from('JCGM 100:2008 (GUM) H.1', 'from memory');
const table1 = from('JCGM 100:2008 (GUM) 4.4.3, table 1', 'from memory');
const supplement = from('JCGM 101:2008, 9.2', 'from memory');

/** End gauge, nanometres: l = ls + d − ls (δα θ + αs δθ). */
const LENGTH_NM = 50_000_623;
const ALPHA = 11.5e-6;
const THETA = -0.1;
const difference: BudgetPart[] = [
  { name: 'd0', distribution: 'normal', standard: 5.8, degreesOfFreedom: 24 },
  { name: 'd1', distribution: 'normal', standard: 3.9, degreesOfFreedom: 5 },
  { name: 'd2', distribution: 'normal', standard: 6.7, degreesOfFreedom: 8 },
];
const endGauge: BudgetPart[] = [
  // The certificate's U = 75 nm is three standard uncertainties.
  { name: 'ls', distribution: 'expanded', expanded: 75, k: 3, degreesOfFreedom: 18 },
  ...difference,
  {
    name: 'δα',
    distribution: 'rectangular',
    halfWidth: 1e-6,
    sensitivity: -LENGTH_NM * THETA,
    degreesOfFreedom: 50,
  },
  {
    name: 'δθ',
    distribution: 'rectangular',
    halfWidth: 0.05,
    sensitivity: -LENGTH_NM * ALPHA,
    degreesOfFreedom: 2,
  },
  { name: 'αs', distribution: 'rectangular', halfWidth: 2e-6, sensitivity: 0 },
  { name: 'θ̄', distribution: 'normal', standard: 0.2, sensitivity: 0 },
  { name: 'Δ', distribution: 'arcsine', halfWidth: 0.5, sensitivity: 0 },
];
/** Terms of the second order, H.1.7: the products of what has no effect in the first. */
const temperature = uncertaintyBudget([
  { name: 'θ̄', distribution: 'normal', standard: 0.2 },
  { name: 'Δ', distribution: 'arcsine', halfWidth: 0.5 },
]).combined;
const secondOrder: BudgetPart[] = [
  {
    name: 'δα θ',
    distribution: 'rectangular',
    halfWidth: 1e-6,
    sensitivity: LENGTH_NM * temperature,
  },
  {
    name: 'αs δθ',
    distribution: 'rectangular',
    halfWidth: 2e-6,
    sensitivity: (LENGTH_NM * 0.05) / Math.sqrt(3),
  },
];
const whole = (coverage?: Coverage) => uncertaintyBudget(endGauge, coverage);
const contribution = (name: string) => present(whole().lines.find((line) => line.name === name)).contribution;

const TEMPERATURES = [
  96.9, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07, 100.33, 100.42, 100.68, 100.95,
  101.11, 101.2, 101.57, 101.84, 102.36, 102.72,
];

const four = (width = 1): BudgetPart[] =>
  [1, 1, 1, width].map((sd, index) => ({
    name: `X${index + 1}`,
    distribution: 'rectangular',
    halfWidth: sd * Math.sqrt(3),
  }));
const fourNormal: BudgetPart[] = [1, 2, 3, 4].map((index) => ({
  name: `X${index}`,
  distribution: 'normal',
  standard: 1,
}));

export const cases: readonly PublishedCase[] = [
  ...(
    [
      ['ls', '25'],
      ['δθ', '16.599'],
      ['d2', '6.7'],
      ['d0', '5.8'],
      ['d1', '3.9'],
      ['δα', '2.88679'],
      ['αs', '0'],
      ['θ̄', '0'],
      ['Δ', '0'],
    ] as const
  ).map(([name, nm]) => gtc(`contribution of ${name}, nm`, nm, asPrinted(nm), () => contribution(name))),
  gtc('combined standard uncertainty, nm', '32', asPrinted('32'), () => whole().combined),
  gtc(
    'the same with terms of the second order, nm',
    '34',
    asPrinted('34'),
    () => uncertaintyBudget([...endGauge, ...secondOrder]).combined,
  ),
  h1('u(d), nm', '9.7', asPrinted('9.7'), () => uncertaintyBudget(difference).combined),
  // The print comes from the rounded 9.7.
  h1('degrees of freedom of u(d)', '25.6', 0.3, () => uncertaintyBudget(difference).effectiveDegrees),
  h1('effective degrees of freedom', '16', 0, () => whole().degreesOfFreedom),
  h1('t for 99 %', '2.92', asPrinted('2.92'), () => whole({ coverage: 0.99 }).k),
  // The print is 2.92 × 32.
  h1('expanded uncertainty for 99 %, nm', '93', 0.6, () => whole({ coverage: 0.99 }).expanded),
  table1('mean of 20 temperatures, °C', '100.145', 1e-9, () => summarise(TEMPERATURES).mean),
  table1('standard deviation, °C', '1.489', asPrinted('1.489'), () => present(summarise(TEMPERATURES).sd)),
  table1('standard deviation of the mean, °C', '0.333', asPrinted('0.333'), () =>
    present(summarise(TEMPERATURES).sdOfMean),
  ),
  supplement('four normal: u', '2.0', 1e-9, () => uncertaintyBudget(fourNormal).combined),
  supplement(
    'four normal: 95 % half-width',
    '3.92',
    asPrinted('3.92'),
    () => uncertaintyBudget(fourNormal).expanded,
  ),
  supplement('four rectangular: u', '2.0', 1e-9, () => uncertaintyBudget(four()).combined),
  supplement(
    'four rectangular: 95 % half-width by the GUM',
    '3.92',
    asPrinted('3.92'),
    () => uncertaintyBudget(four()).expanded,
  ),
  supplement(
    'one of them ten times wider: u',
    '10.1',
    asPrinted('10.1'),
    () => uncertaintyBudget(four(10)).combined,
  ),
  supplement(
    'one of them ten times wider: 95 % half-width by the GUM',
    '19.9',
    asPrinted('19.9'),
    () => uncertaintyBudget(four(10)).expanded,
  ),
];
