import { isStill } from './curve.ts';
import type { Glance } from './sight.ts';
import { type RunCurve, type Sign, saidIn, sign } from './signs.ts';

/** Crank degrees barred after which a zero counts as measured with: less shows no lobe. */
const MEASURED_DEG = 240;

/** What was measured on one zero: from the bezel being turned to its being turned again. */
interface Measured {
  readonly zero: Glance | null;
  readonly glances: readonly Glance[];
  /** Indices into the curve. */
  readonly from: number;
  readonly to: number;
}

/** The stretches of a run in which a lobe was measured; the whole run where no zero was ever taken. */
function measuredIn({ run, curve }: RunCurve): Measured[] {
  const zeroes = run.glances.filter(({ said }) => said.some(({ code }) => code === 'bezel-at-zero'));
  const starts: (Glance | null)[] = zeroes.length === 0 ? [null] : zeroes;
  return starts.flatMap((zero, n) => {
    const endAt = zeroes[n + 1]?.at ?? Number.POSITIVE_INFINITY;
    const from = zero?.ends ?? 0;
    const last = curve.at.findLastIndex((at) => at < endAt);
    const barredDeg = (curve.crankDeg[last] ?? 0) - (curve.crankDeg[from] ?? 0);
    if (barredDeg < MEASURED_DEG) return [];
    const glances = run.glances.filter(({ at }) => at > (zero?.at ?? -1) && at < endAt);
    return [{ zero, glances, from, to: last }];
  });
}

/** Signs of what the student did: looked for only where something was measured. */
export function measuredSigns(one: RunCurve, expected: number): Sign[] {
  return measuredIn(one).flatMap((measured) => [
    ...zeroSigns(one, measured, expected),
    ...preloadSigns(measured),
    ...bezelSigns(measured),
    ...backSigns(one, measured),
  ]);
}

/** The base circle stands still for 60° of crank one way or the other; half a graduation, and a gauge's own wave. */
const STILL_DEG = 60;
const STILL_WITHIN = 0.8;
/** Zero this far above the lowest place was not taken there; over this share of the lift it was taken on the nose. */
const ABOVE = 1;
const NOSE_SHARE = 0.9;
/** Graduations a free face may slip by in one round of the cam. */
const SLIPS = 8;

function zeroSigns({ curve }: RunCurve, { zero, from, to }: Measured, expected: number): Sign[] {
  if (zero === null) return [];
  const here = curve.smooth[from] ?? 0;
  let lowest = here;
  let highest = here;
  for (let n = from; n <= to; n += 1) {
    if ((curve.crankDeg[n] ?? 0) - (curve.crankDeg[from] ?? 0) > 720) break;
    lowest = Math.min(lowest, curve.smooth[n] ?? here);
    highest = Math.max(highest, curve.smooth[n] ?? here);
  }
  const above = here - lowest;
  const onBase = [1, -1].some((way) => isStill(curve, from, STILL_DEG, STILL_WITHIN, way as 1 | -1) === true);
  const off = above > ABOVE && !onBase;
  // A face that slips by a graduation or two at each compression leaves no smaller height to be sure of.
  if (off && above < SLIPS && curve.unsure.slice(from, to).includes(true)) return [];
  const share = above / Math.max(1, highest - lowest);
  const onNose = off && share > NOSE_SHARE && above > expected / 4;
  return [
    sign('stood-above-its-lowest', off && !onNose ? zero.at : null, above),
    sign('runs-backwards-from-zero', onNose ? zero.at : null, above),
  ];
}

function preloadSigns({ glances }: Measured): Sign[] {
  const lifts = glances.filter(({ action }) => action.type === 'lift-tip');
  const bars = glances.filter(({ action }) => action.type === 'bar');
  return [
    ...(lifts.length > 0
      ? [sign('nothing-under-the-tip', saidIn(lifts, 'nothing-to-lift')?.at ?? null)]
      : []),
    sign('tip-left-the-work', saidIn(bars, 'tip-off-the-work')?.at ?? null),
    sign('stopped-dead', saidIn(bars, 'hard-stop')?.at ?? null),
  ];
}

function bezelSigns({ zero, glances }: Measured): Sign[] {
  const bars = glances.filter(({ action }) => action.type === 'bar');
  const unclamped = zero === null ? undefined : bars.find(({ clamped }) => !clamped);
  const turned = glances.filter(({ faceMoved }) => Math.abs(faceMoved) > 0.05);
  const total = turned.reduce((sum, { faceMoved }) => sum + faceMoved, 0);
  return [
    sign('barred-unclamped', unclamped?.at ?? null),
    ...(unclamped === undefined ? [] : [sign('face-turned', turned[0]?.at ?? null, total)]),
  ];
}

/** Going back at least this far and coming forward again takes the play up the same way. Crank degrees. */
const PLAY_TAKEN_UP_DEG = 30;

/** Backed up with the lobe under the roller. On the base circle the gauge says nothing of it, and neither does the list of signs. */
function backSigns({ run, curve }: RunCurve, { glances }: Measured): Sign[] {
  const backs = glances.filter(({ action }) => action.type === 'bar' && action.degrees < 0);
  const short = backs.filter(({ action }) => action.type === 'bar' && -action.degrees < PLAY_TAKEN_UP_DEG);
  const onLobe = short.filter(({ ends, at }) => {
    const began = run.glances.findLast((glance) => glance.at < at)?.ends ?? ends;
    return Math.abs((curve.smooth[began ?? 0] ?? 0) - (curve.smooth[ends ?? 0] ?? 0)) > 1;
  });
  if (short.length > 0 && onLobe.length === 0) return [];
  const [first] = onLobe;
  return [
    sign('barred-back', first?.at ?? null, first?.action.type === 'bar' ? -first.action.degrees : null),
  ];
}
