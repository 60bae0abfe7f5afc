import { isBelow } from '../../decision/judge-simply.ts';
import type { Dial } from '../../dial/dial.ts';
import { convertLength } from '../../units.ts';
import type { Figures, IndicatorCheckLimits, WrittenPoint } from './types.ts';

/** Binary rounding of places: a millionth of a turn. */
const HAIR_TURNS = 1e-6;

/** An error at a place, one way or the other. */
interface Point {
  readonly at: number;
  readonly way: 'up' | 'down';
  readonly error: number;
}

/** Largest less smallest; null for none. */
export function spread(values: readonly number[]): number | null {
  return values.length === 0 ? null : Math.max(...values) - Math.min(...values);
}

/**
 * Errors, shown less nominal, of all boxes that are filled; places rising. Any unit, that of the readings. Never throws. Source: JIS B 7503,
 * as at `indicatorFigures`.
 */
export function errorsOf(points: readonly WrittenPoint[]): Point[] {
  return [...points]
    .sort((a, b) => a.at - b.at)
    .flatMap(({ at, up, down }) => [
      ...(up === null ? [] : [{ at, way: 'up' as const, error: up - at }]),
      ...(down === null ? [] : [{ at, way: 'down' as const, error: down - at }]),
    ]);
}

/**
 * Spans of error from readings over gauge blocks, in the unit of the readings and of `rangePerTurn`; a figure is null where no readings
 * give it. One turn: over both ways together, the stricter reading. Source: JIS B 7503:2017, the procedure as given by a maker's page
 * ("Dial Indicators JIS B 7503: 2017"): whole range largest less smallest error both ways; a turn the same inside any turn; a tenth
 * of a turn the largest step between neighbouring points; hysteresis the largest difference at one point; repeatability the spread of five.
 * Never throws.
 */
export function indicatorFigures(
  points: readonly WrittenPoint[],
  repeats: readonly (number | null)[],
  { rangePerTurn }: Pick<Dial, 'rangePerTurn'>,
): { readonly [F in keyof Figures]: number | null } {
  const errors = errorsOf(points);
  const turns = (length: number) => length / rangePerTurn;
  const insideTurn = errors.map((from, index) => {
    let [low, high] = [from.error, from.error];
    for (let next = index + 1; next < errors.length; next += 1) {
      const point = errors[next];
      if (point === undefined || turns(point.at - from.at) > 1 + HAIR_TURNS) break;
      low = Math.min(low, point.error);
      high = Math.max(high, point.error);
    }
    return high - low;
  });
  const steps = (['up', 'down'] as const).flatMap((way) => {
    const own = errors.filter((point) => point.way === way);
    return own
      .slice(1)
      .flatMap((point, n) =>
        turns(point.at - (own[n]?.at ?? 0)) <= 0.1 + HAIR_TURNS
          ? [Math.abs(point.error - (own[n]?.error ?? 0))]
          : [],
      );
  });
  const both = points.flatMap(({ up, down }) => (up === null || down === null ? [] : [Math.abs(down - up)]));
  const most = (values: readonly number[]) => (values.length === 0 ? null : Math.max(...values));
  return {
    wholeRange: spread(errors.map(({ error }) => error)),
    oneTurn: most(insideTurn),
    adjacent: most(steps),
    hysteresis: most(both),
    repeatability: spread(repeats.filter((one) => one !== null)),
  };
}

export const FIGURES = ['wholeRange', 'oneTurn', 'adjacent', 'hysteresis', 'repeatability'] as const;

/**
 * The verdict that figures in the dial's unit call for: inside, or above where any of them is above its limit; a limit belongs to the
 * inside. Null where a figure is missing and none of the others is above. Never throws.
 * Source: simple acceptance, ISO 14253-1; limits of JIS B 7503.
 */
export function judgeIndicator(
  figures: { readonly [F in keyof Figures]: number | null },
  limits: IndicatorCheckLimits,
  { unit }: Pick<Dial, 'unit'>,
): 'inside' | 'above' | null {
  const above = FIGURES.some((name) => {
    const figure = figures[name];
    return figure !== null && isBelow(limits[name], convertLength(figure, unit, limits.unit));
  });
  if (above) return 'above';
  return FIGURES.some((name) => figures[name] === null) ? null : 'inside';
}
