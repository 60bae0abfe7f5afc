import { boreDiameter, boreResults, rockerRatio, valveLift } from '../engine/index.ts';
import { asked, type Draws, words } from './draw-kit.ts';
import { HALF_THOU, signed, THOU } from './draws-shop-shafts.ts';
import { writeLength } from './worked-kit.ts';
import { exampleEvent, exampleLift, passesAt } from './worked-shop-curve.ts';

const text = (length: number) => writeLength(length, 'in', 4);

/** Numbers drawn for the lessons on bores, valves and the lift curve. Sizes common practice, no source. */
export const BORE_DRAWS: Draws = {
  /** A bore gauge’s turning point from the ring: the diameter. */
  'bore-diameter': (draw) => {
    const ring = 4.125;
    const count = draw.whole(2, 9) * (draw.whole(0, 1) === 0 ? 1 : -1);
    const reading = count * HALF_THOU;
    const value = boreDiameter(ring, reading);
    return asked(
      { ring: text(ring), reading: signed(reading, 'in', 4) },
      {
        ...{ value, unit: 'in', within: 0.0002 },
        slips: [
          {
            value: ring + reading,
            why: 'The sign was taken the other way. A larger bore lets the plunger out, and the pointer goes to minus.',
          },
          {
            value: ring - reading * 2,
            why: 'The reading was doubled. The gauge spans the diameter, not the radius.',
          },
        ],
        sum: `${text(ring)} − (${signed(reading, 'in', 4)}) = ${text(value)} in.`,
      },
    );
  },
  /** Six diameters; out-of-round or taper asked for. */
  'bore-taper': (draw) => {
    const base = 4.125;
    const taper = draw.whole(3, 6);
    const round = draw.whole(1, 2);
    const at = (count: number) => base + count * HALF_THOU;
    const along = [taper + 1, draw.whole(1, 2), 1] as const;
    const across = along.map((count) => count + round) as [number, number, number];
    const levels = ['top', 'middle', 'bottom'] as const;
    const diameters = levels.flatMap(
      (level, index) =>
        [
          { level, axis: 'along', diameter: at(along[index] ?? 0) },
          { level, axis: 'across', diameter: at(across[index] ?? 0) },
        ] as const,
    );
    const results = boreResults(diameters);
    if (results === null) throw new RangeError('A bore without diameters.');
    return asked(
      {
        topAlong: text(at(along[0])),
        topAcross: text(at(across[0])),
        middleAlong: text(at(along[1])),
        middleAcross: text(at(across[1])),
        bottomAlong: text(at(along[2])),
        bottomAcross: text(at(across[2])),
      },
      {
        ...{ value: results.taper, unit: 'in', within: 0.0002 },
        slips: [
          {
            value: results.outOfRound,
            why: 'That is the out-of-round: two diameters across each other at one depth. Taper is between two depths.',
          },
          {
            value: at(across[0]) - at(along[2]),
            why: 'That compares two directions as well as two depths. Taper is taken along one direction.',
          },
        ],
        sum: `Largest difference of two depths in one direction: ${text(results.taper)} in.`,
      },
    );
  },
  /** What a valve lifts by lobe, ratio and lash. */
  'valve-lift': (draw) => {
    const lobe = draw.whole(240, 320) * THOU;
    const ratio = [1.4, 1.5, 1.6, 1.7][draw.whole(0, 3)] ?? 1.5;
    const lash = draw.whole(8, 20) * THOU;
    const value = valveLift(lobe, ratio, lash);
    return asked(
      { lobe: writeLength(lobe, 'in'), ratio: String(ratio), lash: writeLength(lash, 'in') },
      {
        ...{ value, unit: 'in', within: 0.0006 },
        slips: [
          {
            value: lobe * ratio,
            why: 'The lash was left out. The valve moves only once it has been taken up.',
          },
          {
            value: (lobe - lash) * ratio,
            why: 'The lash was taken off at the lobe’s side. It is the gap at the valve, after the ratio.',
          },
          { value: lobe - lash, why: 'The rocker’s ratio was left out.' },
        ],
        sum: `${writeLength(lobe, 'in')} × ${ratio} − ${writeLength(lash, 'in')} = ${text(value)} in.`,
      },
    );
  },
  /** The rocker’s ratio from two readings and the lash. */
  'rocker-ratio': (draw) => {
    const lobe = draw.whole(250, 310) * THOU;
    const ratio = draw.whole(14, 17) / 10;
    const lash = draw.whole(8, 20) * THOU;
    const lift = Math.round(valveLift(lobe, ratio, lash) * 1000) / 1000;
    const value = rockerRatio(lift, lash, lobe);
    return asked(
      { lobe: writeLength(lobe, 'in'), lift: writeLength(lift, 'in'), lash: writeLength(lash, 'in') },
      {
        ...{ value, unit: '', within: 0.01 },
        slips: [
          { value: lift / lobe, why: 'The lash was left out: the rocker moved by it before the valve did.' },
          { value: lobe / lift, why: 'That is upside down. The valve lifts more than the lobe.' },
        ],
        sum: `(${writeLength(lift, 'in')} + ${writeLength(lash, 'in')}) ÷ ${writeLength(lobe, 'in')} = ${value.toFixed(2)}.`,
      },
    );
  },
  /** Two lines of a table on either side of a height: where it is passed. */
  'passes-at': (draw) => {
    const { opensDeg } = exampleEvent(0.05);
    const from = Math.floor(opensDeg / 5) * 5 - (draw.whole(0, 1) === 0 ? 0 : 2);
    const to = from + 5;
    const lifts = [exampleLift(from), exampleLift(to)].map((lift) => Number(lift.toFixed(3))) as [
      number,
      number,
    ];
    const value = passesAt(0.05, [
      { deg: from, lift: lifts[0] },
      { deg: to, lift: lifts[1] },
    ]);
    return asked(
      {
        from: String(from).replace('-', '−'),
        to: String(to).replace('-', '−'),
        low: writeLength(lifts[0], 'in'),
        high: writeLength(lifts[1], 'in'),
      },
      {
        ...{ value, unit: '°', within: 0.15 },
        slips: [
          {
            value: to - (value - from),
            why: 'It looks as if you counted from the wrong line. The share is counted from the first.',
          },
          {
            value: (from + to) / 2,
            why: 'That is the middle between the two lines. The height lies nearer to one of them.',
          },
        ].filter((slip) => Math.abs(slip.value - value) > 0.3),
        sum: `${from}° + 5° × (0.050 − ${writeLength(lifts[0], 'in')}) ÷ (${writeLength(lifts[1], 'in')} − ${writeLength(lifts[0], 'in')}) = ${value.toFixed(1)}°.`,
      },
    );
  },
  /** Opening and closing of an event: its width. */
  'event-width': (draw) => {
    const opens = -draw.whole(20, 60) / 2;
    const closes = draw.whole(300, 360) / 2;
    const write = (deg: number) => String(deg).replace('-', '−');
    return asked(
      { opens: write(opens), closes: write(closes) },
      {
        ...{ value: closes - opens, unit: '°', within: 0.3 },
        slips: [
          {
            value: closes + opens,
            why: 'The minus was lost. It opens before top dead centre, so both parts are added.',
          },
          {
            value: (closes + opens) / 2,
            why: 'That is the middle of the event, its centre. The width was asked for.',
          },
          { value: (closes - opens) / 2, why: 'Those are degrees of cam. The wheel stands on the crank.' },
        ],
        sum: `${write(closes)}° − (${write(opens)}°) = ${write(closes - opens)}°.`,
      },
    );
  },
  /** Top dead centre by a stop: the middle of two readings of the wheel. */
  'tdc-middle': (draw) => {
    const off = draw.whole(-6, 6);
    const half = draw.whole(40, 60);
    const [before, after] = [360 - half + off, half + off];
    return words({
      before: String(before),
      after: String(after),
      right: off > 0 ? 'after' : off < 0 ? 'before' : 'zero',
      off: String(Math.abs(off)),
    });
  },
};
