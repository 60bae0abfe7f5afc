import { judge } from '../../../server/engine/index.ts';
import { normalQuantile } from '../../../server/engine/statistics/distributions.ts';
import { asPrinted, from, type PublishedCase } from '../published-case.ts';

const jcgm = from('JCGM 106:2012', 'from memory');
const sandia = from('Sandia suncal manual, specific risk', 'seen');
const suncal = from('Sandia suncal, test_risk.py', 'seen');

const conforming = (y: number, u: number, lower: number | null, upper: number | null) =>
  judge(y, { expanded: u, k: 1 }, { lower, upper }).probability;

/** The lowest whole speed at which a limit of 100 km/h is passed with 99.9 %, known to 2 % of the reading. */
function speedOfProof(): number {
  for (let speed = 101; ; speed += 1)
    if (1 - conforming(speed, 0.02 * speed, null, 100) >= 0.999) return speed;
}

export const cases: readonly PublishedCase[] = [
  jcgm('7.3.3 example 1, Zener diode: probability of conformity', '0.92', asPrinted('0.92'), () =>
    conforming(-5.47, 0.05, null, -5.4),
  ),
  jcgm('7.4, viscosity of oil: probability of conformity', '0.66', asPrinted('0.66'), () =>
    conforming(13.6, 1.8, 12.5, 16.3),
  ),
  jcgm('8.3.3, speed beyond reasonable doubt, km/h', '107', 0, speedOfProof),
  sandia(
    '9.8 ± 0.1 in 9 to 10: probability outside',
    '0.022750131948180274',
    1e-14,
    () => 1 - conforming(9.8, 0.1, 9, 10),
  ),
  ...(
    [
      [10, '0.01242'],
      [10.5, '0.10574'],
      [12, '0.99379'],
    ] as const
  ).map(([y, outside]) =>
    suncal(
      `${y} ± 0.4 in 9 to 11: probability outside`,
      outside,
      asPrinted(outside),
      () => 1 - conforming(y, 0.4, 9, 11),
    ),
  ),
  ...(
    [
      ['0.80', '0.84'],
      ['0.90', '1.28'],
      ['0.95', '1.64'],
      ['0.99', '2.33'],
      ['0.999', '3.09'],
    ] as const
  ).map(([probability, z]) =>
    jcgm(`table 1: z for a probability of ${probability}`, z, asPrinted(z), () =>
      normalQuantile(Number(probability)),
    ),
  ),
];
