import type { DialName } from '../../dial/dial.ts';
import type { CamLiftBench } from './bench.ts';
import type { Detail } from './keep-moments.ts';
import type { Moment } from './perceive.ts';
import { type CamLiftState, startCamLift } from './state.ts';
import { type Step, stepCamLift } from './step.ts';
import type { CamLiftAction, NoteBox } from './types.ts';

/** One line of the log, with how the bench stood before it. */
export interface Entry {
  readonly at: number;
  readonly action: CamLiftAction;
  readonly before: CamLiftState;
  readonly step: Step;
}

/** The whole log, folded once. What could not be done left the bench as it was, and is left out. */
export function foldLog(
  bench: CamLiftBench,
  actions: readonly CamLiftAction[],
  detail: Detail = 'what-counts',
): Entry[] {
  let state = startCamLift(bench);
  const entries = actions.map((action, at) => {
    const before = state;
    const step = stepCamLift(bench, before, action, detail);
    state = step.state;
    return { at, action, before, step };
  });
  return entries.filter(({ step }) => !step.said.some(({ code }) => code === 'cannot'));
}

export interface RunNote {
  readonly at: number;
  readonly reading: number;
  readonly box: NoteBox;
  /** Index of the point at which it was written. */
  readonly index: number;
}

/** A zero of the bezel, and all that follows until the next one. */
export interface Zeroing {
  readonly at: number;
  /** Index of the run's point at the zero. */
  readonly index: number;
  readonly state: CamLiftState;
}

/** One set-up on one lobe: from the indicator being let down to its being taken off. */
export interface Run {
  readonly position: number;
  /** Gauge that was in hand; null where none was to be chosen. */
  readonly gauge: DialName | null;
  readonly setUp: number;
  /** Action that set the indicator. */
  readonly at: number;
  readonly points: readonly Moment[];
  readonly zeroings: readonly Zeroing[];
  readonly notes: readonly RunNote[];
  /** Actions in the run at which the tip was lifted and came back. */
  readonly tipLifts: readonly number[];
  readonly entries: readonly Entry[];
}

/** The set-ups in the log, in order. */
export function runsOf(entries: readonly Entry[]): Run[] {
  const runs: Run[] = [];
  let open: Entry[] = [];
  const close = () => {
    const first = open[0];
    if (first !== undefined) runs.push(runFrom(open, first));
    open = [];
  };
  for (const entry of entries) {
    const { state } = entry.step;
    const setAnew = state.setUps !== entry.before.setUps;
    if (setAnew || state.indicator === null) close();
    if (state.indicator !== null) open.push(entry);
  }
  close();
  return runs;
}

function runFrom(entries: readonly Entry[], first: Entry): Run {
  const { position, setUps, gauge } = first.step.state;
  const points: Moment[] = [];
  const zeroings: Zeroing[] = [];
  const notes: RunNote[] = [];
  const tipLifts: number[] = [];
  for (const { at, action, step } of entries) {
    // Setting it down and lifting the tip show the plunger in the air, not the lobe: only where it comes to rest belongs to the curve.
    const inTheAir = action.type === 'preload' || action.type === 'lift-tip';
    const kept = inTheAir ? step.moments.slice(-1) : step.moments;
    for (const moment of kept) points.push(moment);
    const index = points.length - 1;
    if (step.said.some(({ code }) => code === 'bezel-at-zero'))
      zeroings.push({ at, index, state: step.state });
    if (step.said.some(({ code }) => code === 'tip-comes-back')) tipLifts.push(at);
    if (
      step.said.some(({ code }) => code === 'noted') &&
      action.type === 'note' &&
      action.position === position
    )
      notes.push({ at, reading: action.reading, box: action.box, index });
  }
  return {
    position: position ?? 0,
    gauge,
    setUp: setUps,
    at: first.at,
    points,
    zeroings,
    notes,
    tipLifts,
    entries,
  };
}
