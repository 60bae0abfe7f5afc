import {
  act,
  type CamLiftAction,
  type CamLiftBench,
  type CamLiftState,
  type CamLiftView,
  displacementMm,
  generateBench,
  lookAt,
  startBench,
} from '../../../server/engine/index.ts';
import { shortWay } from './interpolate.ts';

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
export interface Figure {
  readonly state: CamLiftState;
  readonly view: CamLiftView;
  /** Crank barred from where the figure began, 0 to 720. */
  readonly barredDeg: number;
  /** Pointer from the bezel's zero counted on over whole turns, in graduations; null before a zero. */
  readonly counted: number | null;
  /** Highest of those since the zero. */
  readonly highest: number | null;
}

/** The figure as a reader finds it, on the base circle. */
export function startFigure(): Figure {
  const state = SET_UP.reduce((before, action) => act(BENCH, before, action).state, startBench(BENCH));
  return { state, view: lookAt(BENCH, state), barredDeg: 0, counted: null, highest: null };
}

/** Bars the crank to a place on the slider; outside 0 to 720 is held to the ends. */
export function barTo(figure: Figure, toDeg: number): Figure {
  const barredDeg = Math.min(Math.max(Number.isFinite(toDeg) ? toDeg : 0, 0), FIGURE_DEG);
  const degrees = barredDeg - figure.barredDeg;
  if (degrees === 0) return figure;
  const { state, seen } = act(BENCH, figure.state, { type: 'bar', degrees });
  let { counted, highest } = figure;
  let pointer = figure.view.sample.pointer;
  // Samples lie at most a quarter turn apart, so the short way from one to the next is the true one.
  for (const sample of seen.samples) {
    if (counted !== null) {
      counted += shortWay(pointer, sample.pointer, graduations());
      highest = Math.max(highest ?? counted, counted);
    }
    pointer = sample.pointer;
  }
  return { state, view: seen.now, barredDeg, counted, highest };
}

/** Turns the bezel until its zero is under the pointer. A clamped bezel stays where it is. */
export function zeroFigure(figure: Figure): Figure {
  const { state, seen } = act(BENCH, figure.state, { type: 'zero' });
  if (seen.said.some(({ code }) => code === 'cannot')) return { ...figure, state };
  return { ...figure, state, view: seen.now, counted: 0, highest: 0 };
}

/** Clamps the bezel, or lets it go again. */
export function clampFigure(figure: Figure): Figure {
  const { state, seen } = act(BENCH, figure.state, { type: figure.view.clamped ? 'unclamp' : 'clamp' });
  return { ...figure, state, view: seen.now };
}

/** What is inside, which only a figure may show: cam in degrees of its own turn, and how high the tappet stands. */
export function insideFigure({ state }: Figure): { readonly camDeg: number; readonly tappetMm: number } {
  return { camDeg: state.camCrankDeg / 2, tappetMm: state.tappet.heightMm };
}

/** Lift of the roller follower by degrees of cam, one place every three degrees: finer than the drawing can show. */
export function figureLiftCurve(): readonly (readonly [number, number])[] {
  const lobe = BENCH.lobes[0]?.lobe;
  if (lobe === undefined) return [];
  return Array.from({ length: 120 }, (_, index) => {
    const camDeg = index * 3;
    return [camDeg, displacementMm(lobe, camDeg - lobe.noseCrankDeg / 2)] as const;
  });
}

export const FIGURE_DIAL = BENCH.dial;

function graduations(): number {
  return Math.round(BENCH.dial.rangePerTurn / BENCH.dial.graduation);
}
