import {
  type ActionOf,
  brief,
  type DefinitionOf,
  errorsOf,
  generateBench,
  type IndicatorCheckSheet,
  indicatorFigures,
  judgeIndicator,
  type WrittenPoint,
} from '../../server/engine/index.ts';
import { type GaugedAttempt, type GaugedHabits, handsOn, nextFor, setUp } from './gauged-observers.ts';

/** Steps of the check of an indicator left out or done badly. */
export interface CheckHabits extends Omit<GaugedHabits, 'leavesOut'> {
  readonly leavesOut?: readonly (
    | NonNullable<GaugedHabits['leavesOut']>[number]
    | 'wipe-blocks'
    | 'other-stack'
    | 'down'
    | 'past'
    | 'inside-a-turn'
    | 'slowly'
  )[];
  readonly repeats?: number;
  readonly zeroAt?: number;
}

/** The sheet that follows from readings in the dial's unit: every figure worked out, the verdict by the limits. */
export function sheetFrom(
  points: readonly WrittenPoint[],
  repeats: readonly (number | null)[],
  plate: Pick<ReturnType<typeof brief<'indicator-check'>>, 'dial' | 'limits'>,
): IndicatorCheckSheet {
  const { dial, limits } = plate;
  const figures = indicatorFigures(points, repeats, dial);
  const ups = errorsOf(points).filter(({ way }) => way === 'up');
  const first = ups[0]?.error ?? 0;
  const largestError = ups.reduce(
    (most, { error }) => (Math.abs(error - first) > Math.abs(most) ? error - first : most),
    0,
  );
  const verdict = judgeIndicator(figures, limits, dial);
  return { points, repeats, largestError, ...figures, verdict, next: verdict && nextFor(verdict) };
}

export function observeIndicatorCheck(
  definition: DefinitionOf<'indicator-check'>,
  seed: string | number,
  habits: CheckHabits = {},
): GaugedAttempt<'indicator-check'> {
  const bench = generateBench(definition, seed);
  const plate = brief(bench);
  const { dial } = plate;
  const skips = (step: NonNullable<CheckHabits['leavesOut']>[number]) => habits.leavesOut?.includes(step);
  const hands = handsOn<'indicator-check'>(bench);
  /** The pointer to a tenth of a graduation, in the dial's unit. */
  const read = (action: ActionOf<'indicator-check'>) =>
    (Math.round(10 * (hands.does(action).at(-1)?.graduations ?? 0)) / 10) * dial.graduation;
  const over = (travel: number) => {
    const wiped = !skips('wipe-blocks');
    const seen = read({ type: 'put-block', travel, wiped });
    if (skips('other-stack') || !hands.heard('block-does-not-wring')) return seen;
    return read({ type: 'put-block', travel, wiped, stack: 2 });
  };
  over(habits.zeroAt ?? 0);
  const { leavesOut, ...others } = habits;
  const shared = leavesOut?.filter((step): step is NonNullable<GaugedHabits['leavesOut']>[number] =>
    ['wipe', 'align', 'tip', 'clamp'].includes(step),
  );
  setUp(hands.does, { ...others, leavesOut: shared ?? [] })();
  const plan = plate.plan.filter((at) => {
    const turns = at / dial.rangePerTurn;
    return !skips('inside-a-turn') || Math.abs(turns - Math.round(turns)) < 0.01;
  });
  const last = plan.at(-1) ?? 0;
  const ups = plan.map((at) => (at === (habits.zeroAt ?? 0) ? 0 : over(at)));
  if (!skips('past')) over(Number((last + 3 * dial.graduation).toFixed(6)));
  const downs = skips('down')
    ? []
    : [...plan]
        .reverse()
        .map((at) => over(at))
        .reverse();
  const points = plan.map((at, n): WrittenPoint => {
    const down = skips('past') && at === last ? null : (downs[n] ?? null);
    return { at, up: ups[n] ?? null, down };
  });
  over(plan[Math.floor(plan.length / 2)] ?? 0);
  const repeats = Array.from({ length: habits.repeats ?? 5 }, (_, n) =>
    read({ type: 'let-down', how: n % 2 === 0 || skips('slowly') ? 'fast' : 'slowly' }),
  );
  return { bench, actions: hands.actions, sheet: sheetFrom(points, repeats, plate) };
}
