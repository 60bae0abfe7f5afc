import { type Dial, graduationsPerTurn } from '../engine/index.ts';
import { type EngineHands, type EngineWork, heard, type Skips, setRight } from './engine-hands.ts';

/** Degrees of crank barred at a time. What happens on the way is seen at every degree. */
export const STEP_DEG = 60;
export const CYCLE_DEG = 720;
const WINDOW_DEG = 60;

/** The pointer at one degree of a round of the cam, counted on from where it stood at the start. */
interface RoundPoint {
  readonly deg: number;
  readonly count: number;
}

/** A round of the cam, and where in it the base circle was found. */
export interface Round {
  readonly points: readonly RoundPoint[];
  readonly base: RoundPoint;
}

/**
 * Sets the indicator down, bars round once to learn how the pointer goes, and stops on the base circle. Where the tip left the
 * work, or little preload is left there, it is set down anew and the round is barred again.
 */
export function* setDownOnBaseCircle(
  dial: Dial,
  hands: EngineHands,
  preloadTurns: number,
  presses: boolean,
  skips: Skips,
): EngineWork<Round> {
  for (let tries = 1; ; tries += 1) {
    yield* hands.does({ type: 'preload', turns: preloadTurns });
    yield* setRight(hands, skips);
    // The bezel is clamped from the start, so that the round is barred against one zero.
    yield* hands.does({ type: 'clamp' });
    const { points, tipLeft } = yield* barRound(dial, hands, presses);
    const base = stillestPlace(points);
    for (let left = base.deg; left > 0; left -= STEP_DEG)
      yield* hands.does({ type: 'bar', degrees: Math.min(left, STEP_DEG), speed: 60 });
    if (presses) yield* hands.does({ type: 'press' });
    const lostTurns = -base.count / graduationsPerTurn(dial);
    if ((!tipLeft && lostTurns < 0.1) || tries === 4) return { points, base };
  }
}

/** One whole turn of the cam from here: the pointer at every degree. */
function* barRound(
  dial: Dial,
  hands: EngineHands,
  presses: boolean,
): EngineWork<{ readonly points: readonly RoundPoint[]; readonly tipLeft: boolean }> {
  const follow = follower(dial, hands.sees().pointer, 0);
  const points: RoundPoint[] = [{ deg: 0, count: 0 }];
  let tipLeft = false;
  for (let deg = 0; deg < CYCLE_DEG; deg += STEP_DEG) {
    const from = hands.sees().crankDeg;
    const seen = yield* hands.does({ type: 'bar', degrees: STEP_DEG, speed: 60 });
    tipLeft ||= heard(seen, 'tip-off-the-work');
    for (const { crankDeg, pointer } of seen.samples.slice(1))
      points.push({ deg: deg + ((crankDeg - from + 360) % 360), count: follow(pointer) });
    if (!presses) continue;
    // Pressing shows whether the tappet has stayed up.
    const pressed = yield* hands.does({ type: 'press' });
    for (const { pointer } of pressed.samples) follow(pointer);
  }
  return { points, tipLeft };
}

/**
 * A place on the base circle: of all places from which the pointer stays within half a graduation over 60° of crank, the one
 * where it stands lowest; and of places equally low, to a tenth of a graduation, the middle of the longest such stretch.
 */
function stillestPlace(points: readonly RoundPoint[]): RoundPoint {
  const counts = Array.from({ length: CYCLE_DEG }, () => 0);
  for (const { deg, count } of points) counts[Math.round(deg) % CYCLE_DEG] = count;
  const at = (deg: number) => counts[deg % CYCLE_DEG] ?? 0;
  const isStill = (deg: number) => {
    let low = at(deg);
    let high = low;
    for (let on = 1; on <= WINDOW_DEG; on += 1) {
      low = Math.min(low, at(deg + on));
      high = Math.max(high, at(deg + on));
      if (high - low > 0.5) return false;
    }
    return true;
  };
  const still = counts.map((_, deg) => isStill(deg));
  const lowest = Math.min(...counts.filter((_, deg) => still[deg]));
  const isLow = (deg: number) => (still[deg % CYCLE_DEG] ?? false) && at(deg) <= lowest + 0.1;
  // Twice round, so that a stretch over the seam is seen whole.
  let longest = { endDeg: 0, length: 0 };
  let length = 0;
  for (let deg = 0; deg < 2 * CYCLE_DEG; deg += 1) {
    length = isLow(deg) ? length + 1 : 0;
    if (length > longest.length) longest = { endDeg: deg, length };
  }
  const deg = (longest.endDeg - Math.floor(longest.length / 2) + CYCLE_DEG) % CYCLE_DEG;
  return { deg, count: at(deg) };
}

/** Follows a pointer from sample to sample, counting graduations on over whole turns; they are never half a turn apart. */
export function follower(dial: Dial, startPointer: number, startCount: number): (pointer: number) => number {
  const perTurn = graduationsPerTurn(dial);
  let last = startPointer;
  let count = startCount;
  return (pointer) => {
    count += ((pointer - last + 1.5 * perTurn) % perTurn) - perTurn / 2;
    last = pointer;
    return count;
  };
}
