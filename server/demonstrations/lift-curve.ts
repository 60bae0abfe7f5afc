import type { LiftCurveBrief, ViewOf } from '../engine/index.ts';
import { GaugeHands, setUp, zero } from './gauge-hands.ts';
import { type CurveLine, curveSheet } from './lift-curve-sheet.ts';
import type { Finished, Work } from './work.ts';

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

type CurveWork<Result = void> = Work<'lift-curve', Result>;

/** Degrees barred at a time while looking for the base circle, which is many such strides long. */
const STRIDE = 30;

/** Strides in two turns of the crank. */
const STRIDES = 720 / STRIDE;

/** Checks the degree wheel, finds the base circle, zeroes there, and reads every few degrees, always coming forward. */
export function* plotLobe(
  plate: LiftCurveBrief,
  first: ViewOf<'lift-curve'>,
  habits: CurveHabits = {},
): CurveWork<Finished<'lift-curve'>> {
  const student = new AtTheWheel(plate, first, habits);
  if (!habits.leavesOut?.includes('stop')) yield* student.checkWheel();
  yield* student.zeroOnBaseCircle();
  const lines = yield* student.readRound();
  return { sheet: curveSheet(plate, lines) };
}

class AtTheWheel {
  readonly #hands: GaugeHands<'lift-curve'>;
  readonly #graduation: number;
  readonly #habits: CurveHabits;

  constructor({ dial }: LiftCurveBrief, first: ViewOf<'lift-curve'>, habits: CurveHabits) {
    this.#hands = new GaugeHands(dial, first);
    this.#graduation = dial.graduation;
    this.#habits = habits;
  }

  /** Barred against the stop from both sides: top dead centre lies half-way between. */
  *checkWheel(): CurveWork {
    yield* this.#hands.does({ type: 'try-stop' });
    const { stops } = this.#hands.sees();
    const middle = stops === null ? 0 : (stops.forwardDeg + stops.backDeg) / 2;
    if (middle !== 0 && !this.#habits.leavesOut?.includes('wheel'))
      yield* this.#hands.does({ type: 'set-wheel', degrees: -middle });
  }

  /** Set down on the lobe the tip would leave the work, so a second look follows the first. */
  *zeroOnBaseCircle(): CurveWork {
    const { zeroOnRamp } = this.#habits;
    const first = yield* this.#lowestStretch();
    yield* this.#bar(STRIDE * (first.from + Math.round(first.length / 2) + 1));
    const sure = yield* this.#lowestStretch();
    yield* this.#bar(STRIDE * (sure.from + Math.round(sure.length * (zeroOnRamp ? 1 : 0.6)) + 1));
    if (zeroOnRamp) yield* this.#bar(20);
    yield* setUp(this.#hands, {});
    yield* zero(this.#hands, {});
  }

  *readRound(): CurveWork<readonly CurveLine[]> {
    const { everyDeg = 5, leavesOut } = this.#habits;
    const end = leavesOut?.includes('return') ? 330 : 720;
    const lines: CurveLine[] = [];
    for (let gone = 0; gone < end; gone += everyDeg) {
      yield* this.#comeToNextMark(everyDeg);
      lines.push({ crankDeg: this.#crankDeg(), lift: this.#hands.reads() * this.#graduation });
    }
    return lines;
  }

  *#comeToNextMark(every: number): CurveWork {
    const { backsUpDeg: back = 0, overshootsDeg: over = 0 } = this.#habits;
    if (back > 0) {
      yield* this.#bar(every + back);
      yield* this.#bar(-back);
    } else if (over > 0) {
      yield* this.#bar(every + 3);
      yield* this.#bar(-over - 3);
      yield* this.#bar(over);
    } else yield* this.#bar(every);
  }

  /** Two turns by strides: from which of them, and for how many, the pointer stood still and lowest. */
  *#lowestStretch(): CurveWork<{ readonly from: number; readonly length: number }> {
    yield* this.#hands.does({ type: 'wipe' });
    yield* this.#hands.does({ type: 'set-indicator', turns: 0.5 });
    yield* this.#hands.does({ type: 'clamp' });
    const heights: number[] = [];
    for (let stride = 0; stride < STRIDES; stride += 1) {
      yield* this.#bar(STRIDE);
      heights.push(this.#hands.reads());
    }
    return longestLow(heights);
  }

  #bar(degrees: number) {
    return this.#hands.does({ type: 'bar', degrees });
  }

  /** By the wheel, counted over both turns of the crank. */
  #crankDeg(): number {
    const { turn, sample } = this.#hands.sees();
    return (sample.workDeg ?? 0) + (turn - 1) * 360;
  }
}

/** The longest stretch, over the seam too, within half a graduation of the lowest height. */
function longestLow(heights: readonly number[]): { readonly from: number; readonly length: number } {
  const lowest = Math.min(...heights);
  const isLow = (at: number) => (heights[at % STRIDES] ?? 0) <= lowest + 0.5;
  const lengthFrom = (start: number) => {
    let length = 0;
    while (length < STRIDES && isLow(start + length)) length += 1;
    return length;
  };
  const starts = heights.map((_, at) => at);
  const from = starts.reduce((best, at) => (lengthFrom(at) > lengthFrom(best) ? at : best), 0);
  return { from, length: lengthFrom(from) };
}
