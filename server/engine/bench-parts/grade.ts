import { graduationsPerTurn } from '../dial/dial.ts';
import type { FollowUp } from '../exercises/cam-lift/types.ts';
import { type Check, scored, tenths } from '../grading/tally.ts';
import { FULL_POINTS, type Grade, type ItemOutcome } from '../grading/types.ts';
import type { GaugeRun } from './log.ts';
import type { Misreading } from './name-together.ts';
import { checkResults } from './result-checks.ts';
import { traceOf } from './trace.ts';
import type { GaugedBench, GaugeState } from './types.ts';
import { checkItemVerdicts } from './verdict-checks.ts';

/** One box of the sheet with what stands against it. In graduations; a high spot in degrees. */
export interface Result {
  /** A code the words know: `tir`, `end-play`, `tooth-2` … */
  readonly name: string;
  readonly written: number | null;
  /** What their gauge showed, or what follows from what they wrote; null where nothing was measured. */
  readonly shown: number | null;
  /** Graduations within which what is read counts in full, what is worked out within half of it; 1 where left out. */
  readonly within?: number;
  /** Share of the item's reading points; the shares of an item add up to 1, or to what the kind's own checks leave. */
  readonly share: number;
  /**
   * `gauge`: read off it. `written`: worked out from other boxes, carried through. `angle`: degrees round the work. `ratio`: a ratio worked
   * out from other boxes, in hundredths. `degrees`: degrees worked out.
   */
  readonly from: 'gauge' | 'written' | 'angle' | 'ratio' | 'degrees';
  /** Degrees worked out may be off by this much. */
  readonly withinDeg?: number;
  /** Read off the gauge: the ways it may be misread. All boxes of an item that have them are explained together. */
  readonly misread?: readonly Misreading[];
  /** What each mistake would have made one write, in graduations; degrees of a box that has them. */
  readonly likely?: readonly { readonly mistake: string; readonly graduations: number }[];
}

/** All that the log and the sheet hold of one item. */
export interface ItemEvidence<S, A> {
  readonly item: number;
  /** The set-up it was measured with, or null. */
  readonly run: GaugeRun<S, A> | null;
  readonly results: readonly Result[];
  readonly written: { readonly verdict: string | null; readonly next: FollowUp | null };
  /** The verdict that the written results call for, that the gauge called for, and that the part deserves. */
  readonly fromWritten: string | null;
  readonly fromShown: string | null;
  readonly truly: string;
  /** Did two separate set-ups show the same? */
  readonly setUpsAgree: boolean;
  /** The part as it truly is: lengths in graduations, angles in degrees, ratios in hundredths. */
  readonly truth: Readonly<Record<string, number>>;
}

/** Puts a grade together from the items' evidence and the kind's own checks of set-up and procedure. */
export function gradeItems<S extends GaugeState, A>(
  bench: GaugedBench,
  runs: readonly GaugeRun<S, A>[],
  items: readonly ItemEvidence<S, A>[],
  ownChecks: readonly Check[],
  itemOf: (run: GaugeRun<S, A>) => number,
): Grade {
  const perTurn = graduationsPerTurn(bench.dial);
  const readings = items.map((item) => checkResults(item, FULL_POINTS.reading / items.length, perTurn));
  const verdicts = checkItemVerdicts(items, FULL_POINTS.verdict / items.length);
  const checks = [...ownChecks, ...readings.flatMap((reading) => reading.checks), ...verdicts.checks];
  return {
    ...scored(checks),
    outOf: FULL_POINTS,
    stops: [...readings.flatMap((reading) => reading.stops), ...verdicts.stops],
    mistakes: readings.flatMap((reading) => reading.mistakes),
    lobes: [],
    items: items.map((item) => outcomeOf(bench, item)),
    trace: traceOf(bench, runs, itemOf),
  };
}

/** Which of the truths are degrees: they are told also where nothing was measured. */
const TRUE_ANGLES: Readonly<Record<string, Result['from']>> = {
  'high-spot': 'angle',
  width: 'degrees',
  centre: 'degrees',
};

function outcomeOf<S, A>({ dial }: GaugedBench, item: ItemEvidence<S, A>): ItemOutcome {
  const inUnit = (value: number | null, from: Result['from']) => {
    if (value === null) return null;
    if (from === 'angle') return Math.round(value);
    if (from === 'degrees') return tenths(value);
    return Number((value * (from === 'ratio' ? 0.01 : dial.graduation)).toFixed(6));
  };
  const byName = (pick: (result: Result) => number | null) =>
    Object.fromEntries(item.results.map((one) => [one.name, inUnit(pick(one), one.from)]));
  const fromOf = (name: string) => item.results.find((one) => one.name === name)?.from ?? 'gauge';
  return {
    item: item.item,
    truth: Object.fromEntries(
      Object.entries(item.truth).map(([name, value]) => [
        name,
        inUnit(value, TRUE_ANGLES[name] ?? fromOf(name)) ?? 0,
      ]),
    ),
    trueVerdict: item.truly,
    shown: byName((one) => one.shown),
    written: byName((one) => one.written),
    writtenVerdict: item.written.verdict,
    writtenNext: item.written.next,
  };
}
