import { USUAL_LOBE } from '../../views/figures/usual-lobe.ts';
import { CYCLE_DEG, displacementMm, FIRING_ORDERS, firingTdcDeg, fromMm } from '../engine/index.ts';
import type { Draw } from './chance.ts';
import { asked, type Draws, INCH, words } from './draw-kit.ts';
import { writeLength } from './worked-kit.ts';

const ORDERS = [FIRING_ORDERS[4], FIRING_ORDERS[6]] as const;

function anOrder(draw: Draw): readonly number[] {
  return ORDERS[draw.whole(0, 1)] ?? FIRING_ORDERS[4];
}

const inches = (thousandths: number) => thousandths * INCH.graduation;

/** Numbers drawn for the lessons on engines, cams and injection. */
export const ENGINE_DRAWS: Draws = {
  /** Degrees barred at the crank; the cam turns half as far. */
  'crank-to-cam': (draw) => {
    const crank = draw.whole(5, 34) * 20;
    return asked(
      { crank: String(crank) },
      {
        value: crank / 2,
        unit: '°',
        within: 0.5,
        slips: [
          { value: crank, why: 'It looks as if cam and crank were taken to turn alike.' },
          { value: crank * 2, why: 'It looks as if you doubled. The cam is the slower one.' },
        ],
        sum: `The cam turns once in two turns of the crank: ${crank}° ÷ 2 = ${crank / 2}°.`,
      },
    );
  },
  /** How often one lobe lifts in so many turns of the crank, from its base circle. */
  'lifts-in-turns': (draw) => {
    const turns = draw.whole(2, 9) * 2;
    return asked(
      { turns: String(turns) },
      {
        value: turns / 2,
        unit: '',
        within: 0.1,
        slips: [
          {
            value: turns,
            why: 'It looks as if each turn of the crank were counted. The cam turns at half its speed.',
          },
          { value: turns * 2, why: 'It looks as if you doubled instead of halving.' },
        ],
        sum: `One lift in 720° of crank: ${turns} ÷ 2 = ${turns / 2}.`,
      },
    );
  },
  /** From one position's lobe to another's, in degrees of crank, by the firing order. */
  'degrees-between-noses': (draw) => {
    const order = anOrder(draw);
    const from = draw.whole(0, order.length - 1);
    const places = draw.whole(1, Math.min(3, order.length - 1));
    const [first, other] = [order[from] ?? 1, order[(from + places) % order.length] ?? 1];
    const every = CYCLE_DEG / order.length;
    const between = (firingTdcDeg(order, other) - firingTdcDeg(order, first) + CYCLE_DEG) % CYCLE_DEG;
    return asked(
      { order: order.join('-'), from: String(first), to: String(other) },
      {
        value: between,
        unit: '°',
        within: 1,
        slips: [
          { value: between / 2, why: 'Those are degrees of the cam. The crank turns twice as far.' },
          {
            value: (places * 360) / order.length,
            why: `It looks as if one turn of the crank were shared by ${order.length} cylinders. The cycle has two.`,
          },
        ].filter(({ value }, index, all) => all.findIndex((one) => one.value === value) === index),
        sum: `One cycle of ${CYCLE_DEG}° ÷ ${order.length} cylinders = ${every}° from one to the next; ${places} on: ${between}°.`,
      },
    );
  },
  /** Which pump position comes to its nose next; the choices are the three that are left of four. */
  'next-position': (draw) => {
    const order = FIRING_ORDERS[4];
    const at = draw.whole(0, 3);
    const now = order[at] ?? 1;
    const next = order[(at + 1) % 4] ?? 1;
    const after = order[(at + 2) % 4] ?? 1;
    const before = order[(at + 3) % 4] ?? 1;
    const key = (position: number) => (position === next ? 'next' : position === after ? 'after' : 'before');
    const sorted = [next, after, before].sort((one, other) => one - other);
    return words({
      order: order.join('-'),
      now: String(now),
      next: String(next),
      first: String(sorted[0]),
      second: String(sorted[1]),
      third: String(sorted[2]),
      right: ['first', 'second', 'third'][sorted.indexOf(next)] ?? 'first',
      ...Object.fromEntries(
        sorted.map((position, index) => [
          ['sayfirst', 'saysecond', 'saythird'][index] ?? '',
          {
            next: `Right. In ${order.join('-')} position ${position} follows ${now}, ${CYCLE_DEG / 4}° of crank later.`,
            after: `That one comes after the next: ${CYCLE_DEG / 2}° on, a whole turn of the crank.`,
            before: `That one has just been. Barring forward it is the last to come round again.`,
          }[key(position)],
        ]),
      ),
    });
  },
  /** Four lobes of one engine, one of them off; how far from the mean of the others. */
  'odd-lobe': (draw) => {
    const nominal = draw.whole(220, 260);
    const low = draw.whole(0, 3);
    const off = draw.whole(9, 18);
    const lobes = [0, 1, 2, 3].map((index) => nominal + draw.whole(-1, 1) - (index === low ? off : 0));
    const others = lobes.filter((_, index) => index !== low);
    const mean = others.reduce((sum, lift) => sum + lift, 0) / others.length;
    const all = lobes.reduce((sum, lift) => sum + lift, 0) / lobes.length;
    const at = lobes[low] ?? 0;
    const write = (thousandths: number) => writeLength(inches(thousandths), 'in');
    return asked(
      {
        ...Object.fromEntries(lobes.map((lift, index) => [`lobe${index + 1}`, write(lift)])),
        position: String(low + 1),
      },
      {
        value: inches(mean - at),
        unit: 'in',
        within: inches(0.6),
        slips: [
          {
            value: inches(all - at),
            why: 'It looks as if the lobe itself were counted into the mean. Leave it out, or it pulls the mean towards itself.',
          },
        ],
        sum: `Mean of the other three ${writeLength(inches(mean), 'in', 4)} in, less ${write(at)} in: ${writeLength(inches(mean - at), 'in', 4)} in low.`,
      },
    );
  },
  /** A deposit on the base circle lies under the zero: what is read of a lift. */
  'build-up-under-zero': (draw) => {
    const lift = draw.whole(220, 260);
    const under = draw.whole(4, 12);
    const write = (thousandths: number) => writeLength(inches(thousandths), 'in');
    return asked(
      { lift: write(lift), under: write(under) },
      {
        value: inches(lift - under),
        unit: 'in',
        within: inches(0.5),
        slips: [
          {
            value: inches(lift + under),
            why: 'It looks as if you added. The zero was taken too high, so less is left to rise.',
          },
          {
            value: inches(lift),
            why: 'The zero stands on the deposit: the gauge does not know where the true base circle is.',
          },
        ],
        sum: `${write(lift)} in − ${write(under)} in = ${write(lift - under)} in.`,
      },
    );
  },
  /** How steep a rise is: lift between two places of the cam. */
  'lift-per-degree': (draw) => {
    const from = -draw.whole(28, 36);
    const step = draw.whole(2, 4) * 2;
    const at = (deg: number) => Math.round(fromMm(displacementMm(USUAL_LOBE, deg), 'in') * 1000);
    const [low, high] = [at(from), at(from + step)];
    const write = (thousandths: number) => writeLength(inches(thousandths), 'in');
    const each = inches(high - low) / step;
    return asked(
      { low: write(low), high: write(high), step: String(step), crank: String(step * 2) },
      {
        value: each,
        unit: 'in',
        within: each * 0.04,
        slips: [
          { value: each / 2, why: 'Those are inches per degree of crank. The cam turned half as far.' },
          { value: inches(high - low), why: 'That is the whole step. Share it by the degrees.' },
        ],
        sum: `(${write(high)} − ${write(low)}) in ÷ ${step}° of cam = ${each.toFixed(4)} in a degree.`,
      },
    );
  },
  /** Fuel moved by a plunger: its area times the part of the lift that presses. */
  'plunger-volume': (draw) => {
    const diameter = draw.whole(9, 12);
    const stroke = draw.whole(20, 45) / 10;
    const volume = (Math.PI / 4) * diameter ** 2 * stroke;
    return asked(
      { diameter: String(diameter), stroke: stroke.toFixed(1) },
      {
        value: volume,
        unit: 'mm³',
        within: volume * 0.02,
        slips: [
          {
            value: Math.PI * diameter ** 2 * stroke,
            why: 'It looks as if the diameter stood where half of it belongs: four times too much.',
          },
          { value: diameter ** 2 * stroke, why: 'That is a square plunger. A round one has π ÷ 4 of it.' },
        ],
        sum: `π ÷ 4 × ${diameter}² × ${stroke.toFixed(1)} = ${volume.toFixed(0)} mm³.`,
      },
    );
  },
  /** The pointer noted every 20° while barring: how long was it still? */
  'still-stretch': (draw) => {
    const still = draw.whole(2, 5);
    const isBase = still >= 3;
    const start = draw.whole(3, 8);
    const before = [start + draw.whole(14, 22), start + draw.whole(5, 9)];
    const after = [start + draw.whole(6, 10), start + draw.whole(16, 24)];
    const row = [...before, ...Array.from({ length: still + 1 }, () => start), ...after];
    return words({
      row: row.join(', '),
      still: String(still * 20),
      right: isBase ? 'base' : 'short',
    });
  },
};
