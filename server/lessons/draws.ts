import { judge } from '../engine/index.ts';
import { drawFrom } from './chance.ts';
import { type Drawn, type Draws, INCH, METRIC, reading, words } from './draw-kit.ts';
import { ENGINE_DRAWS } from './draws-engine.ts';
import { INSTRUMENT_DRAWS } from './draws-instrument.ts';
import { JUDGING_DRAWS } from './draws-judging.ts';
import { SHOP_DRAWS } from './draws-shop.ts';
import { writeLength } from './worked-kit.ts';

/**
 * What can be drawn. Sizes are those of the practice engines (common practice, no source); readings, small hand and verdicts are
 * the engine's.
 */
const DRAWS: Draws = {
  ...INSTRUMENT_DRAWS,
  ...ENGINE_DRAWS,
  ...JUDGING_DRAWS,
  ...SHOP_DRAWS,
  /** A lift of one to three turns on an inch dial, clear of whole turns. */
  'inch-reading': (draw) => reading(INCH, draw.whole(1, 3), draw.whole(12, 88), draw.whole(4, 19) / 10),
  /** A lift just short of a whole turn on a metric dial: the small hand looks like one turn more. */
  'metric-near-a-turn': (draw) =>
    reading(METRIC, draw.whole(4, 6), draw.whole(94, 98), draw.whole(10, 19) / 10),
  /** A high reading, and a return well below zero. */
  'lost-zero': (draw) => {
    const high = draw.whole(205, 285) * INCH.graduation;
    const back = -draw.whole(3, 7) * INCH.graduation;
    return words({
      high: writeLength(high, 'in'),
      back: writeLength(back, 'in'),
      less: writeLength(high + back, 'in'),
    });
  },
  /** A lift on either side of its limits, at least two graduations clear of them. */
  'against-limits': (draw) => {
    const nominal = draw.whole(210, 280);
    const [lower, upper] = [nominal - 4, nominal + 4];
    const side = draw.whole(0, 2);
    const off = draw.whole(2, 9);
    const lift = side === 0 ? lower - off : side === 1 ? upper + off : nominal + draw.whole(-2, 2);
    const inches = (thousandths: number) => thousandths * INCH.graduation;
    const limits = { lower: inches(lower), upper: inches(upper) };
    const { verdict } = judge(inches(lift), null, limits);
    return words({
      lift: writeLength(inches(lift), 'in'),
      lower: writeLength(limits.lower, 'in'),
      upper: writeLength(limits.upper, 'in'),
      verdict,
    });
  },
  /** A lift above nominal where the specification has no upper limit. */
  'above-nominal': (draw) => {
    const nominal = draw.whole(210, 280) * INCH.graduation;
    const over = draw.whole(3, 8) * INCH.graduation;
    const lower = nominal - 4 * INCH.graduation;
    const { verdict } = judge(nominal + over, null, { lower, upper: null });
    return words({
      lift: writeLength(nominal + over, 'in'),
      nominal: writeLength(nominal, 'in'),
      lower: writeLength(lower, 'in'),
      over: writeLength(over, 'in'),
      verdict,
    });
  },
  /** All lobes low by the same. */
  'all-low': (draw) => words({ low: writeLength(draw.whole(8, 15) * INCH.graduation, 'in') }),
  /** How far the pointer falls when the rod is pressed. */
  'press-drop': (draw) => words({ drop: writeLength(draw.whole(20, 40) * INCH.graduation, 'in') }),
};

/** Draws the numbers of a question; the same seed gives the same. @throws RangeError for a draw that is not known. */
export function drawNumbers(name: string | undefined, seed: string): Drawn {
  if (name === undefined) return words({});
  const draw = Object.hasOwn(DRAWS, name) ? DRAWS[name] : undefined;
  if (draw === undefined) throw new RangeError(`is "${name}"; known are ${Object.keys(DRAWS).join(', ')}`);
  return draw(drawFrom(seed));
}
