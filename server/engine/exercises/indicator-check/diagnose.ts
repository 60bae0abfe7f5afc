import type { Result } from '../../bench-parts/grade.ts';
import { usualMisreadings } from '../../bench-parts/result-checks.ts';
import { summarise } from '../../statistics/summary.ts';
import { MM_PER_IN } from '../../units.ts';
import { errorsOf, indicatorFigures, spread } from './figures.ts';
import type { WrittenPoint } from './types.ts';

type Likely = NonNullable<Result['likely']>;

/** What is known of one reading: all in graduations. */
export interface RowShown {
  readonly at: number;
  readonly shown: number;
  /** The same place the other way, and the places next to it the same way. */
  readonly otherWay: number | null;
  readonly neighbours: readonly number[];
}

/** A millimetre gauge read as if in inches writes 25.4 times less, and the other way round. */
function otherUnit(shown: number): Likely {
  return [MM_PER_IN, 1 / MM_PER_IN].map((scale) => ({
    mistake: 'inch-millimetre',
    graduations: shown * scale,
  }));
}

/** What the usual mistakes make of one reading over a block. */
export function likelyReadings({ at, shown, otherWay, neighbours }: RowShown, perTurn: number): Likely {
  const pointer = shown - Math.floor(shown / perTurn) * perTurn;
  return [
    { mistake: 'sign-turned', graduations: 2 * at - shown },
    { mistake: 'error-for-reading', graduations: shown - at },
    { mistake: 'nominal-for-reading', graduations: at },
    { mistake: 'missed-turn', graduations: shown - perTurn },
    { mistake: 'extra-turn', graduations: shown + perTurn },
    // Beside zero nobody mistakes the side.
    ...(pointer < 3 || pointer > perTurn - 3
      ? []
      : [{ mistake: 'wrong-way-round', graduations: shown - 2 * pointer + perTurn }]),
    ...(otherWay === null ? [] : [{ mistake: 'other-direction', graduations: otherWay }]),
    ...neighbours.map((graduations) => ({ mistake: 'other-line', graduations })),
    ...usualMisreadings(shown),
    ...otherUnit(shown),
  ];
}

/**
 * Where several boxes are off and some mistakes explain them all, only those are left to each: what the sheet says together comes
 * before what each line says. Boxes that are right keep none.
 */
export function togetherLikely(results: readonly Result[]): Result[] {
  const fits = (result: Result, graduations: number) =>
    Math.abs(graduations - (result.written ?? Number.NaN)) <= (result.within ?? 1) + 1e-6;
  const isOff = ({ written, shown, within = 1 }: Result) =>
    written !== null && shown !== null && Math.abs(written - shown) > within + 1e-6;
  const off = results.filter(isOff);
  if (off.length < 2) return [...results];
  const named = off.map(
    (result) =>
      new Set(
        (result.likely ?? [])
          .filter(({ graduations }) => fits(result, graduations))
          .map(({ mistake }) => mistake),
      ),
  );
  const common = [...(named[0] ?? [])].filter((mistake) => named.every((own) => own.has(mistake)));
  if (common.length === 0) return [...results];
  return results.map((result) =>
    isOff(result)
      ? { ...result, likely: (result.likely ?? []).filter(({ mistake }) => common.includes(mistake)) }
      : result,
  );
}

/** Mistakes that only scale a number: many numbers come out so by chance, so one that gives another number of the sheet goes first. */
const SCALES = ['halved', 'doubled', 'decimal-place', 'inch-millimetre'];
/** An eye that is off by 0.05 (one standard deviation) is seven times less often off by 0.1 more. Common practice, no source. */
const FURTHER = 0.1;

/** Of what might explain a box only what explains it best: nothing much further off, the plain slip before the odd one, two at most. */
export function likeliest(result: Result): Result {
  const { written, likely = [], within = 1 } = result;
  if (written === null) return result;
  const offBy = (graduations: number) => Math.abs(graduations - written);
  const near = likely.filter(({ graduations }) => offBy(graduations) <= within + 1e-6);
  const best = Math.min(...near.map(({ graduations }) => offBy(graduations)));
  const close = near.filter(({ graduations }) => offBy(graduations) <= best + FURTHER - 1e-6);
  const isScale = ({ mistake }: { readonly mistake: string }) => Number(SCALES.includes(mistake));
  const ordered = [...close].sort((a, b) => isScale(a) - isScale(b));
  const names = [...new Set(ordered.map(({ mistake }) => mistake))].slice(0, 2);
  return { ...result, likely: close.filter(({ mistake }) => names.includes(mistake)) };
}

/** Errors going in counted from the reading at the first place, by the place; graduations. */
export function errorsGoingIn(points: readonly WrittenPoint[], way: 'up' | 'down' = 'up') {
  const own = errorsOf(points).filter((point) => point.way === way);
  const first = own[0]?.error ?? 0;
  return own.map(({ error }) => error - first);
}

/** The error of largest size, with its sign; the one nearest to what was written where two are as large. Null for none. */
export function largestOf(errors: readonly number[], written: number | null): number | null {
  const size = Math.max(...errors.map(Math.abs));
  const largest = errors.filter((error) => Math.abs(error) >= size - 1e-6);
  return (
    largest.find((error) => written !== null && Math.sign(error) === Math.sign(written)) ?? largest[0] ?? null
  );
}

/** What the usual mistakes make of each figure, from the student's own readings; graduations. */
export function likelyFigures(
  points: readonly WrittenPoint[],
  repeats: readonly number[],
  perTurn: number,
  largestWritten: number | null,
): Readonly<Record<string, Likely>> {
  const dial = { rangePerTurn: perTurn };
  const figures = indicatorFigures(points, repeats, dial);
  const only = (way: 'up' | 'down') =>
    points.map((point) => ({ ...point, [way === 'up' ? 'down' : 'up']: null }));
  const oneWay = (['up', 'down'] as const).map((way) => indicatorFigures(only(way), [], dial));
  const errors = errorsOf(points).map(({ error }) => error);
  const ins = errorsGoingIn(points);
  const raw = errorsOf(points).flatMap(({ way, error }) => (way === 'up' ? [error] : []));
  const largest = largestOf(ins, largestWritten);
  const steps = [...points].sort((a, b) => a.at - b.at);
  const apart = steps.slice(1).flatMap((point, n) =>
    (['up', 'down'] as const).flatMap((way) => {
      const [from, to] = [steps[n]?.[way] ?? null, point[way]];
      return from === null || to === null ? [] : [Math.abs(to - point.at - from + (steps[n]?.at ?? 0))];
    }),
  );
  const both = points.flatMap(({ up, down }) => (up === null || down === null ? [] : [down - up]));
  const crossed = errorsOf(points);
  const across = (['up', 'down'] as const).map((way) =>
    crossed.filter((point) => point.way === way).map(({ error }) => error),
  );
  const of = (mistake: string, ...values: readonly (number | null | undefined)[]) =>
    values.flatMap((graduations) =>
      graduations === null || graduations === undefined || !Number.isFinite(graduations)
        ? []
        : [{ mistake, graduations }],
    );
  const scaled = (value: number | null) =>
    value === null ? [] : [...usualMisreadings(value), ...otherUnit(value)];
  const mean = (values: readonly number[]) =>
    values.length === 0 ? null : values.reduce((sum, one) => sum + one, 0) / values.length;
  const [ups, downs] = across;
  return {
    'largest-error': [
      ...of('sign-turned', largest === null ? null : -largest),
      ...of('wrong-zero', largestOf(raw, null), largestOf(errorsGoingIn(points, 'down'), null)),
      ...of('sign-lost', largest === null ? null : Math.abs(largest)),
      ...of('span-for-error', figures.wholeRange),
      ...scaled(largest),
    ],
    'whole-range': [
      ...of('one-way-only', ...oneWay.map(({ wholeRange }) => wholeRange)),
      ...of('turn-for-range', figures.oneTurn),
      ...of('largest-only', Math.max(...errors.map(Math.abs))),
      ...of('sign-lost', spread(errors.map(Math.abs))),
      ...scaled(figures.wholeRange),
    ],
    'one-turn': [
      ...of('one-way-only', ...oneWay.map(({ oneTurn }) => oneTurn)),
      ...of('range-for-turn', figures.wholeRange),
      ...of('step-for-turn', figures.adjacent),
      ...scaled(figures.oneTurn),
    ],
    'adjacent-step': [
      ...of('steps-too-long', Math.max(...apart)),
      ...of('turn-for-step', figures.oneTurn),
      ...of('hysteresis-for-step', figures.hysteresis),
      ...scaled(figures.adjacent),
    ],
    hysteresis: [
      ...of(
        'different-points',
        Math.max(...(downs ?? [])) - Math.min(...(ups ?? [])),
        Math.max(...(downs ?? [])) - Math.max(...(ups ?? [])),
        Math.max(...(ups ?? [])) - Math.min(...(downs ?? [])),
      ),
      ...of('mean-for-largest', mean(both), mean(both.map(Math.abs))),
      ...of('sign-turned', figures.hysteresis === null ? null : -figures.hysteresis),
      ...scaled(figures.hysteresis),
    ],
    repeatability: [
      ...of('deviation-for-spread', repeats.length < 2 ? null : summarise(repeats).sd),
      ...of(
        'last-less-first',
        repeats.length < 2 ? null : Math.abs((repeats.at(-1) ?? 0) - (repeats[0] ?? 0)),
      ),
      ...scaled(figures.repeatability),
    ],
  };
}
