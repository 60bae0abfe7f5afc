import {
  convertTorque,
  type GuardedVerdict,
  indicatorErrorPart,
  judge,
  repeatabilityPart,
  resolutionPart,
  torqueSetting,
  uncertaintyBudget,
} from '../engine/index.ts';
import { asked, type Draws, INCH, words } from './draw-kit.ts';
import { writeLength } from './worked-kit.ts';

const inches = (thousandths: number) => thousandths * INCH.graduation;
const write = (thousandths: number, decimals = 3) => writeLength(inches(thousandths), 'in', decimals);

/** What each verdict of a guarded judgement is called in a question. */
const GUARDED: Readonly<Record<GuardedVerdict, string>> = {
  inside: 'inside',
  below: 'below',
  above: 'above',
  'too-close-to-call': 'close',
};

/** Numbers drawn for the lessons on judging readings and putting things together. */
export const JUDGING_DRAWS: Draws = {
  /** A page with three camshafts; the reading is inside one row and outside another. */
  'spec-row': (draw) => {
    const base = draw.whole(212, 232);
    const step = draw.whole(9, 12);
    const letters = ['A', 'B', 'C'] as const;
    const own = draw.whole(0, 2);
    const nominal = (row: number) => base + row * step;
    // Inside its own row, or in the row of a neighbour.
    const lift =
      nominal(own) +
      (draw.whole(0, 1) === 0
        ? draw.whole(-3, 3)
        : step * (draw.whole(0, 1) === 0 ? 1 : -1) + draw.whole(-2, 2));
    const rows = letters.map((letter, row) => ({
      letter,
      lower: nominal(row) - 4,
      upper: nominal(row) + 4,
    }));
    const mine = rows[own] ?? { letter: 'A', lower: 0, upper: 0 };
    const low = rows[own === 0 ? 1 : own - 1] ?? mine;
    return words({
      rows: rows.map((row) => `${row.letter}: ${write(row.lower)} to ${write(row.upper)} in`).join('; '),
      letter: mine.letter,
      lift: write(lift),
      lower: write(mine.lower),
      upper: write(mine.upper),
      verdict: judge(inches(lift), null, { lower: inches(mine.lower), upper: inches(mine.upper) }).verdict,
      otherLetter: low.letter,
      otherVerdict: judge(inches(lift), null, { lower: inches(low.lower), upper: inches(low.upper) }).verdict,
    });
  },
  /** How far a reading lies below its limit, in graduations. */
  'graduations-off': (draw) => {
    const lower = draw.whole(215, 260);
    const off = draw.whole(3, 17);
    const lift = lower - off;
    return asked(
      { lower: write(lower), lift: write(lift), graduation: String(INCH.graduation) },
      {
        value: off,
        unit: '',
        within: 0.2,
        slips: [
          { value: inches(off), why: 'That is in inches. Divide by the value of a graduation.' },
          { value: off / 2, why: 'That would be graduations of 0.002 in.' },
        ],
        sum: `(${write(lower)} − ${write(lift)}) in ÷ ${INCH.graduation} in = ${off} graduations.`,
      },
    );
  },
  /** A reading, limits and an uncertainty, judged with a guard band. */
  guarded: (draw) => {
    const lower = draw.whole(225, 245);
    const upper = lower + 12;
    const u = draw.whole(3, 6) / 2;
    const where = draw.whole(0, 3);
    const off = draw.whole(1, 2) / 2;
    const value =
      [lower + 6, lower + (draw.whole(0, 1) === 0 ? off : -off), lower - u - 1, upper + u + 1][where] ??
      lower;
    const { verdict } = judge(
      inches(value),
      { expanded: inches(u), k: 2 },
      { lower: inches(lower), upper: inches(upper) },
      'guarded',
    );
    return words({
      value: write(value, 4),
      lower: write(lower, 4),
      upper: write(upper, 4),
      u: write(u, 4),
      verdict: GUARDED[verdict],
    });
  },
  /** Two readings of one lobe: near enough for a mean, or not. */
  'two-readings': (draw) => {
    const first = draw.whole(210, 260);
    const apart = draw.whole(0, 1) === 0 ? draw.whole(0, 1) : draw.whole(2, 6);
    const second = first + (draw.whole(0, 1) === 0 ? apart : -apart);
    return words({
      first: write(first),
      second: write(second),
      apart: write(apart),
      mean: write((first + second) / 2, 4),
      right: apart <= 1 ? 'mean' : 'why',
    });
  },
  /** U of a reading from its parts: graduation, gauge, scatter of three. */
  'uncertainty-of-parts': (draw) => {
    const gauge = draw.whole(5, 10) / 10;
    const spread = draw.whole(1, 2);
    const middle = draw.whole(230, 240);
    const readings = [middle - spread / 2, middle, middle + spread / 2].map(inches);
    const parts = [
      resolutionPart(INCH.graduation),
      indicatorErrorPart(inches(gauge)),
      repeatabilityPart(readings),
    ];
    const { combined, lines } = uncertaintyBudget(parts, { k: 2 });
    const [resolution = 0, error = 0, scatter = 0] = lines.map(({ contribution }) => contribution);
    const text = (value: number) => value.toFixed(5);
    return asked(
      { resolution: text(resolution), error: text(error), scatter: text(scatter) },
      {
        value: 2 * combined,
        unit: 'in',
        within: combined * 0.02,
        slips: [
          { value: combined, why: 'That is the combined standard uncertainty. U is k times it, and k is 2.' },
          {
            value: 2 * (resolution + error + scatter),
            why: 'It looks as if the parts were added. They are squared, added, and the root is taken: not all of them are at their worst together.',
          },
        ],
        sum: `√(${text(resolution)}² + ${text(error)}² + ${text(scatter)}²) = ${text(combined)}; times 2 = ${text(2 * combined)} in.`,
      },
    );
  },
  /** Wrench, adapter in line, wanted torque: the setting. */
  'adapter-in-line': (draw) => {
    const wanted = draw.whole(15, 60);
    const wrench = draw.whole(12, 20);
    const adapter = draw.whole(4, 10) / 4;
    const setting = torqueSetting(wanted, wrench, adapter, 0);
    return asked(
      { wanted: String(wanted), wrench: String(wrench), adapter: adapter.toFixed(2) },
      {
        value: setting,
        unit: 'lbf·ft',
        within: setting * 0.006,
        slips: [
          {
            value: wanted,
            why: 'The adapter was left out. In line it makes the wrench longer, so the nut would get more than wanted.',
          },
          {
            value: (wanted * wanted) / setting,
            why: 'It looks as if the fraction stood upside down. The setting must come out lower than what is wanted.',
          },
        ],
        sum: `${wanted} × ${wrench} ÷ (${wrench} + ${adapter.toFixed(2)}) = ${setting.toFixed(1)} lbf·ft.`,
      },
    );
  },
  /** The nut’s torque when the adapter was forgotten. */
  'adapter-forgotten': (draw) => {
    const wanted = draw.whole(20, 60);
    const wrench = draw.whole(12, 18);
    const adapter = draw.whole(8, 14) / 4;
    const setting = torqueSetting(wanted, wrench, adapter, 0);
    const got = (wanted * wanted) / setting;
    return asked(
      { wanted: String(wanted), wrench: String(wrench), adapter: adapter.toFixed(2) },
      {
        value: got,
        unit: 'lbf·ft',
        within: got * 0.006,
        slips: [
          {
            value: setting,
            why: 'That is what should have been set. The nut got more than was wanted, not less.',
          },
          { value: wanted, why: 'The wrench clicked there, but the adapter made it longer.' },
        ],
        sum: `${wanted} × (${wrench} + ${adapter.toFixed(2)}) ÷ ${wrench} = ${got.toFixed(1)} lbf·ft.`,
      },
    );
  },
  /** A torque in the other unit. */
  'torque-other-unit': (draw) => {
    const pounds = draw.whole(10, 120);
    const newtons = convertTorque(pounds, 'lbf-ft', 'N-m');
    return asked(
      { pounds: String(pounds) },
      {
        value: newtons,
        unit: 'N·m',
        within: newtons * 0.006,
        slips: [
          {
            value: convertTorque(pounds, 'N-m', 'lbf-ft'),
            why: 'That is the other way round. A newton metre is the smaller one, so there are more of them.',
          },
          { value: pounds * 12, why: 'Those are pound-force inches.' },
        ],
        sum: `${pounds} × 1.3558 = ${newtons.toFixed(1)} N·m.`,
      },
    );
  },
  /** A lift on either side of its lower limit: what is written, and what is done. */
  'what-next': (draw) => {
    const lower = draw.whole(225, 245);
    const kind = draw.whole(0, 2);
    const others = lower + 4;
    const lift = kind === 0 ? lower - draw.whole(2, 9) : kind === 1 ? others - draw.whole(4, 4) : others;
    return words({
      lift: write(lift),
      lower: write(lower),
      others: write(others),
      right: kind === 0 ? 'again' : kind === 1 ? 'report' : 'service',
      diff: write(others - lift),
    });
  },
};
