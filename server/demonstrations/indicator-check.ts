import {
  type ActionOf,
  errorsOf,
  type IndicatorCheckBrief,
  type IndicatorCheckSheet,
  indicatorFigures,
  judgeIndicator,
  type ViewOf,
  type WrittenPoint,
} from '../engine/index.ts';
import { type GaugedHabits, GaugeHands, setUp, zero } from './gauge-hands.ts';
import { nextFor } from './judged.ts';
import type { Finished, Work } from './work.ts';

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

type CheckWork<Result = void> = Work<'indicator-check', Result>;
type Step = NonNullable<CheckHabits['leavesOut']>[number];

/** Up the plan over gauge blocks, a little past its end, down again, and five times let down at one place. */
export function* checkIndicator(
  plate: IndicatorCheckBrief,
  first: ViewOf<'indicator-check'>,
  habits: CheckHabits = {},
): CheckWork<Finished<'indicator-check'>> {
  const student = new AtTheBlocks(plate, first, habits);
  yield* student.setUp();
  const points = yield* student.upAndDown();
  const repeats = yield* student.letDownAgain();
  return { sheet: checkSheet(points, repeats, plate) };
}

class AtTheBlocks {
  readonly #habits: CheckHabits;
  readonly #hands: GaugeHands<'indicator-check'>;
  readonly #plate: IndicatorCheckBrief;
  readonly #plan: readonly number[];

  constructor(plate: IndicatorCheckBrief, first: ViewOf<'indicator-check'>, habits: CheckHabits) {
    this.#habits = habits;
    this.#hands = new GaugeHands(plate.dial, first);
    this.#plate = plate;
    this.#plan = plate.plan.filter((at) => {
      const turns = at / plate.dial.rangePerTurn;
      return !this.#skips('inside-a-turn') || Math.abs(turns - Math.round(turns)) < 0.01;
    });
  }

  *setUp(): CheckWork {
    yield* this.#over(this.#habits.zeroAt ?? 0);
    const { leavesOut = [], ...others } = this.#habits;
    const shared = leavesOut.filter((step): step is NonNullable<GaugedHabits['leavesOut']>[number] =>
      ['wipe', 'align', 'tip', 'clamp'].includes(step),
    );
    yield* setUp(this.#hands, { ...others, leavesOut: shared });
    yield* zero(this.#hands, { leavesOut: shared });
  }

  *upAndDown(): CheckWork<readonly WrittenPoint[]> {
    const last = this.#plan.at(-1) ?? 0;
    const up = new Map<number, number>();
    for (const at of this.#plan) up.set(at, at === (this.#habits.zeroAt ?? 0) ? 0 : yield* this.#over(at));
    // From a little beyond, so that the last place too is come to from above.
    if (!this.#skips('past')) yield* this.#over(Number((last + 3 * this.#plate.dial.graduation).toFixed(6)));
    const down = new Map<number, number>();
    if (!this.#skips('down')) for (const at of [...this.#plan].reverse()) down.set(at, yield* this.#over(at));
    return this.#plan.map((at) => ({
      at,
      up: up.get(at) ?? null,
      down: this.#skips('past') && at === last ? null : (down.get(at) ?? null),
    }));
  }

  *letDownAgain(): CheckWork<readonly number[]> {
    yield* this.#over(this.#plan[Math.floor(this.#plan.length / 2)] ?? 0);
    const repeats: number[] = [];
    for (let n = 0; n < (this.#habits.repeats ?? 5); n += 1) {
      const how = n % 2 === 0 || this.#skips('slowly') ? 'fast' : 'slowly';
      repeats.push(yield* this.#read({ type: 'let-down', how }));
    }
    return repeats;
  }

  /** What the gauge shows over a stack of blocks; where the stack does not wring, over the other one. */
  *#over(travel: number): CheckWork<number> {
    const wiped = !this.#skips('wipe-blocks');
    const seen = yield* this.#read({ type: 'put-block', travel, wiped });
    if (this.#skips('other-stack') || !this.#hands.heard('block-does-not-wring')) return seen;
    return yield* this.#read({ type: 'put-block', travel, wiped, stack: 2 });
  }

  /** The pointer to a tenth of a graduation, in the dial's unit. */
  *#read(action: ActionOf<'indicator-check'>): CheckWork<number> {
    const seen = yield* this.#hands.does(action);
    return (Math.round(10 * (seen.at(-1)?.graduations ?? 0)) / 10) * this.#plate.dial.graduation;
  }

  #skips(step: Step): boolean {
    return this.#habits.leavesOut?.includes(step) ?? false;
  }
}

/** The sheet that follows from readings in the dial's unit: every figure worked out, the verdict by the limits. */
export function checkSheet(
  points: readonly WrittenPoint[],
  repeats: readonly (number | null)[],
  { dial, limits }: Pick<IndicatorCheckBrief, 'dial' | 'limits'>,
): IndicatorCheckSheet {
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
