import {
  act,
  type CamLiftAction,
  type CamLiftBench,
  type CamLiftState,
  type CamLiftView,
  displacementMm,
  generateBench,
  graduationsPerTurn,
  lookAt,
  startBench,
} from '../../server/engine/index.ts';
import { startTally, type Tally, tallyOn, zeroTally } from './tally.ts';

/** One cycle: what the slider of the figure spans. */
export const FIGURE_DEG = 720;

/** An engine whose truth is no secret: one sound lobe, a free tappet. The seed is fixed, so every reader has the same one. */
const BENCH: CamLiftBench = generateBench(
  {
    kind: 'cam-lift',
    engineName: 'Figure',
    dial: 'inch-0.001-1',
    positions: [1],
    tappetFaults: false,
    specification: { unit: 'in', nominal: 0.237, lower: 0.233 },
  },
  'figure 30',
);

/** The set-up as the reader finds it: tappet home, plunger well in so that the small hand stands between 1 and 2, tip settled, the bezel not yet at zero. */
const SET_UP: readonly CamLiftAction[] = [
  { type: 'move', position: 1 },
  { type: 'seat' },
  { type: 'preload', turns: 1.7 },
  { type: 'lift-tip' },
];

/** The figure at one moment. */
export interface Lift {
  readonly state: CamLiftState;
  readonly view: CamLiftView;
  /** Crank barred from where the figure began, 0 to 720. */
  readonly barredDeg: number;
  readonly tally: Tally;
}

/** The figure as a reader finds it, on the base circle. */
export function startLift(): Lift {
  const state = SET_UP.reduce((before, action) => act(BENCH, before, action).state, startBench(BENCH));
  const view = lookAt(BENCH, state);
  return { state, view, barredDeg: 0, tally: startTally(view.sample.pointer) };
}

/** Bars the crank to a place on the slider; outside 0 to 720 is held to the ends. */
export function barTo(lift: Lift, toDeg: number): Lift {
  const barredDeg = Math.min(Math.max(Number.isFinite(toDeg) ? toDeg : 0, 0), FIGURE_DEG);
  const degrees = barredDeg - lift.barredDeg;
  if (degrees === 0) return lift;
  const { state, seen } = act(BENCH, lift.state, { type: 'bar', degrees });
  const pointers = seen.samples.map(({ pointer }) => pointer);
  return {
    state,
    view: seen.now,
    barredDeg,
    tally: tallyOn(lift.tally, pointers, graduationsPerTurn(BENCH.dial)),
  };
}

/** Turns the bezel until its zero is under the pointer. A clamped bezel stays where it is. */
export function zeroLift(lift: Lift): Lift {
  const { state, seen } = act(BENCH, lift.state, { type: 'zero' });
  if (seen.said.some(({ code }) => code === 'cannot')) return { ...lift, state };
  return { ...lift, state, view: seen.now, tally: zeroTally(seen.now.sample.pointer) };
}

/** Clamps the bezel, or lets it go again. */
export function clampLift(lift: Lift): Lift {
  const { state, seen } = act(BENCH, lift.state, { type: lift.view.clamped ? 'unclamp' : 'clamp' });
  return { ...lift, state, view: seen.now };
}

/** What is inside, which only a figure may show: cam in degrees of its own turn, and how high the tappet stands. */
export function insideLift({ state }: Lift): { readonly camDeg: number; readonly tappetMm: number } {
  return { camDeg: state.camCrankDeg / 2, tappetMm: state.tappet.heightMm };
}

/** Lift of the roller follower by degrees of cam, one place every three degrees: finer than the drawing can show. */
export function liftCurve(): readonly (readonly [number, number])[] {
  const lobe = BENCH.lobes[0]?.lobe;
  if (lobe === undefined) return [];
  return Array.from({ length: 120 }, (_, index) => {
    const camDeg = index * 3;
    return [camDeg, displacementMm(lobe, camDeg - lobe.noseCrankDeg / 2)] as const;
  });
}

export const LIFT_DIAL = BENCH.dial;
