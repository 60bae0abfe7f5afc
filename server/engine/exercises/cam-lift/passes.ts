import { shownMm } from '../../dial/gauge-error.ts';
import { toMm } from '../../units.ts';
import { baseEdgeMm, type CamLiftBench, lobeAt, trueLiftMm } from './bench.ts';
import type { Run, Zeroing } from './history.ts';
import { settled } from './indicator.ts';
import type { CamLiftState } from './state.ts';

/** Once over the lobe on one zero: what the gauge showed of it. Graduations are counted from that zero. */
export interface Pass {
  readonly run: Run;
  readonly zeroing: Zeroing;
  /** Indices into the run's points: first and last with the tappet off the base circle. */
  readonly from: number;
  readonly to: number;
  /** Highest the pointer came, and where. */
  readonly high: number;
  readonly highIndex: number;
  /** Did the middle of the nose come under the roller? */
  readonly reachedNose: boolean;
  /** Highest the pointer would have come on this zero had the nose come under the roller. */
  readonly keyHigh: number;
  /** Degrees of crank over which the base circle was seen after it; 0 when the lobe did not come down again. */
  readonly baseAfterDeg: number;
  /** Lowest and highest the pointer stood on the base circle after it; null when it was not seen. */
  readonly returned: { readonly low: number; readonly high: number } | null;
}

/** Above this share of the lift the lobe counts as coming up. */
const OFF_BASE = 0.1;
/** Standing on the nose or coming down from it is no pass: the cam must have risen by this share of the lift. */
const ROSE = 0.25;

/** Every pass over the lobe in a run, on every zero taken in it. */
export function passesOf(bench: CamLiftBench, run: Run): Pass[] {
  return run.zeroings.flatMap((zeroing, n) => {
    // The point at which the bezel is turned again already counts from the new zero.
    const end = (run.zeroings[n + 1]?.index ?? run.points.length) - 1;
    const spans = spansOffBase(bench, run, zeroing.index, end);
    return spans.flatMap(
      (span, k) => passFrom(bench, run, zeroing, span, spans[k + 1]?.from ?? end + 1) ?? [],
    );
  });
}

interface Span {
  readonly from: number;
  readonly to: number;
}

function spansOffBase(bench: CamLiftBench, run: Run, start: number, end: number): Span[] {
  const truth = lobeAt(bench, run.position);
  const upMm = truth.lowestMm + OFF_BASE * trueLiftMm(truth);
  const spans: Span[] = [];
  let from: number | null = null;
  for (let index = start; index <= end; index += 1) {
    if ((run.points[index]?.camMm ?? 0) > upMm) from ??= index;
    else if (from !== null) {
      spans.push({ from, to: index - 1 });
      from = null;
    }
  }
  return from === null ? spans : [...spans, { from, to: end }];
}

/** A pass over a span off the base circle, with the base circle seen after it; null when the lobe did not rise in it. */
function passFrom(
  bench: CamLiftBench,
  run: Run,
  zeroing: Zeroing,
  { from, to }: Span,
  nextUp: number,
): Pass | null {
  const truth = lobeAt(bench, run.position);
  const liftMm = trueLiftMm(truth);
  const top = highestIn(run, from, to);
  if (top.camMm - (run.points[from]?.camMm ?? 0) <= ROSE * liftMm) return null;
  const reachedNose = top.camMm >= truth.highestMm - 0.25 * toMm(bench.dial.graduation, bench.dial.unit);
  const after = baseAfter(run, to + 1, nextUp, baseEdgeMm(truth));
  return {
    run,
    zeroing,
    from,
    to,
    high: top.graduations,
    highIndex: top.index,
    reachedNose,
    keyHigh: reachedNose ? top.graduations : predictedHigh(bench, zeroing, run.position),
    ...after,
  };
}

/** Where the pointer came highest in a span, and how high the cam did. */
function highestIn(run: Run, from: number, to: number) {
  let highest = { index: from, graduations: Number.NEGATIVE_INFINITY };
  let camMm = Number.NEGATIVE_INFINITY;
  for (let index = from; index <= to; index += 1) {
    const point = run.points[index];
    if (point === undefined) continue;
    if (point.graduations > highest.graduations) highest = { index, graduations: point.graduations };
    if (point.camMm > camMm) camMm = point.camMm;
  }
  return { ...highest, camMm };
}

/** The base circle after a pass and before the lobe comes up again: degrees of crank seen of it, and where the pointer stood. */
function baseAfter(
  run: Run,
  from: number,
  nextUp: number,
  baseMm: number,
): Pick<Pass, 'baseAfterDeg' | 'returned'> {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  let firstDeg = Number.POSITIVE_INFINITY;
  let lastDeg = Number.NEGATIVE_INFINITY;
  for (let index = from; index < nextUp; index += 1) {
    const point = run.points[index];
    if (point === undefined || point.camMm >= baseMm) continue;
    low = Math.min(low, point.graduations);
    high = Math.max(high, point.graduations);
    firstDeg = Math.min(firstDeg, point.crankDeg);
    lastDeg = Math.max(lastDeg, point.crankDeg);
  }
  return low > high
    ? { baseAfterDeg: 0, returned: null }
    : { baseAfterDeg: lastDeg - firstDeg, returned: { low, high } };
}

/** Where the pointer would have come to on this zero with the nose under the roller, in graduations, within the gauge's travel. */
function predictedHigh(bench: CamLiftBench, zeroing: Zeroing, position: number): number {
  const { state } = zeroing;
  const { highestMm } = lobeAt(bench, position);
  const raised = {
    ...state,
    tappet: { ...state.tappet, heightMm: Math.max(highestMm, state.tappet.hungMm) },
  };
  const shown = (of: CamLiftState) =>
    of.indicator === null ? 0 : shownMm(bench.gauge, bench.dial, of.indicator.worksMm);
  const riseMm = shown(settled(bench, raised)) - shown(state);
  return riseMm / toMm(bench.dial.graduation, bench.dial.unit);
}
