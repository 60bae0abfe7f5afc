import {
  brief,
  type DefinitionOf,
  generateBench,
  judgeLiftCurve,
  type LiftCurveSheet,
} from '../../server/engine/index.ts';
import { type GaugedAttempt, handsOn, nextFor, setUp } from './gauged-observers.ts';

/** Steps left out or done badly, for the remarks they bring. */
export interface CurveHabits {
  readonly everyDeg?: number;
  /** Bars past each mark by this much and comes back to it. */
  readonly backsUpDeg?: number;
  /** Bars on from the mark and back by this much before coming forward to it again. */
  readonly overshootsDeg?: number;
  readonly leavesOut?: readonly ('stop' | 'wheel' | 'return')[];
  readonly zeroOnRamp?: boolean;
}

type Line = { readonly crankDeg: number; readonly lift: number };

/** Plots a lobe with only what can be seen: finds the base circle, checks the wheel, zeroes, and reads every few degrees, coming forward. */
export function observeLiftCurve(
  definition: DefinitionOf<'lift-curve'>,
  seed: string | number,
  habits: CurveHabits = {},
): GaugedAttempt<'lift-curve'> {
  const bench = generateBench(definition, seed);
  const { dial, limits, checking } = brief(bench);
  const hands = handsOn<'lift-curve'>(bench);
  const bar = (degrees: number) => hands.does({ type: 'bar', degrees });
  const leaves = (step: NonNullable<CurveHabits['leavesOut']>[number]) => habits.leavesOut?.includes(step);
  if (!leaves('stop')) {
    hands.does({ type: 'try-stop' });
    const { stops } = hands.sees();
    const middle = stops === null ? 0 : (stops.forwardDeg + stops.backDeg) / 2;
    if (middle !== 0 && !leaves('wheel')) hands.does({ type: 'set-wheel', degrees: -middle });
  }
  // Where does it stand still lowest and longest? Set down on the lobe the tip would leave the work, so a second look follows the first.
  const base = () => {
    for (const type of ['wipe', 'set-indicator', 'clamp'] as const)
      hands.does(type === 'set-indicator' ? { type, turns: 0.5 } : { type });
    const heights = Array.from({ length: 72 }, () => {
      bar(10);
      return hands.reads();
    });
    const lowest = Math.min(...heights);
    const isLow = (at: number) => (heights[at % 72] ?? 0) <= lowest + 0.5;
    const lengthFrom = (start: number) => {
      let length = 0;
      while (length < 72 && isLow(start + length)) length += 1;
      return length;
    };
    const starts = heights.map((_, at) => at);
    const from = starts.reduce((best, at) => (lengthFrom(at) > lengthFrom(best) ? at : best), 0);
    return { from, length: lengthFrom(from) };
  };
  const first = base();
  bar(10 * (first.from + Math.round(first.length / 2) + 1));
  const sure = base();
  bar(10 * (sure.from + Math.round(sure.length * (habits.zeroOnRamp ? 1 : 0.6)) + 1));
  if (habits.zeroOnRamp) bar(20);
  const zero = setUp(hands.does, {});
  zero();
  const wheel = () => {
    const { turn, sample } = hands.sees();
    return (sample.workDeg ?? 0) + (turn - 1) * 360;
  };
  const every = habits.everyDeg ?? 5;
  const back = habits.backsUpDeg ?? 0;
  const over = habits.overshootsDeg ?? 0;
  const end = leaves('return') ? 330 : 720;
  const lines: Line[] = [];
  for (let gone = 0; gone < end; gone += every) {
    if (back > 0) {
      bar(every + back);
      bar(-back);
    } else if (over > 0) {
      bar(every + 3);
      bar(-over - 3);
      bar(over);
    } else bar(every);
    lines.push({ crankDeg: wheel(), lift: hands.reads() * dial.graduation });
  }
  return { bench, actions: hands.actions, sheet: sheetFrom(lines) };

  function sheetFrom(points: readonly Line[]): LiftCurveSheet {
    const height = checking.lift;
    const maximumLift = Math.max(...points.map(({ lift }) => lift));
    const top = points.findIndex(({ lift }) => lift === maximumLift);
    const unwrapped = points.map(({ crankDeg, lift }, index) => ({
      lift,
      deg: crankDeg + (index > 0 && crankDeg < (points[0]?.crankDeg ?? 0) ? 720 : 0),
    }));
    const cross = (a: number, b: number) => {
      const [from, to] = [unwrapped[a], unwrapped[b]];
      if (from === undefined || to === undefined) return 0;
      return from.deg + ((height - from.lift) / (to.lift - from.lift)) * (to.deg - from.deg);
    };
    const first = unwrapped.findIndex(({ lift }) => lift > height);
    const closing = unwrapped.findIndex(({ lift }, index) => index > top && lift <= height);
    const last = closing < 0 ? unwrapped.length - 1 : closing;
    const whole = (deg: number) => Math.round(2 * deg) / 2;
    const [opens, closes] = [whole(cross(first - 1, first)), whole(cross(last - 1, last))];
    const highs = unwrapped.filter(({ lift }) => lift >= maximumLift - 1e-9).map(({ deg }) => deg);
    const high = (Math.min(...highs) + Math.max(...highs)) / 2;
    const figures = { lift: maximumLift, widthDeg: closes - opens, centreDeg: (opens + closes) / 2 };
    const verdict = judgeLiftCurve(figures, limits, dial);
    return {
      ...{ points, highPointDeg: high % 720, opensDeg: opens % 720, closesDeg: closes % 720 },
      ...{ widthDeg: figures.widthDeg, centreDeg: figures.centreDeg % 720, maximumLift },
      ...{ verdict, next: nextFor(verdict) },
    };
  }
}
