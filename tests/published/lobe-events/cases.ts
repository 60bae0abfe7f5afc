import {
  type Lobe,
  type LobeEvent,
  lobeEvent,
  type MotionLawName,
  SOUND_LOBE,
} from '../../../server/engine/index.ts';
import { asPrinted, from, type PublishedCase, present } from '../published-case.ts';

const roots = from('root of the law’s equation s(x) = 1/5 (mpmath 1.3 findroot, 30 digits)', 'computed');
const closed = from('closed form: every such law is at half its lift at half its flank', 'computed');

/** 50° of rise, 4° of dwell, 90° of fall, cam degrees; lift 0.250 in. */
const lobeOf = (law: MotionLawName): Lobe => ({
  ...{ law, liftMm: 6.35, riseCamDeg: 50, dwellCamDeg: 4, fallCamDeg: 90 },
  ...{ noseCrankDeg: 0, condition: SOUND_LOBE },
});
const eventAt = (law: MotionLawName, heightMm: number): LobeEvent =>
  present(lobeEvent(lobeOf(law), heightMm));

/** x of s(x) = 0.2 puts opening at −2 (2 + 50 (1 − x)) and closing at 2 (2 + 90 (1 − x)) crank degrees. */
const AT_A_FIFTH: readonly (readonly [MotionLawName, string, string])[] = [
  ['polynomial-3-4-5', '196.552577', '26.936082'],
  ['cycloidal', '193.831377', '26.547340'],
  ['polynomial-4-5-6-7', '189.973802', '25.996257'],
  ['simple-harmonic', '205.353174', '28.193311'],
];

export const cases: readonly PublishedCase[] = [
  ...AT_A_FIFTH.flatMap(([law, width, centre]) => [
    roots(
      `${law}: event width at 0.050 in of 0.250, crank °`,
      width,
      2 * asPrinted(width) + 5e-6,
      () => eventAt(law, 1.27).widthDeg,
    ),
    roots(
      `${law}: lobe centre there, from the nose, crank °`,
      centre,
      2 * asPrinted(centre) + 5e-6,
      () => eventAt(law, 1.27).centreDeg,
    ),
  ]),
  ...(['modified-sine', 'modified-trapezoid', 'cycloidal'] as const).flatMap((law) => [
    closed(`${law}: event width at half the lift, crank °`, '148', 1e-5, () => eventAt(law, 3.175).widthDeg),
    closed(`${law}: lobe centre at half the lift, crank °`, '20', 1e-5, () => eventAt(law, 3.175).centreDeg),
  ]),
];
