import {
  boreDiameter,
  boreResults,
  boreRunOut,
  eccentricityFrom,
  judge,
  judgeBacklash,
  judgeBore,
  judgeLiner,
  judgeStep,
  rockerRatio,
  totalReading,
  valveLift,
} from '../../../server/engine/index.ts';
import { from, type PublishedCase, present } from '../published-case.ts';

const face = from('TM 10-3930-664-24 and TM 5-3810-305-23, flywheel housing face', 'seen');
const bend = from('TM 10-3930-653-14P, crankshaft bend is half the reading', 'seen');
const geometry = from('geometry: a circle off centre by e reads 2e', 'computed');
const bore = from('dieselmechanic.info, flywheel housing bore (method: SAE J1033)', 'seen');
const endPlay = from('TM 5-3895-346-14, crankshaft end play, used', 'seen');
const wheel = from('TMC RP 618, wheel bearing end play', 'seen');
const gears = from('TM 9-2815-253-24, timing gear backlash limit', 'seen');
const liner = from('TM 9-2815-260-24, liner height 0.001 to 0.004 in, within 0.002 in', 'seen');

const used = from('TM 9-2320-302-34, cylinder liner, used: at most 130.100 mm anywhere', 'seen');
const bored = from('TM 9-2815-205-24, used liner: taper 0.002 in, out-of-round 0.003 in', 'seen');
const intake = from('TM 5-3805-280-24-2, intake valve lift: 0.463 to 0.481 in, worn 0.447 in', 'seen');
const exhaust = from('TM 5-3805-280-24-2, exhaust valve lift: 0.453 to 0.470 in, worn 0.436 in', 'seen');
const rocker = from('a page of questions on valve lift, 1.6 rocker', 'seen');
const train = from('geometry of the rocker: ratio × lobe lift − lash', 'computed');
const cylinder = from(
  'TM 9-2815-260-24: out-of-round across one depth, taper along one direction, the largest of each',
  'computed',
);
const gauge = from(
  'a tool seller’s page on bore gauges: zeroed at 2 in, turned back 0.007 in larger',
  'seen',
);

const IN = { unit: 'in' } as const;
const LINER = { each: { unit: 'in', lower: 0.001, upper: 0.004 }, within: 0.002, between: 0.002 } as const;

const BORED = { unit: 'in', nominal: 3.8752, upper: 3.9, outOfRound: 0.003, taper: 0.002 } as const;
const USED = { unit: 'mm', nominal: 130, upper: 130.1, outOfRound: 0.025, taper: 0.025 } as const;

const judged = (outOfRound: number, taper: number) => () =>
  judgeBore({ largest: 3.88, outOfRound, taper }, BORED, IN);
const usedBore = (largest: number) => () =>
  judgeBore({ largest, outOfRound: 0, taper: 0 }, USED, { unit: 'mm' });
/** Top, middle and bottom, along and across. */
const results = (...sizes: readonly number[]) =>
  boreResults(
    sizes.map((diameter, index) => ({
      level: (['top', 'middle', 'bottom'] as const)[index >> 1] ?? 'top',
      axis: index % 2 === 0 ? 'along' : 'across',
      diameter,
    })),
  );

const verdict = (measured: number, lower: number | null, upper: number | null) => () =>
  judge(measured, null, { lower, upper }, 'simple').verdict;
const backlash = (largest: number) => () =>
  judgeBacklash([0.004, largest], { unit: 'in', lower: null, upper: 0.012 }, null, IN);

export const cases: readonly PublishedCase[] = [
  face('readings 0, +0.003, −0.002, +0.003 in: TIR, in', '0.005', 1e-12, () =>
    totalReading([0, 0.003, -0.002, 0.003]),
  ),
  face('that TIR against the limit of 0.008 in', 'inside', 0, verdict(0.005, null, 0.008)),
  geometry('readings −0.01 to +0.03 mm: TIR, mm', '0.04', 1e-12, () => totalReading([-0.01, 0, 0.03, 0.02])),
  bend('TIR 0.1 mm: bend, mm', '0.05', 1e-12, () => eccentricityFrom(0.1)),
  bore(
    'at 9 o’clock 0.004 in, at 3 −0.002 in: horizontal run-out, in',
    '0.006',
    1e-12,
    () => boreRunOut({ nine: 0.004, twelve: 0, three: -0.002, lift: 0 }).horizontal,
  ),
  endPlay('0.018 in, the most', 'inside', 0, verdict(0.018, null, 0.018)),
  endPlay('0.019 in', 'above', 0, verdict(0.019, null, 0.018)),
  wheel('0.001 in', 'inside', 0, verdict(0.001, 0.001, 0.005)),
  wheel('0.006 in', 'above', 0, verdict(0.006, 0.001, 0.005)),
  gears('a tooth at 0.012 in', 'inside', 0, backlash(0.012)),
  gears('a tooth at 0.013 in', 'above', 0, backlash(0.013)),
  liner('0.001, 0.002, 0.003, 0.002 in', 'inside', 0, () =>
    judgeLiner([0.001, 0.002, 0.003, 0.002], LINER, IN),
  ),
  liner('a point at 0.0005 in', 'below', 0, () => judgeLiner([0.0005, 0.002, 0.002, 0.002], LINER, IN)),
  liner('a point at 0.005 in', 'above', 0, () => judgeLiner([0.003, 0.005, 0.004, 0.004], LINER, IN)),
  liner('points 0.0025 in apart', 'uneven', 0, () => judgeLiner([0.001, 0.0035, 0.002, 0.002], LINER, IN)),
  liner('neighbours 0.002 in apart', 'inside', 0, () => judgeStep(0.002, LINER, IN)),
  liner('neighbours 0.003 in apart', 'above', 0, () => judgeStep(0.003, LINER, IN)),
  intake('0.447 in', 'inside', 0, verdict(0.447, 0.447, 0.481)),
  intake('0.446 in', 'below', 0, verdict(0.446, 0.447, 0.481)),
  exhaust('0.436 in', 'inside', 0, verdict(0.436, 0.436, 0.47)),
  exhaust('0.471 in', 'above', 0, verdict(0.471, 0.436, 0.47)),
  rocker('a lobe of 0.310 in: valve lift, in', '0.496', 1e-12, () => valveLift(0.31, 1.6, 0)),
  rocker('a lobe of 0.270 in: valve lift, in', '0.432', 1e-12, () => valveLift(0.27, 1.6, 0)),
  rocker('0.496 in from a lobe of 0.310 in: ratio', '1.6', 1e-12, () => rockerRatio(0.496, 0, 0.31)),
  train('a lobe of 0.324 in, ratio 1.5, lash 0.012 in: valve lift, in', '0.474', 1e-12, () =>
    valveLift(0.324, 1.5, 0.012),
  ),
  used('130.100 mm', 'inside', 0, usedBore(130.1)),
  used('130.11 mm', 'above', 0, usedBore(130.11)),
  bored('out-of-round 0.003 in, taper 0.002 in', 'inside', 0, judged(0.003, 0.002)),
  bored('out-of-round 0.0035 in', 'out-of-round', 0, judged(0.0035, 0.002)),
  bored('taper 0.0025 in', 'tapered', 0, judged(0.003, 0.0025)),
  gauge('the bore, in', '2.007', 1e-12, () => boreDiameter(2, -0.007)),
  cylinder(
    '4.126 and 4.128 at the top, 4.125 and 4.1255 at the bottom: out-of-round, in',
    '0.002',
    1e-12,
    () => present(results(4.126, 4.128, 4.1255, 4.1265, 4.125, 4.1255)).outOfRound,
  ),
  cylinder(
    'the same: taper, in',
    '0.0025',
    1e-12,
    () => present(results(4.126, 4.128, 4.1255, 4.1265, 4.125, 4.1255)).taper,
  ),
];
