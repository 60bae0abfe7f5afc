import { shortWay } from '../../views/client/models/interpolate.ts';
import {
  packFrames,
  type ReplayData,
  type ReplayDial,
  type ReplayFrame,
  type ReplayStand,
} from '../../views/client/models/replay.ts';
import { type AnySeen, type AnyView, type Dial, graduationsPerTurn, toMm } from '../engine/index.ts';

export interface Replay {
  readonly data: Omit<ReplayData, 'plot' | 'point'>;
  readonly frames: readonly ReplayFrame[];
  /** The faces to be drawn, in the order of the data's dials. */
  readonly dials: readonly Dial[];
}

/** A dial is drawn to the eye: samples nearer than this to the one before are left out. */
const KEPT_CRANK_DEG = 3;
const KEPT_TURN = 1 / 8;

/** What of a view the replay shows, whatever kind it is of. */
interface Look {
  readonly on: boolean;
  readonly zeroed: boolean;
  readonly clamped: boolean;
  readonly faceTurn: number;
  readonly position: number | null;
  readonly drill: number | null;
  readonly sample: Sample;
}

interface Sample {
  readonly pointer: number;
  readonly counter: number | null;
  readonly plungerMm: number;
  readonly deg: number;
}

type SomeSample = Pick<Sample, 'pointer' | 'counter' | 'plungerMm'> & {
  readonly crankDeg?: number;
  readonly workDeg?: number | null;
};

function sampleIn(sample: SomeSample): Sample {
  return { ...sample, deg: sample.crankDeg ?? sample.workDeg ?? 0 };
}

/** Where there is no dial to be seen: a wrench has none. */
const NO_DIAL: Look = {
  ...{ on: false, zeroed: false, clamped: false, faceTurn: 0, position: null, drill: null },
  sample: { pointer: 0, counter: null, plungerMm: 0, deg: 0 },
};

function lookOf(view: AnyView): Look {
  if (!('sample' in view)) return NO_DIAL;
  return {
    on: view.indicator === 'on',
    // A drill's dial comes zeroed, its bezel clamped.
    zeroed: 'zeroed' in view ? view.zeroed : true,
    clamped: 'clamped' in view ? view.clamped : true,
    faceTurn: 'faceTurn' in view ? view.faceTurn : 0,
    position: 'position' in view ? view.position : null,
    drill: 'drill' in view ? view.drill : null,
    sample: sampleIn(view.sample),
  };
}

/**
 * The dial all the way through an attempt, thinned: about a high point the pointer is so slow that none of its height is lost. `dialOf`
 * says which gauge is in hand. A kind without a dial has a frame an action, and no dials.
 */
export function replayOf(
  start: AnyView,
  seen: readonly AnySeen[],
  dialOf: (view: AnyView) => Dial | null,
): Replay {
  const found = lookOf(start);
  const dials: Dial[] = [];
  const frames: ReplayFrame[] = [];
  const stands: ReplayStand[] = [];
  let pointer = 0;
  let graduations = 0;
  let crankDeg = found.sample.deg;
  let before: { on: boolean; drill: number | null } = { on: false, drill: null };
  seen.forEach((one, at) => {
    const look = lookOf(one.now);
    const dial = dialOf(one.now);
    const index = dial === null ? null : indexOf(dials, dial);
    const perTurn = dial === null ? 1 : graduationsPerTurn(dial);
    const samples = 'samples' in one && one.samples.length > 0 ? one.samples.map(sampleIn) : [look.sample];
    const counted: ReplayFrame[] = [];
    for (const sample of samples) {
      // A gauge set down anew, taken up afresh or off the work starts from where its pointer stands.
      const goesOn = before.on && look.on && before.drill === look.drill;
      graduations = goesOn ? graduations + shortWay(pointer, sample.pointer, perTurn) : sample.pointer;
      before = look;
      pointer = sample.pointer;
      crankDeg += shortWay(crankDeg, sample.deg, 360);
      counted.push({ at, crankDeg, graduations });
    }
    if (one.said.some(({ code }) => code === 'bezel-at-zero')) {
      graduations = shortWay(0, pointer, perTurn);
      counted.splice(0, counted.length, { at, crankDeg, graduations });
    }
    frames.push(...thinned(counted, perTurn));
    const stand = standOf(at, index, look, graduations, dial);
    if (!isSame(stands.at(-1), stand)) stands.push(stand);
  });
  return { data: { dials: dials.map(replayDial), stands, ...packFrames(frames) }, frames, dials };
}

function indexOf(dials: Dial[], dial: Dial): number {
  const key = JSON.stringify(dial);
  const index = dials.findIndex((one) => JSON.stringify(one) === key);
  return index >= 0 ? index : dials.push(dial) - 1;
}

function replayDial(dial: Dial): ReplayDial {
  return {
    perTurn: graduationsPerTurn(dial),
    graduation: dial.graduation,
    graduationMm: toMm(dial.graduation, dial.unit),
    unit: dial.unit,
    counterWay: dial.counter === 'backwards' ? -1 : 1,
  };
}

function standOf(
  from: number,
  index: number | null,
  look: Look,
  graduations: number,
  dial: Dial | null,
): ReplayStand {
  const { perTurn, graduationMm, counterWay } =
    dial === null ? { perTurn: 1, graduationMm: 0, counterWay: 1 } : replayDial(dial);
  const { counter, plungerMm } = look.sample;
  return {
    from,
    dial: index,
    position: look.position,
    on: look.on && dial !== null,
    zeroed: look.zeroed,
    clamped: look.clamped,
    faceTurn: Math.round(look.faceTurn * 10) / 10,
    counterOffset:
      counter === null ? null : Math.round((counter - (counterWay * graduations) / perTurn) * 100) / 100,
    plungerOffsetMm: Math.round((plungerMm - graduations * graduationMm) * 10) / 10,
  };
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
    before.dial === next.dial &&
    before.position === next.position &&
    before.on === next.on &&
    before.zeroed === next.zeroed &&
    before.clamped === next.clamped &&
    Math.abs(before.faceTurn - next.faceTurn) < 0.05 &&
    Math.abs((before.counterOffset ?? 0) - (next.counterOffset ?? 0)) < 0.015 &&
    Math.abs(before.plungerOffsetMm - next.plungerOffsetMm) < 0.35
  );
}
