import { DIALS, findIndicatorLimits, shownLeaning, summarise } from '../engine/index.ts';
import { asked, type Draws, INCH, METRIC, reading, words } from './draw-kit.ts';
import { writeLength } from './worked-kit.ts';

const BACKWARDS = DIALS['inch-0.001-1-backwards'];
const SHORT = DIALS['inch-0.001-0.25'];
const inches = (thousandths: number) => thousandths * INCH.graduation;
const write = (thousandths: number, decimals = 3) => writeLength(inches(thousandths), 'in', decimals);
const microns = (um: number) => writeLength(um / 1000, 'mm', 3);

/** Numbers drawn for the lessons on turns, setting up, checking and repeating. */
export const SET_UP_DRAWS: Draws = {
  /** A small hand that runs the other way. */
  'backwards-counter': (draw) =>
    reading(BACKWARDS, draw.whole(1, 3), draw.whole(14, 86), draw.whole(51, 79) / 10),
  /** A metric gauge, clear of whole turns. */
  'metric-reading': (draw) => reading(METRIC, draw.whole(3, 6), draw.whole(12, 88), draw.whole(4, 19) / 10),
  /** A reading in one unit, asked for in the other. */
  'other-unit': (draw) => {
    const thousandths = draw.whole(180, 320);
    const value = inches(thousandths) * 25.4;
    return asked(
      { length: write(thousandths) },
      {
        ...{ value, unit: 'mm', within: 0.006 },
        slips: [
          {
            value: inches(thousandths) / 25.4,
            why: 'It looks as if you divided. There are 25.4 mm in an inch, so the number grows.',
          },
          { value: value / 10, why: 'The point has slipped by one place.' },
        ],
        sum: `${write(thousandths)} × 25.4 = ${value.toFixed(3)} mm.`,
      },
    );
  },
  /** Travel left at the top of a short gauge. */
  'room-left': (draw) => {
    const lift = draw.whole(180, 215);
    const preload = draw.whole(20, 30);
    const travel = Math.round(SHORT.travel / INCH.graduation);
    const left = travel - lift - preload;
    return asked(
      { travel: write(travel), lift: write(lift), preload: write(preload) },
      {
        ...{ value: inches(left), unit: 'in', within: inches(0.5) },
        slips: [
          {
            value: inches(travel - lift),
            why: 'The preload was left out. The plunger is in by that much before the lobe comes.',
          },
          { value: inches(travel - preload), why: 'That is what is left before the lobe comes.' },
        ],
        sum: `${write(travel)} − ${write(lift)} − ${write(preload)} = ${writeLength(inches(left), 'in')} in.`,
      },
    );
  },
  /** What a leaning gauge reads too high. */
  'lean-error': (draw) => {
    const lift = draw.whole(210, 280);
    const degrees = draw.whole(8, 16);
    const value = shownLeaning(inches(lift), degrees, 'leans-on-square-face') - inches(lift);
    return asked(
      { lift: write(lift), degrees: String(degrees) },
      {
        ...{ value, unit: 'in', within: 0.00015 },
        slips: [
          {
            value: inches(lift) * Math.sin((degrees * Math.PI) / 180),
            why: 'It looks as if the sine was taken. The gauge’s way is longer by one over the cosine, which is far less.',
          },
        ],
        sum: `${write(lift)} ÷ cos ${degrees}° − ${write(lift)} = ${value.toFixed(4)} in high.`,
      },
    );
  },
  /** One place of a gauge over blocks, coming up and coming down. */
  hysteresis: (draw) => {
    const block = draw.whole(2, 9) / 10;
    const up = draw.whole(-4, 4);
    const apart = draw.whole(2, 7);
    const shown = (um: number) => writeLength(block + um / 1000, 'mm', 3);
    return asked(
      { block: writeLength(block, 'mm', 1), up: shown(up), down: shown(up + apart) },
      {
        ...{ value: apart / 1000, unit: 'mm', within: 0.0004 },
        slips: [
          {
            value: (up + apart) / 1000,
            why: 'That is the error coming down: shown less block. Hysteresis is between the two ways.',
          },
        ].filter(({ value }) => Math.abs(value - apart / 1000) > 0.0009),
        sum: `${shown(up + apart)} − ${shown(up)} = ${microns(apart)} mm.`,
      },
    );
  },
  /** Errors over blocks against the standard’s row for a 0.01 mm gauge of 10 mm. */
  'whole-range': (draw) => {
    const allowed = findIndicatorLimits(METRIC.graduation, METRIC.travel)?.wholeRangeUm ?? 15;
    const isGood = draw.whole(0, 1) === 0;
    const low = -draw.whole(2, 5);
    const span = isGood ? allowed - draw.whole(2, 5) : allowed + draw.whole(2, 6);
    const high = low + span;
    const middle = draw.whole(low + 1, 0);
    return words({
      errors: [0, high, middle, low].map((um) => microns(um)).join(', '),
      span: microns(span),
      allowed: microns(allowed),
      right: isGood ? 'inside' : 'outside',
    });
  },
  /** Three lifts of the tip: does it come back within half a graduation? */
  'three-lifts': (draw) => {
    const isGood = draw.whole(0, 1) === 0;
    const lifts = isGood ? [0, draw.whole(0, 1) / 2, 0] : [0, draw.whole(2, 4), draw.whole(1, 3) / 2 + 1];
    return words({
      lifts: lifts.map((one) => one.toFixed(1)).join(', '),
      right: isGood ? 'good' : 'loose',
    });
  },
  /** Five readings of one place: their mean. */
  'mean-of-five': (draw) => {
    const base = draw.whole(230, 245);
    const readings = [0, 1, 0, -1, draw.whole(0, 1)].map((off) => base + off);
    const value = summarise(readings.map(inches)).mean;
    const text = readings.map((one) => write(one));
    return asked(
      { readings: text.join(', ') },
      {
        ...{ value, unit: 'in', within: 0.00008 },
        slips: [
          { value: inches(base + 1), why: 'That is the largest of them.' },
          { value: inches(base - 1), why: 'That is the smallest of them.' },
        ].filter((slip) => Math.abs(slip.value - value) > 0.0002),
        sum: `Their sum ÷ 5 = ${value.toFixed(4)} in.`,
      },
    );
  },
};
