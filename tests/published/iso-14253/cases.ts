import { judge } from '../../../server/engine/index.ts';
import { asPrinted, from, type PublishedCase } from '../published-case.ts';

const ilac = from('ILAC-G8:09/2019', 'seen');
const iso = from('ISO 14253-1:2017', 'from memory');
const intake = from('US Army TM 5-3805-248-23-2, lobe lift', 'seen');
const known = { expanded: 2, k: 2 };

/** Chance that a value standing on the acceptance limit is bad after all: limit 100, u = 1, U = 2. */
const falseAccept = (bandInU: number) =>
  1 - judge(100 - bandInU * known.expanded, known, { lower: null, upper: 100 }).probability;

const worst = (bandInU: number, printed: string, computed: string): PublishedCase[] => [
  ilac(`guard band ${bandInU} U: worst false accept at most ${printed}`, 'yes', 0, () =>
    falseAccept(bandInU) <= Number(printed) ? 'yes' : 'no',
  ),
  from('ILAC-G8:09/2019, recomputed', 'computed')(
    `guard band ${bandInU} U: worst false accept`,
    computed,
    asPrinted(computed),
    () => falseAccept(bandInU),
  ),
];

/** ISO 14253-1 for a size of 9 to 10 known to U = 0.1: where proof of conformity and of non-conformity begin and end. */
const ruled = (y: number, verdict: string) =>
  iso(
    `9 to 10 with U = 0.1: ${y}`,
    verdict,
    0,
    () => judge(y, { expanded: 0.1, k: 2 }, { lower: 9, upper: 10 }, 'guarded').verdict,
  );

export const cases: readonly PublishedCase[] = [
  ...worst(0, '0.50', '0.5'),
  ...worst(0.83, '0.05', '0.0484572'),
  ...worst(1, '0.025', '0.0227501'),
  ...worst(1.5, '0.0016', '0.00134990'),
  ...worst(3, '1e-6', '9.86588e-10'),
  iso(
    'one-sided guard band of 1.65 u: probability of conformity',
    '0.9505',
    asPrinted('0.9505'),
    () => judge(8.35, { expanded: 1, k: 1 }, { lower: null, upper: 10 }).probability,
  ),
  ruled(8.89, 'below'),
  ruled(8.95, 'too-close-to-call'),
  ruled(9.05, 'too-close-to-call'),
  ruled(9.11, 'inside'),
  ruled(9.89, 'inside'),
  ruled(9.95, 'too-close-to-call'),
  ruled(10.05, 'too-close-to-call'),
  ruled(10.11, 'above'),
  ...(
    [
      ['intake', 0.3139, 0.3139, 'inside'],
      ['intake', 0.3138, 0.3139, 'below'],
      ['exhaust', 0.3408, 0.3408, 'inside'],
      ['exhaust', 0.3407, 0.3408, 'below'],
    ] as const
  ).map(([lobe, lift, lower, verdict]) =>
    intake(
      `${lobe} lobe, replace under ${lower} in: ${lift} in`,
      verdict,
      0,
      () => judge(lift, null, { lower, upper: null }).verdict,
    ),
  ),
];
