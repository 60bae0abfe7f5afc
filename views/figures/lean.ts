import {
  DIALS,
  graduationsPerTurn,
  readDial,
  shownAlong,
  toMm,
  type UnitVector,
} from '../../server/engine/index.ts';
import { type FigureKind, held, liveFigure, type Shown } from './figure.ts';
import { leanSvg } from './lean-drawing.ts';

const DIAL = DIALS['inch-0.001-1'];
const MOST_LIFT = 0.3;
const MOST_LEAN = 15;
const PRELOAD = 0.04;

interface State {
  readonly id: string;
  /** Of the tappet, inches. */
  readonly lift: number;
  readonly rodDeg: number;
  readonly gaugeDeg: number;
}

/** The rod leans, and the reading stays; the indicator leans, and it is wrong. */
export const leanFigure: FigureKind = {
  takes: [],
  begin: (_, id) =>
    liveFigure<State>(
      {
        caption:
          'From the top: indicator, rod with a flat top, tappet in its bore. Lift the tappet. Then lean the rod: it is carried up by the same amount. Then lean the indicator: its plunger has a longer way to go along its own line.',
        set,
        show,
      },
      { id, lift: 0.237, rodDeg: 0, gaugeDeg: 0 },
    ),
};

function set(state: State, control: string, value: string): State {
  if (control === 'lift')
    return { ...state, lift: held(value, 0, MOST_LIFT * 1000, state.lift * 1000) / 1000 };
  if (control === 'rod') return { ...state, rodDeg: held(value, -MOST_LEAN, MOST_LEAN, state.rodDeg) };
  if (control === 'gauge') return { ...state, gaugeDeg: held(value, 0, MOST_LEAN, state.gaugeDeg) };
  if (control === 'straight') return { ...state, rodDeg: 0, gaugeDeg: 0 };
  return state;
}

function show({ id, lift, rodDeg, gaugeDeg }: State): Shown {
  const shown = shownAlong(lift, { axis: leaning(-gaugeDeg), normal: leaning(rodDeg), travel: leaning(0) });
  const off = shown - lift;
  const at = readDial({ ...DIAL, plungerAtZero: PRELOAD, counterAtZero: 0.15 }, shown);
  const inches = (value: number) => `${value.toFixed(4)} in`;
  const slide = (name: string, label: string, value: number, most: number, said: string, min = 0) =>
    ({ kind: 'slide', name, label, min, max: most, step: 1, value: Math.round(value), said }) as const;
  return {
    drawings: [
      {
        name: 'lean',
        svg: leanSvg(
          { liftIn: lift, rodDeg, gaugeDeg },
          { id: `${id}-lean`, title: 'Tappet, rod and indicator' },
        ),
      },
    ],
    dial: {
      dial: DIAL,
      pointer: at.pointer,
      counter: at.counter,
      faceTurn: 0,
      clamped: true,
      indicator: 'on',
      plungerMm: toMm(PRELOAD + shown, 'in'),
      title: `Dial indicator, 0.001 inch, ${graduationsPerTurn(DIAL)} graduations in a turn.`,
    },
    controls: [
      slide('lift', 'Lift the tappet', lift * 1000, MOST_LIFT * 1000, inches(lift)),
      slide('rod', 'Lean the rod', rodDeg, MOST_LEAN, way(rodDeg, 'right', 'left'), -MOST_LEAN),
      slide('gauge', 'Lean the indicator', gaugeDeg, MOST_LEAN, way(gaugeDeg, 'left', 'right')),
      { kind: 'press', name: 'straight', label: 'Both upright' },
    ],
    reads: [
      { name: 'true', label: 'Tappet lifted', text: inches(lift) },
      { name: 'shown', label: 'Gauge shows', text: inches(shown) },
      { name: 'off', label: off < 0 ? 'Reads low by' : 'Reads high by', text: inches(Math.abs(off)) },
    ],
    told: tell(rodDeg, gaugeDeg),
  };
}

/** A direction in the plane of the drawing, so many degrees to the right of straight up. */
function leaning(deg: number): UnitVector {
  const rad = (deg * Math.PI) / 180;
  return [Math.sin(rad), 0, Math.cos(rad)];
}

function way(deg: number, right: string, left: string): string {
  return deg === 0 ? 'upright' : `${Math.abs(deg)}° to the ${deg > 0 ? right : left}`;
}

/** What to see in it. */
function tell(rodDeg: number, gaugeDeg: number): string {
  if (gaugeDeg === 0)
    return rodDeg === 0
      ? 'Both upright: the gauge shows what the tappet does.'
      : 'The rod leans and the gauge is in line with the bore: every point of the rod rises as the tappet does. Nothing changes.';
  if (rodDeg === -gaugeDeg)
    return 'The gauge has been lined up with the leaning rod instead of the bore: it reads low by the cosine.';
  return rodDeg === 0
    ? 'The gauge leans on a square face: it reads high, and nothing else on it shows that.'
    : 'Both lean: the error is no longer that of the gauge alone.';
}
