import { boreRunOut, eccentricityFrom, judge, type LengthUnit, totalReading } from '../engine/index.ts';
import type { Draw } from './chance.ts';
import { asked, type Draws, words } from './draw-kit.ts';
import { writeLength } from './worked-kit.ts';

/** A length with its sign, as a reading beside zero is told. */
export function signed(value: number, unit: LengthUnit, decimals?: number): string {
  const text = writeLength(value, unit, decimals);
  return value > 0 ? `+${text}` : text;
}

/**
 * A highest and a lowest reading, in graduations, that no slip can hide in: the one is neither the other nor three times the other.
 */
export function highAndLow(draw: Draw, most: number): readonly [high: number, low: number] {
  const high = draw.whole(2, most);
  const low = draw.whole(1, most);
  return high === low || high === 3 * low || low === 3 * high ? highAndLow(draw, most) : [high, -low];
}

/** Where in a list of `count` the highest and the lowest stand: two places, never the same. */
export function twoPlaces(draw: Draw, count: number): readonly [number, number] {
  const first = draw.whole(0, count - 1);
  return [first, (first + draw.whole(1, count - 1)) % count];
}

export const THOU = 0.001;
export const HALF_THOU = 0.0005;
const HUNDREDTH = 0.01;

/** Examples out of published manuals (`RunOutDefinition`, `EndPlayDefinition`); sizes common practice, no source. */
export const SHAFT_DRAWS: Draws = {
  /** Four readings round a flange; the whole reading is asked for. */
  'run-out-tir': (draw) => {
    const [high, low] = highAndLow(draw, 6);
    const [highAt, lowAt] = twoPlaces(draw, 3);
    const clock = [0, 1, 2].map((place) => (place === highAt ? high : place === lowAt ? low : 0) * THOU);
    const value = totalReading([0, ...clock]);
    const [three, six, nine] = clock.map((one) => signed(one, 'in')) as [string, string, string];
    const [highest, lowest] = [high * THOU, low * THOU];
    return asked(
      { three, six, nine },
      {
        ...{ value, unit: 'in', within: 0.0002 },
        slips: [
          {
            value: Math.max(highest, -lowest),
            why: 'That is the largest reading alone. How far the pointer went to the other side of zero belongs to it.',
          },
          {
            value: Math.abs(highest + lowest),
            why: 'The minus was lost: from below zero to above it the pointer travels both parts.',
          },
          {
            value: eccentricityFrom(value),
            why: 'That is half of it, how far the part is off centre. The whole reading was asked for.',
          },
        ],
        sum: `Largest less smallest: ${signed(highest, 'in')} − (${signed(lowest, 'in')}) = ${writeLength(value, 'in')} in.`,
      },
    );
  },
  /** A shaft on V-blocks; the bend is asked for. */
  'run-out-bend': (draw) => {
    const [high, low] = highAndLow(draw, 9).map((one) => one * HUNDREDTH) as [number, number];
    const whole = totalReading([high, low]);
    const value = eccentricityFrom(whole);
    return asked(
      { high: signed(high, 'mm'), low: signed(low, 'mm') },
      {
        ...{ value, unit: 'mm', within: 0.002 },
        slips: [
          { value: whole, why: 'That is the whole reading. A shaft bent by e shows it twice, up and down.' },
          {
            value: Math.max(high, -low),
            why: 'That is the larger reading alone. It hangs on where zero was taken; the whole reading does not.',
          },
          {
            value: eccentricityFrom(Math.abs(high + low)),
            why: 'The minus was lost: the two readings lie on either side of zero.',
          },
        ],
        sum: `Whole reading ${signed(high, 'mm')} − (${signed(low, 'mm')}) = ${writeLength(whole, 'mm')} mm; bend is half of it, ${writeLength(value, 'mm', 3)} mm.`,
      },
    );
  },
  /** A housing bore read against gravity: the vertical run-out is asked for. */
  'housing-bore': (draw) => {
    const lift = draw.whole(2, 4);
    const twelve = -draw.whole(lift + 1, lift + 5);
    const nine = draw.whole(3, 5);
    const three = draw.whole(1, 2);
    const { vertical, horizontal } = boreRunOut({
      ...{ nine: nine * THOU, twelve: twelve * THOU, three: three * THOU, lift: lift * THOU },
    });
    const text = (count: number) => signed(count * THOU, 'in');
    return asked(
      { nine: text(nine), twelve: text(twelve), three: text(three), lift: text(lift) },
      {
        ...{ value: vertical, unit: 'in', within: 0.0004 },
        slips: [
          {
            value: twelve * THOU,
            why: 'The bearing clearance was left out. The crank lies low by it, and at 12 the gauge reads that much too little.',
          },
          {
            value: (twelve - lift) * THOU,
            why: 'The clearance was taken off. It is always plus: lifting the crank brings it back to where it runs.',
          },
          { value: horizontal, why: 'That is the horizontal run-out, 9 less 3.' },
        ],
        sum: `Vertical is the reading at 12 plus the lift: ${text(twelve)} + ${text(lift).slice(1)} = ${signed(vertical, 'in')} in.`,
      },
    );
  },
  /** A whole reading on either side of a limit that is set on half of it. */
  'run-out-limit': (draw) => {
    const limit = 5 * HUNDREDTH;
    const whole = (draw.whole(0, 1) === 0 ? draw.whole(6, 9) : draw.whole(11, 15)) * HUNDREDTH;
    const bend = eccentricityFrom(whole);
    const { verdict } = judge(bend, null, { lower: null, upper: limit });
    return words({
      ...{ whole: writeLength(whole, 'mm'), limit: writeLength(limit, 'mm') },
      ...{ bend: writeLength(bend, 'mm', 3), verdict },
    });
  },
  /** Zero taken somewhere in the float, pried both ways: the end play is asked for. */
  'end-play-both-ways': (draw) => {
    const [high, low] = highAndLow(draw, 14).map((one) => one * HALF_THOU) as [number, number];
    const value = totalReading([0, high, low]);
    const text = (length: number) => signed(length, 'in', 4);
    return asked(
      { front: text(high), rear: text(low) },
      {
        ...{ value, unit: 'in', within: 0.0002 },
        slips: [
          {
            value: Math.max(high, -low),
            why: 'That is one way only. The crank stood somewhere between its stops when zero was taken.',
          },
          {
            value: Math.abs(high + low),
            why: 'The minus was lost: from one stop to the other the pointer passes zero and goes on.',
          },
          {
            value: value / 2,
            why: 'Nothing is halved. End play is the whole movement, and halving belongs to what turns off centre.',
          },
        ],
        sum: `From stop to stop: ${text(high)} − (${text(low)}) = ${writeLength(value, 'in', 4)} in.`,
      },
    );
  },
  /** A pointer that ran backwards on a continuous face of 50 graduations. */
  'end-play-backwards': (draw) => {
    const back = draw.whole(9, 28);
    const count = back === 25 ? 24 : back;
    const value = count * HALF_THOU;
    const pointer = 50 - count;
    const half = (graduations: number) => writeLength(graduations * HALF_THOU, 'in', 4);
    return asked(
      { pointer: String(pointer) },
      {
        ...{ value, unit: 'in', within: 0.0002 },
        slips: [
          {
            value: pointer * HALF_THOU,
            why: 'The face was read the way it is numbered. The pointer came the other way round, from 0 down.',
          },
          {
            value: count * THOU,
            why: 'That counts each graduation as 0.001 in. On this face one graduation is 0.0005 in.',
          },
        ],
        sum: `The pointer went back by 50 − ${pointer} = ${count} graduations: ${count} × 0.0005 = ${half(count)} in.`,
      },
    );
  },
  /** A used crankshaft's end play: between the two rows of a specification, or outside both. */
  'end-play-row': (draw) => {
    const play = [draw.whole(5, 10), draw.whole(13, 16), draw.whole(20, 24), draw.whole(1, 2)][
      draw.whole(0, 3)
    ] as number;
    const { verdict } = judge(play * THOU, null, { lower: 0.004, upper: 0.018 });
    return words({ play: writeLength(play * THOU, 'in'), verdict });
  },
};
