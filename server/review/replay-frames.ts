import { shortWay } from '../../views/client/models/interpolate.ts';
import {
  packFrames,
  type ReplayData,
  type ReplayFrame,
  type ReplayStand,
} from '../../views/client/models/replay.ts';
import {
  type CamLiftBench,
  type CamLiftSeen,
  graduationsPerTurn,
  lookAt,
  startBench,
  toMm,
} from '../engine/index.ts';

export interface Replay {
  readonly data: ReplayData;
  readonly frames: readonly ReplayFrame[];
}

/** A dial is drawn to the eye: samples nearer than this to the one before are left out. */
const KEPT_CRANK_DEG = 3;
const KEPT_TURN = 1 / 8;

/** The dial all the way through an attempt, thinned: about a high point the pointer is so slow that none of its height is lost. */
export function replayOf(bench: CamLiftBench, seen: readonly CamLiftSeen[]): Replay {
  const perTurn = graduationsPerTurn(bench.dial);
  const { dial } = bench;
  const graduationMm = toMm(dial.graduation, dial.unit);
  const frames: ReplayFrame[] = [];
  const stands: ReplayStand[] = [];
  let pointer = 0;
  let graduations = 0;
  let crankDeg = lookAt(bench, startBench(bench)).sample.crankDeg;
  let wasOn = false;
  seen.forEach(({ said, samples, now }, at) => {
    const on = now.indicator === 'on';
    const counted: ReplayFrame[] = [];
    for (const sample of samples) {
      // A gauge set down anew, or off the work, starts from where its pointer stands.
      graduations = wasOn && on ? graduations + shortWay(pointer, sample.pointer, perTurn) : sample.pointer;
      wasOn = on;
      pointer = sample.pointer;
      crankDeg += shortWay(crankDeg, sample.crankDeg, 360);
      counted.push({ at, crankDeg, graduations });
    }
    if (said.some(({ code }) => code === 'bezel-at-zero')) {
      graduations = shortWay(0, pointer, perTurn);
      counted.splice(0, counted.length, { at, crankDeg, graduations });
    }
    frames.push(...thinned(counted, perTurn));
    const { counter, plungerMm } = now.sample;
    const stand: ReplayStand = {
      from: at,
      position: now.position,
      on,
      zeroed: now.zeroed,
      clamped: now.clamped,
      faceTurn: Math.round(now.faceTurn * 10) / 10,
      counterOffset: counter === null ? null : Math.round((counter - graduations / perTurn) * 100) / 100,
      plungerOffsetMm: Math.round((plungerMm - graduations * graduationMm) * 10) / 10,
    };
    if (!isSame(stands.at(-1), stand)) stands.push(stand);
  });
  const data: ReplayData = {
    perTurn,
    graduation: dial.graduation,
    graduationMm,
    unit: dial.unit,
    stands,
    ...packFrames(frames),
  };
  return { data, frames };
}

/** The frame a remark points to: of its action the highest, or the last. An action without frames gives the nearest before it. */
export function frameOf(frames: readonly ReplayFrame[], at: number, which: 'highest' | 'last'): number {
  const last = frames.findLastIndex((frame) => frame.at <= at);
  if (last < 0) return 0;
  if (which === 'last') return last;
  const action = frames[last]?.at;
  let highest = last;
  for (let index = last; index >= 0 && frames[index]?.at === action; index -= 1) {
    if ((frames[index]?.graduations ?? 0) > (frames[highest]?.graduations ?? 0)) highest = index;
  }
  return highest;
}

function thinned(counted: readonly ReplayFrame[], perTurn: number): ReplayFrame[] {
  const kept: ReplayFrame[] = [];
  counted.forEach((frame, index) => {
    const before = kept.at(-1);
    const moved =
      before === undefined ||
      Math.abs(frame.crankDeg - before.crankDeg) >= KEPT_CRANK_DEG ||
      Math.abs(frame.graduations - before.graduations) >= KEPT_TURN * perTurn;
    if (moved || index === counted.length - 1) kept.push(frame);
  });
  return kept;
}

/** Alike but for rounding: the small hand is seen to a hundredth of a turn, the plunger to a fifth of a millimetre. */
function isSame(before: ReplayStand | undefined, next: ReplayStand): boolean {
  if (before === undefined) return false;
  return (
    before.position === next.position &&
    before.on === next.on &&
    before.zeroed === next.zeroed &&
    before.clamped === next.clamped &&
    Math.abs(before.faceTurn - next.faceTurn) < 0.05 &&
    Math.abs((before.counterOffset ?? 0) - (next.counterOffset ?? 0)) < 0.015 &&
    Math.abs(before.plungerOffsetMm - next.plungerOffsetMm) < 0.35
  );
}
