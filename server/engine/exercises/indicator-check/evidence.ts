import { graduationMm } from '../../bench-parts/gauge.ts';
import type { ItemEvidence, Result } from '../../bench-parts/grade.ts';
import type { GaugeRun } from '../../bench-parts/log.ts';
import { graduationsPerTurn } from '../../dial/dial.ts';
import {
  errorsGoingIn,
  largestOf,
  likeliest,
  likelyFigures,
  likelyReadings,
  togetherLikely,
} from './diagnose.ts';
import { FIGURES, indicatorFigures, judgeIndicator } from './figures.ts';
import { trueFigures } from './generate.ts';
import type {
  Figures,
  IndicatorCheckAction,
  IndicatorCheckBench,
  IndicatorCheckSheet,
  IndicatorCheckState,
  WrittenPoint,
} from './types.ts';
import { pointsShown, repeatsIn, shownAt, type Visit, visitsUnder, type Zero } from './visits.ts';

export const ITEM = 1;
/** A reading is good to two steps of a tenth of a graduation; a sum to a hair under half of one. Common practice, no source. */
const READ_WITHIN = 0.2;
const SUM_WITHIN = 0.09;
/** Shares of the reading points. Common practice, no source. */
export const ROWS_SHARE = 0.5;
const REPEAT_SHARE = 0.02;
const BOXES = [
  ['whole-range', 'wholeRange', 0.1],
  ['one-turn', 'oneTurn', 0.08],
  ['adjacent-step', 'adjacent', 0.05],
  ['hysteresis', 'hysteresis', 0.07],
  ['repeatability', 'repeatability', 0.05],
] as const;
const LARGEST_SHARE = 0.05;
const REPEATS = 5;
/** Two set-ups agree where their figures do, to this many graduations. Common practice, no source. */
const AGREE_WITHIN = 0.4;

type Evidence = ItemEvidence<IndicatorCheckState, IndicatorCheckAction>;

/** Readings of the sheet in graduations. */
export function writtenPoints({ dial }: IndicatorCheckBench, sheet: IndicatorCheckSheet): WrittenPoint[] {
  const graduations = (length: number | null) => (length === null ? null : length / dial.graduation);
  return sheet.points.map(({ at, up, down }) => ({
    at: at / dial.graduation,
    up: graduations(up),
    down: graduations(down),
  }));
}

/** How many boxes the plan asks for, how many of them are blank, and how many there are with those beyond the plan. */
export function boxesOf({ plan, dial }: IndicatorCheckBench, sheet: IndicatorCheckSheet) {
  const lineFor = (at: number) =>
    sheet.points.find((point) => Math.abs(point.at - at) < 0.01 * dial.graduation) ?? null;
  const filled = (point: WrittenPoint | null) =>
    point === null ? 0 : Number(point.up !== null) + Number(point.down !== null);
  const wanted = 2 * plan.length;
  const written = plan.reduce((sum, at) => sum + filled(lineFor(at)), 0);
  const all = sheet.points.reduce((sum, point) => sum + filled(point), 0);
  return { wanted, blank: wanted - written, all: wanted + Math.max(0, all - written) };
}

/** All that log and sheet hold of the indicator; the visits are those under the zero that was used. */
export function evidenceOf(
  bench: IndicatorCheckBench,
  sheet: IndicatorCheckSheet,
  zeros: readonly Zero[],
  used: Zero | null,
  run: GaugeRun<IndicatorCheckState, IndicatorCheckAction> | null,
): Evidence {
  const visits = used === null ? [] : visitsUnder(used);
  const figuresShown = used === null ? null : figuresOf(bench, visits);
  const inside = (figures: { readonly [F in keyof Figures]: number | null }) =>
    judgeIndicator(figures, bench.limits, bench.dial);
  return {
    item: ITEM,
    run,
    results: [
      ...togetherLikely(rowResults(bench, sheet, visits)).map(likeliest),
      ...repeatResults(bench, sheet, visits),
      ...figureResults(bench, sheet).map(likeliest),
    ],
    written: { verdict: sheet.verdict, next: sheet.next },
    fromWritten: inside(sheet),
    fromShown: figuresShown === null ? null : inside(figuresShown),
    truly: bench.truly,
    setUpsAgree: setUpsAgree(bench, zeros),
    truth: truthOf(bench),
  };
}

/** What the gauge showed, as figures in the dial's unit; 0 for one that nobody looked for. */
function figuresOf(bench: IndicatorCheckBench, visits: readonly Visit[]): Figures {
  const { dial } = bench;
  const repeats = repeatsIn(visits).map(({ graduations }) => Math.round(10 * graduations) / 10);
  const found = indicatorFigures(pointsShown(bench, visits), repeats, {
    rangePerTurn: graduationsPerTurn(dial),
  });
  const all = FIGURES.map((name) => [name, (found[name] ?? 0) * dial.graduation]);
  return Object.fromEntries(all) as unknown as Figures;
}

function rowResults(
  bench: IndicatorCheckBench,
  sheet: IndicatorCheckSheet,
  visits: readonly Visit[],
): Result[] {
  const { dial } = bench;
  const share = ROWS_SHARE / boxesOf(bench, sheet).all;
  const places = sheet.points.map(({ at }) => at).sort((a, b) => a - b);
  return sheet.points.flatMap((point) =>
    (['up', 'down'] as const).flatMap((way): Result[] => {
      const length = point[way];
      if (length === null) return [];
      const written = length / dial.graduation;
      const at = (place: number | undefined, of: Visit['way']) =>
        place === undefined ? null : shownAt(bench, visits, place, of, null);
      const shown = shownAt(bench, visits, point.at, way, written);
      const index = places.indexOf(point.at);
      const neighbours = [at(places[index - 1], way), at(places[index + 1], way)];
      const row = {
        ...{ at: point.at / dial.graduation, otherWay: at(point.at, way === 'up' ? 'down' : 'up') },
        neighbours: neighbours.filter((one) => one !== null),
      };
      const likely = shown === null ? [] : likelyReadings({ ...row, shown }, graduationsPerTurn(dial));
      const name = `${way}-at-${point.at}`;
      return [{ name, written, shown, share, from: 'gauge', within: READ_WITHIN, likely }];
    }),
  );
}

/** Five boxes, each held against the letting down nearest to it. */
function repeatResults(
  { dial }: IndicatorCheckBench,
  sheet: IndicatorCheckSheet,
  visits: readonly Visit[],
): Result[] {
  const shown = repeatsIn(visits).map(({ graduations }) => graduations);
  return Array.from({ length: REPEATS }, (_, index): Result => {
    const length = sheet.repeats[index] ?? null;
    const written = length === null ? null : length / dial.graduation;
    const nearest = [...shown].sort((a, b) => Math.abs(a - (written ?? a)) - Math.abs(b - (written ?? b)));
    return {
      ...{ name: `repeat-${index + 1}`, written, shown: nearest[0] ?? null },
      ...{ share: REPEAT_SHARE, from: 'gauge', within: READ_WITHIN },
    };
  });
}

function figureResults(bench: IndicatorCheckBench, sheet: IndicatorCheckSheet): Result[] {
  const { dial } = bench;
  const perTurn = graduationsPerTurn(dial);
  const points = writtenPoints(bench, sheet);
  const graduations = (length: number | null) => (length === null ? null : length / dial.graduation);
  const repeats = sheet.repeats.map(graduations);
  const figures = indicatorFigures(points, repeats, { rangePerTurn: perTurn });
  const likely = likelyFigures(
    points,
    repeats.filter((one) => one !== null),
    perTurn,
    sheet.largestError,
  );
  const result = (name: string, length: number | null, shown: number | null, share: number): Result => ({
    ...{ name, written: graduations(length), shown, share, from: 'written', within: SUM_WITHIN },
    likely: likely[name] ?? [],
  });
  const largest = largestOf(errorsGoingIn(points), sheet.largestError);
  return [
    result('largest-error', sheet.largestError, largest, LARGEST_SHARE),
    ...BOXES.map(([name, figure, share]) => result(name, sheet[figure], figures[figure], share)),
  ];
}

function setUpsAgree(bench: IndicatorCheckBench, zeros: readonly Zero[]): boolean {
  const all = zeros.map((zero) => ({ setUp: zero.run.setUp, figures: figuresOf(bench, visitsUnder(zero)) }));
  const agree = (a: Figures, b: Figures) =>
    judgeIndicator(a, bench.limits, bench.dial) === judgeIndicator(b, bench.limits, bench.dial) &&
    FIGURES.every((name) => Math.abs(a[name] - b[name]) <= AGREE_WITHIN * bench.dial.graduation);
  return all.some((a) => all.some((b) => a.setUp < b.setUp && agree(a.figures, b.figures)));
}

/** The figures the plan brings out with half a turn of preload, in graduations. */
function truthOf(bench: IndicatorCheckBench): Readonly<Record<string, number>> {
  const { dial, plan } = bench;
  const figures = trueFigures(dial, bench, plan, dial.rangePerTurn / 2);
  return {
    ...Object.fromEntries(
      BOXES.slice(0, 4).map(([name, figure]) => [name, (figures[figure] ?? 0) / dial.graduation]),
    ),
    ...(bench.sticky === null ? {} : { 'sticks-at': bench.sticky.fromMm / graduationMm(bench) }),
  };
}
