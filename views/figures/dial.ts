import {
  DIALS,
  type Dial,
  type DialName,
  graduationsPerTurn,
  readDial,
  toMm,
} from '../../server/engine/index.ts';
import { type FigureKind, givenWord, held, liveFigure, type Shown } from './figure.ts';
import { signed } from './tally.ts';

/** An indicator in the hand: its plunger, its bezel, and whether the reading is told. Lengths in the dial's unit. */
interface State {
  readonly dial: Dial;
  readonly plunger: number;
  /** Where the plunger is when the face's zero is under the pointer. */
  readonly zeroAt: number;
  /** Graduations the bezel has turned the face. */
  readonly faceTurn: number;
  readonly clamped: boolean;
  readonly told: boolean;
}

/** Pointer rests a quarter turn before twelve o'clock when the plunger is all the way out; the small hand counts from there. */
const REST_TURNS = 0.25;
/** Turns of the pointer at which the figure begins: some way in, away from the face's zero and from a whole turn of the small hand. */
const BEGIN_TURNS = 1.63;

/** An indicator alone: push its plunger, turn its bezel, count its turns. */
export const dialFigure: FigureKind = {
  takes: ['dial'],
  begin(given) {
    const name = givenWord(given, 'dial', Object.keys(DIALS) as DialName[], 'inch-0.001-1');
    const dial: Dial = DIALS[name];
    return liveFigure<State>(
      {
        caption: `An indicator of ${dial.graduation} ${dial.unit}, ${write(dial, dial.rangePerTurn)} in one turn of the pointer. Push the plunger and watch both hands; unclamp the bezel and turn it: face and zero move, the pointer does not.`,
        set,
        show,
      },
      begun(dial),
    );
  },
};

function begun(dial: Dial): State {
  const plunger = BEGIN_TURNS * dial.rangePerTurn;
  return {
    dial,
    plunger,
    zeroAt: (1 + REST_TURNS) * dial.rangePerTurn,
    faceTurn: 0,
    clamped: false,
    told: false,
  };
}

function set(state: State, control: string, value: string): State {
  const { dial } = state;
  const graduations = graduationsPerTurn(dial);
  switch (control) {
    case 'push': {
      const most = dial.travel / dial.graduation;
      return {
        ...state,
        plunger: held(value, 0, most, state.plunger / dial.graduation) * dial.graduation,
      };
    }
    case 'bezel': {
      if (state.clamped) return state;
      const faceTurn = held(value, 0, graduations, state.faceTurn);
      const moved = (faceTurn - state.faceTurn) * dial.graduation;
      return { ...state, faceTurn, zeroAt: state.zeroAt + moved };
    }
    case 'zero': {
      if (state.clamped) return state;
      const turns = state.plunger / dial.rangePerTurn - REST_TURNS;
      const faceTurn = (turns - Math.floor(turns)) * graduations;
      return { ...state, faceTurn, zeroAt: state.plunger };
    }
    case 'clamp':
      return { ...state, clamped: !state.clamped };
    case 'tell':
      return { ...state, told: !state.told };
    case 'again':
      return begun(dial);
    default:
      return state;
  }
}

/** What the engine reads off it. */
function readingOf({ dial, plunger, zeroAt }: State) {
  const counterAtZero = zeroAt / dial.rangePerTurn - REST_TURNS;
  return readDial({ ...dial, plungerAtZero: zeroAt, counterAtZero }, plunger - zeroAt);
}

function show(state: State): Shown {
  const { dial, plunger, faceTurn, clamped, told } = state;
  const graduations = graduationsPerTurn(dial);
  const { pointer, counter } = readingOf(state);
  const pushed = plunger / dial.graduation;
  const atPointer = `${(Math.round(pointer * 2) / 2).toFixed(1)}`;
  return {
    drawings: [],
    dial: {
      dial,
      pointer,
      counter,
      faceTurn,
      clamped,
      indicator: 'on',
      plungerMm: toMm(plunger, dial.unit),
      title: `Dial indicator, ${dial.graduation} ${dial.unit}.`,
    },
    controls: [
      {
        kind: 'slide',
        name: 'push',
        label: 'Push the plunger',
        min: 0,
        max: Math.round(dial.travel / dial.graduation),
        step: 0.5,
        value: Math.round(pushed * 2) / 2,
        said: `pointer ${atPointer}${counter === null ? '' : `, small hand ${counter.toFixed(1)}`}`,
        perSecond: graduations * 1.2,
      },
      {
        kind: 'slide',
        name: 'bezel',
        label: 'Turn the bezel',
        min: 0,
        max: graduations,
        step: 0.5,
        value: Math.round(faceTurn * 2) / 2,
        said: clamped ? 'clamped: it stays' : `${(Math.round(faceTurn * 2) / 2).toFixed(1)} graduations`,
      },
      { kind: 'press', name: 'zero', label: 'Zero under the pointer', off: clamped },
      { kind: 'press', name: 'clamp', label: 'Clamp', pressed: clamped },
      { kind: 'press', name: 'tell', label: 'Show the reading', pressed: told },
      { kind: 'press', name: 'again', label: 'Start again' },
    ],
    reads: [
      { name: 'pointer', label: 'Pointer', text: atPointer },
      { name: 'counter', label: 'Small hand', text: counter === null ? 'none' : counter.toFixed(1) },
    ],
    told: told ? sum(state) : null,
  };
}

/** The reading as a reader would add it up. */
function sum(state: State): string {
  const { dial, plunger, zeroAt } = state;
  const { reading } = readingOf(state);
  const graduations = graduationsPerTurn(dial);
  const counted = Math.round(((plunger - zeroAt) / dial.graduation) * 2) / 2;
  const turns = Math.floor(counted / graduations);
  const rest = counted - turns * graduations;
  const below = turns < 0 ? ' The plunger stands further out than at the zero.' : '';
  return `From the zero: ${signed(String(turns))} × ${write(dial, dial.rangePerTurn)} + ${rest.toFixed(1)} × ${dial.graduation} ${dial.unit} = ${signed(write(dial, reading))}.${below}`;
}

/** As many decimals as half a graduation needs. */
function write(dial: Dial, length: number): string {
  const decimals = dial.unit === 'in' ? 4 : dial.graduation < 0.01 ? 4 : 3;
  return `${length.toFixed(decimals)} ${dial.unit}`;
}
