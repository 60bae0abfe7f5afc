import { cutawaySvg } from '../drawing/cutaway.ts';
import { type FigureKind, held, liveFigure, type Shown } from './figure.ts';
import {
  barTo,
  clampLift,
  FIGURE_DEG,
  insideLift,
  LIFT_DIAL,
  type Lift,
  liftCurve,
  startLift,
  zeroLift,
} from './lift-engine.ts';
import { signed } from './tally.ts';

interface State {
  readonly id: string;
  readonly lift: Lift;
  readonly told: boolean;
}

const CURVE = liftCurve();

/** One lobe cut open, tappet, rod and indicator over it: turn the crank, and all of them move together. */
export const liftFigure: FigureKind = {
  takes: [],
  begin: (_, id) =>
    liveFigure<State>(
      {
        caption:
          'Section through one lobe. From the top: tip of the indicator, rod, roller tappet in its bore, cam. Beside it the indicator itself.',
        set,
        show,
      },
      { id, lift: startLift(), told: false },
    ),
};

function set(state: State, control: string, value: string): State {
  const { lift } = state;
  switch (control) {
    case 'crank':
      return { ...state, lift: barTo(lift, held(value, 0, FIGURE_DEG, lift.barredDeg)) };
    case 'zero':
      return { ...state, lift: zeroLift(lift) };
    case 'clamp':
      return { ...state, lift: clampLift(lift) };
    case 'tell':
      return { ...state, told: !state.told };
    case 'again':
      return { ...state, lift: startLift(), told: false };
    default:
      return state;
  }
}

function show({ id, lift, told }: State): Shown {
  const { view, barredDeg } = lift;
  const { pointer, counter, crankDeg, plungerMm } = view.sample;
  const svg = cutawaySvg(
    { liftCurve: CURVE, ...insideLift(lift), figures: false },
    { id: `${id}-section`, title: 'Section through cam, roller tappet, rod and the tip of the indicator' },
  );
  return {
    drawings: [{ name: 'section', svg }],
    dial: {
      dial: LIFT_DIAL,
      pointer,
      counter,
      faceTurn: view.faceTurn,
      clamped: view.clamped,
      plungerMm,
      indicator: view.indicator,
      title: 'Dial indicator on the rod, 0.001 inch, one turn 0.100 inch.',
    },
    controls: [
      {
        kind: 'slide',
        name: 'crank',
        label: 'Turn the crank',
        min: 0,
        max: FIGURE_DEG,
        step: 1,
        value: Math.round(barredDeg),
        said: `barred ${Math.round(barredDeg)}°`,
        perSecond: 150,
      },
      { kind: 'press', name: 'zero', label: 'Bezel to zero', off: view.clamped },
      { kind: 'press', name: 'clamp', label: 'Clamp', pressed: view.clamped },
      { kind: 'press', name: 'tell', label: 'Show the answer', pressed: told },
      { kind: 'press', name: 'again', label: 'Start again' },
    ],
    reads: [
      { name: 'crank', label: 'Crank mark', text: `${Math.round(crankDeg) % 360}°` },
      { name: 'pointer', label: 'Pointer', text: (Math.round(pointer * 2) / 2).toFixed(1) },
      { name: 'counter', label: 'Small hand', text: counter === null ? 'none' : counter.toFixed(1) },
    ],
    told: told ? answerOf(lift) : null,
  };
}

/** Turns, reading and highest so far, in words that say what to do where there is none yet. */
export function answerOf({ tally, barredDeg }: Lift): string {
  if (tally.now === null) return 'Turn the bezel to zero first.';
  const perTurn = Math.round(LIFT_DIAL.rangePerTurn / LIFT_DIAL.graduation);
  // The pointer swings a hair either side of its zero on the base circle; that is no turn.
  const now = Math.abs(tally.now) < 0.5 ? 0 : tally.now;
  const turns = Math.floor(now / perTurn);
  const write = (graduations: number) => signed((graduations * LIFT_DIAL.graduation).toFixed(4));
  const minus = turns < 0 ? ' Below zero: the zero was not taken at the lowest place.' : '';
  const sum = `${signed(String(turns))} × 0.100 + ${(now - turns * perTurn).toFixed(1)} × 0.001 = ${write(now)} in.`;
  return `${sum}${minus} Highest since zero, ${barredDeg === 0 ? 'so far' : `up to ${Math.round(barredDeg)}°`}: ${write(tally.highest)} in.`;
}
