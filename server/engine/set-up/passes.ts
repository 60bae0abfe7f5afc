import { type Curve, isStill } from './curve.ts';

/** Once over the lobe, as the pointer showed it. Indices into the curve. */
export interface SeenPass {
  /** Last place before it rose, and its highest. */
  readonly foot: number;
  readonly top: number;
  /** A place on the base circle after it, at least so far on that any lobe has come down; null where it was not barred so far. */
  readonly after: number | null;
}

/** Crank degrees from the highest place after which every lobe is down: 15° of dwell and 120° of fall, told in cam degrees. */
const DOWN_AGAIN_DEG = 290;
/** A rise counts from this share of the lift expected. */
const RISES = 0.3;

/** Every rise of the pointer by a good part of a lobe's lift (`liftGraduations`), in the order barred. */
export function passesIn(curve: Curve, liftGraduations: number): SeenPass[] {
  const { count, crankDeg } = curve;
  const passes: SeenPass[] = [];
  let low = 0;
  let top = -1;
  const close = () => {
    if (top < 0) return;
    const down = crankDeg.findIndex((deg, n) => n > top && deg - (crankDeg[top] ?? 0) >= DOWN_AGAIN_DEG);
    passes.push({ foot: footOf(curve, low, top), top, after: down < 0 ? null : down });
  };
  for (let n = 1; n < count.length; n += 1) {
    const here = count[n] ?? 0;
    if (top < 0) {
      if (here <= (count[low] ?? 0)) low = n;
      else if (here - (count[low] ?? 0) > RISES * liftGraduations) top = n;
    } else if (here > (count[top] ?? 0)) top = n;
    else if (
      (count[top] ?? 0) - here > RISES * liftGraduations ||
      (crankDeg[n] ?? 0) - (crankDeg[top] ?? 0) >= DOWN_AGAIN_DEG
    ) {
      close();
      top = -1;
      low = n;
    }
  }
  close();
  return passes;
}

/** Where the pointer began to rise: the last place within half a graduation of where it had been lowest. */
function footOf({ smooth }: Curve, low: number, top: number): number {
  const level = smooth[low] ?? 0;
  let foot = low;
  for (let n = low; n < top && (smooth[n] ?? 0) - level <= 0.5; n += 1) foot = n;
  return foot;
}

/** Degrees of crank over which the first movement is looked at. */
const FIRST_DEG = 3;

/**
 * How suddenly the pointer sets off: its first movement against the fastest of that rise, 0 to 1. A lobe starts gently; a tappet that hangs is
 * met by a lobe already rising fast. null where the stillness before it was not seen.
 */
export function suddenness(curve: Curve, { foot, top }: SeenPass): number | null {
  if (curve.unsure[foot] || isStill(curve, foot, 15, 1, -1) !== true) return null;
  const rate = (n: number) => {
    const degrees = (curve.crankDeg[n + FIRST_DEG] ?? 0) - (curve.crankDeg[n] ?? 0);
    return degrees <= 0 ? 0 : ((curve.smooth[n + FIRST_DEG] ?? 0) - (curve.smooth[n] ?? 0)) / degrees;
  };
  let fastest = 0;
  for (let n = foot; n <= top - FIRST_DEG; n += 1) fastest = Math.max(fastest, rate(n));
  return fastest === 0 ? null : rate(foot) / fastest;
}

/** What a place of the base circle lost or gained from one round of the cam to the next; and over how many graduations it was seen. */
export interface RoundShift {
  readonly at: number;
  readonly graduations: number;
}

const CYCLE_DEG = 720;
/** The nose stands still too, but each pass over it shows a little more or less: only the lower part of the movement is looked at. */
const LOW = 0.5;

/**
 * The same still place of the lobe, one round of the cam later: run-out and deposits are the same there, so that any difference is the
 * set-up's. One shift for each round; none where less than a round was barred.
 */
export function roundShifts(curve: Curve): RoundShift[] {
  const { crankDeg, smooth, at } = curve;
  const shifts: RoundShift[] = [];
  const [lowest, highest] = smooth.reduce(([a, b], one) => [Math.min(a, one), Math.max(b, one)], [0, 0]);
  const lowBelow = lowest + LOW * (highest - lowest);
  let later = 0;
  let round: number[] = [];
  let begun: number | null = null;
  for (let n = 0; n < crankDeg.length; n += 1) {
    const wanted = (crankDeg[n] ?? 0) + CYCLE_DEG;
    while (later < crankDeg.length && (crankDeg[later] ?? 0) < wanted - 0.5) later += 1;
    if (later >= crankDeg.length) break;
    if (Math.abs((crankDeg[later] ?? 0) - wanted) > 0.5) continue;
    const low = (smooth[n] ?? 0) < lowBelow && (smooth[later] ?? 0) < lowBelow;
    const sure = low && !curve.unsure[n] && !curve.unsure[later];
    if (sure && isStill(curve, n, 20, 1, 1) === true && isStill(curve, later, 20, 1, 1) === true)
      round.push((smooth[later] ?? 0) - (smooth[n] ?? 0));
    begun ??= n;
    if ((crankDeg[n] ?? 0) - (crankDeg[begun] ?? 0) >= 120 && round.length > 0) {
      shifts.push({ at: at[later] ?? 0, graduations: median(round) });
      round = [];
      begun = n;
    }
  }
  if (round.length > 0)
    shifts.push({ at: at[Math.min(later, at.length - 1)] ?? 0, graduations: median(round) });
  return shifts;
}

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? 0;
}
