import { judgeBacklash, judgeLiner, largestStep, summarise, totalReading } from '../engine/index.ts';
import { asked, type Draws, words } from './draw-kit.ts';
import { HALF_THOU, signed, twoPlaces } from './draws-shop-shafts.ts';
import { writeLength } from './worked-kit.ts';

const TENTH = 0.0001;

/** Limits out of published manuals (`BacklashDefinition`, `LinerDefinition`); sizes common practice, no source. */
export const GEAR_DRAWS: Draws = {
  /** Backlash at four teeth; their spread is asked for. */
  'backlash-spread': (draw) => {
    const base = draw.whole(10, 16);
    const apart = draw.whole(2, 5);
    const [lowAt, highAt] = twoPlaces(draw, 4);
    const between = () => base + draw.whole(1, apart - 1);
    const teeth = [0, 1, 2, 3].map(
      (tooth) => (tooth === lowAt ? base : tooth === highAt ? base + apart : between()) * HALF_THOU,
    ) as [number, number, number, number];
    const [smallest, largest] = [Math.min(...teeth), Math.max(...teeth)];
    const value = totalReading(teeth);
    const text = (length: number) => writeLength(length, 'in', 4);
    const ends = Math.abs(teeth[0] - teeth[3]);
    const isOwn = Math.abs(ends - value) > HALF_THOU / 2 && ends > HALF_THOU / 2;
    return asked(
      { first: text(teeth[0]), second: text(teeth[1]), third: text(teeth[2]), fourth: text(teeth[3]) },
      {
        ...{ value, unit: 'in', within: 0.0002 },
        slips: [
          {
            value: largest,
            why: 'That is the largest backlash. The spread is how far the teeth differ from one another.',
          },
          {
            value: (smallest + largest) / 2,
            why: 'That is the middle of the two. A mean hides just what the spread is asked for.',
          },
          ...(isOwn
            ? [
                {
                  value: ends,
                  why: 'That is the first tooth against the last. Take the largest and the smallest.',
                },
              ]
            : []),
        ],
        sum: `Largest less smallest: ${text(largest)} − ${text(smallest)} = ${text(value)} in.`,
      },
    );
  },
  /** Four teeth against limits and a spread allowed: one verdict of four. */
  'backlash-verdict': (draw) => {
    const kind = draw.whole(0, 3);
    const base = [draw.whole(10, 18), draw.whole(24, 28), draw.whole(3, 4), draw.whole(10, 14)][
      kind
    ] as number;
    const apart = kind === 3 ? draw.whole(6, 8) : draw.whole(1, 2);
    const [lowAt, highAt] = twoPlaces(draw, 4);
    const teeth = [0, 1, 2, 3].map(
      (tooth) => (tooth === lowAt ? base : base + (tooth === highAt ? apart : 1)) * HALF_THOU,
    );
    const limits = { unit: 'in', lower: 0.004, upper: 0.012 } as const;
    const verdict = judgeBacklash(teeth, limits, 0.002, limits);
    const [first, second, third, fourth] = teeth.map((one) => writeLength(one, 'in', 4)) as [
      string,
      string,
      string,
      string,
    ];
    const spread = writeLength(totalReading(teeth), 'in', 4);
    return words({ first, second, third, fourth, spread, verdict });
  },
  /** Four points of a liner in ten-thousandths; their mean is asked for. */
  'liner-mean': (draw) => {
    const base = draw.whole(12, 24);
    const apart = 2 * draw.whole(3, 7);
    const points = [base, base, base + 1, base + apart].map((one) => one * TENTH);
    const turn = draw.whole(0, 3);
    const round = [0, 1, 2, 3].map((place) => points[(place + turn) % 4]) as [number, number, number, number];
    const value = summarise(round).mean;
    const text = (length: number) => writeLength(length, 'in', 4);
    const [smallest, largest] = [Math.min(...round), Math.max(...round)];
    return asked(
      { first: text(round[0]), second: text(round[1]), third: text(round[2]), fourth: text(round[3]) },
      {
        ...{ value, unit: 'in', within: 0.00006 },
        slips: [
          {
            value: (smallest + largest) / 2,
            why: 'That is the middle of the highest and the lowest. The mean takes all four points.',
          },
          { value: largest, why: 'That is the highest point. It is held against the limit for each point.' },
          {
            value: totalReading(round),
            why: 'That is how far the four points differ. It tells whether the liner stands even.',
          },
        ],
        sum: `(${round.map(text).join(' + ')}) ÷ 4 = ${writeLength(value, 'in', 5)} in.`,
      },
    );
  },
  /** Means of four liners in a row; the largest step between neighbours is asked for. */
  'liner-step': (draw) => {
    const low = draw.whole(14, 18);
    const up = draw.whole(5, 7);
    const more = draw.whole(9, 12);
    const fall = draw.whole(2, 3);
    // A rise, a greater rise, a fall: the lowest and the highest of the row are not neighbours.
    const means = [low, low + up, low + up + more, low + up + more - fall].map((one) => one * TENTH);
    const row = (draw.whole(0, 1) === 0 ? means : [...means].reverse()) as [number, number, number, number];
    const value = largestStep(row) ?? 0;
    const text = (length: number) => writeLength(length, 'in', 4);
    return asked(
      { first: text(row[0]), second: text(row[1]), third: text(row[2]), fourth: text(row[3]) },
      {
        ...{ value, unit: 'in', within: 0.00006 },
        slips: [
          {
            value: totalReading(row),
            why: 'That is the highest against the lowest of the whole row, and those two are not neighbours.',
          },
          {
            value: Math.abs(row[0] - row[3]),
            why: 'That is the first against the last. A gasket bridges from one liner to the next.',
          },
          { value: up * TENTH, why: 'That is a step between neighbours, and not the largest of the three.' },
        ],
        sum: `The steps are ${[0, 1, 2].map((place) => text(Math.abs((row[place + 1] ?? 0) - (row[place] ?? 0)))).join(', ')}; the largest is ${text(value)} in.`,
      },
    );
  },
  /** Four points of a liner against limits and a difference allowed: one verdict of four. */
  'liner-verdict': (draw) => {
    const kind = draw.whole(0, 3);
    const base = [draw.whole(14, 22), draw.whole(36, 40), draw.whole(3, 6), draw.whole(12, 13)][
      kind
    ] as number;
    const apart = kind === 3 ? draw.whole(23, 25) : draw.whole(6, 12);
    const [lowAt, highAt] = twoPlaces(draw, 4);
    const points = [0, 1, 2, 3].map(
      (point) => (point === lowAt ? base : point === highAt ? base + apart : base + draw.whole(1, 5)) * TENTH,
    ) as [number, number, number, number];
    const each = { unit: 'in', lower: 0.001, upper: 0.004 } as const;
    const verdict = judgeLiner(points, { each, within: 0.002, between: null }, each);
    const text = (length: number) => signed(length, 'in', 4);
    return words({
      ...{ first: text(points[0]), second: text(points[1]), third: text(points[2]), fourth: text(points[3]) },
      ...{ lowest: text(Math.min(...points)), highest: text(Math.max(...points)) },
      ...{ apart: writeLength(totalReading(points), 'in', 4), verdict },
    });
  },
};
