import {
  gradeAttempt,
  type IndicatorCheckSheet,
  indicatorFigures,
  type WrittenPoint,
} from '../../../server/engine/index.ts';
import { chanceFor } from '../../../server/engine/random.ts';
import { observeIndicatorCheck, sheetFrom } from '../../support/indicator-observer.ts';
import { type Told, tellFrom } from './tally.ts';

type Attempt = ReturnType<typeof observeIndicatorCheck>;
type Reads = (shown: number, point: WrittenPoint, way: 'up' | 'down', attempt: Attempt) => number | null;

const perTurn = ({ bench }: Attempt) => bench.dial.rangePerTurn;

/** What a student who misreads in a known way writes for what the gauge showed; the dial's unit. */
const READINGS: Readonly<Record<string, Reads>> = {
  'sign-turned': (shown, { at }) => at - (shown - at),
  'error-for-reading': (shown, { at }) => shown - at,
  'nominal-for-reading': (_shown, { at }) => at,
  'missed-turn': (shown, _point, _way, attempt) =>
    shown < perTurn(attempt) ? null : shown - perTurn(attempt),
  'extra-turn': (shown, _point, _way, attempt) => shown + perTurn(attempt),
  'other-direction': (_shown, point, way) => point[way === 'up' ? 'down' : 'up'],
  'decimal-place': (shown) => shown / 10,
  'inch-millimetre': (shown) => shown / 25.4,
};

/** What a student who works out a figure in a known wrong way writes; from his own readings, the dial's unit. */
const FIGURES: readonly (readonly [
  mistake: string,
  box: Exclude<keyof IndicatorCheckSheet, 'points' | 'repeats' | 'verdict' | 'next'>,
  wrong: (sheet: IndicatorCheckSheet, turn: number) => number,
])[] = [
  ['sign-turned', 'largestError', ({ largestError }) => -(largestError ?? 0)],
  ['span-for-error', 'largestError', ({ wholeRange }) => wholeRange ?? 0],
  ['decimal-place', 'largestError', ({ largestError }) => 10 * (largestError ?? 0)],
  ['one-way-only', 'wholeRange', ({ points }, turn) => oneWay(points, turn).wholeRange ?? 0],
  ['turn-for-range', 'wholeRange', ({ oneTurn }) => oneTurn ?? 0],
  ['halved', 'wholeRange', ({ wholeRange }) => (wholeRange ?? 0) / 2],
  ['one-way-only', 'oneTurn', ({ points }, turn) => oneWay(points, turn).oneTurn ?? 0],
  ['range-for-turn', 'oneTurn', ({ wholeRange }) => wholeRange ?? 0],
  ['step-for-turn', 'oneTurn', ({ adjacent }) => adjacent ?? 0],
  ['turn-for-step', 'adjacent', ({ oneTurn }) => oneTurn ?? 0],
  ['hysteresis-for-step', 'adjacent', ({ hysteresis }) => hysteresis ?? 0],
  ['different-points', 'hysteresis', ({ points }) => crossed(points)],
  ['sign-turned', 'hysteresis', ({ hysteresis }) => -(hysteresis ?? 0)],
  ['mean-for-largest', 'hysteresis', ({ points }) => meanDifference(points)],
  ['decimal-place', 'repeatability', ({ repeatability }) => 10 * (repeatability ?? 0)],
];

const oneWay = (points: readonly WrittenPoint[], turn: number) =>
  indicatorFigures(
    points.map((point) => ({ ...point, down: null })),
    [],
    { rangePerTurn: turn },
  );
const crossed = (points: readonly WrittenPoint[]) => {
  const errors = (way: 'up' | 'down') =>
    points.flatMap((point) => (point[way] === null ? [] : [point[way] - point.at]));
  return Math.max(...errors('down')) - Math.min(...errors('up'));
};
const meanDifference = (points: readonly WrittenPoint[]) =>
  points.reduce((sum, { up, down }) => sum + ((down ?? 0) - (up ?? 0)), 0) / points.length;

/** Studies students who misread the check of an indicator: each mistake on whole sheets, on single lines and in each figure. */
export function studyIndicatorCheck(count: number): Told[] {
  return Array.from({ length: count }, (_, seed) => {
    const attempt = observeIndicatorCheck({ kind: 'indicator-check' }, `misread-${seed}`);
    return [...wholeSheets(attempt), ...singleLines(attempt, seed), ...figures(attempt)];
  }).flat();
}

function told(attempt: Attempt, sheet: IndicatorCheckSheet, mistake: string, where: string): Told[] {
  const grade = gradeAttempt(attempt.bench, attempt.actions, sheet);
  const off = grade.remarks.some(({ code }) => code === 'result-off' || code === 'result-not-worked-out');
  // A mistake that changes no box by more than it may be off is none.
  return off ? [tellFrom(mistake, where, grade.mistakes)] : [];
}

function rewritten(attempt: Attempt, misreads: (point: WrittenPoint, way: 'up' | 'down') => number | null) {
  const { bench, sheet } = attempt;
  const tenth = (value: number | null) =>
    value === null ? null : (Math.round((10 * value) / bench.dial.graduation) / 10) * bench.dial.graduation;
  const points = sheet.points.map((point) => ({
    at: point.at,
    up: tenth(misreads(point, 'up')),
    down: tenth(misreads(point, 'down')),
  }));
  return sheetFrom(points, sheet.repeats, bench);
}

function wholeSheets(attempt: Attempt): Told[] {
  return Object.entries(READINGS).flatMap(([mistake, reads]) => {
    const sheet = rewritten(attempt, (point, way) => {
      const shown = point[way];
      return shown === null ? null : (reads(shown, point, way, attempt) ?? shown);
    });
    return told(attempt, sheet, mistake, 'whole sheet');
  });
}

function singleLines(attempt: Attempt, seed: number): Told[] {
  return Object.entries(READINGS).flatMap(([mistake, reads]) => {
    const chance = chanceFor(seed, `line/${mistake}`);
    const [line, way] = [chance.pick(attempt.sheet.points.slice(1)), chance.pick(['up', 'down'] as const)];
    const sheet = rewritten(attempt, (point, here) => {
      const shown = point[here];
      if (shown === null || point.at !== line.at || here !== way) return shown;
      return reads(shown, point, way, attempt) ?? shown;
    });
    return told(attempt, sheet, mistake, 'one line');
  });
}

function figures(attempt: Attempt): Told[] {
  const turn = attempt.bench.dial.rangePerTurn;
  return FIGURES.flatMap(([mistake, box, wrong]) =>
    told(attempt, { ...attempt.sheet, [box]: wrong(attempt.sheet, turn) }, mistake, box),
  );
}
