import {
  act,
  brief,
  type CamLiftBench,
  generateBench,
  lookAt,
  startBench,
} from '../../server/engine/index.ts';
import { rollerScene } from '../scenes/cam-lift.ts';
import { type FigureKind, liveFigure, type Shown } from './figure.ts';

const BENCH = generateBench(
  { kind: 'cam-lift', positions: [1], rollerVerdict: true },
  'figure',
) as CamLiftBench;
const NAMES = ['sound', 'blued', 'pitted', 'scored', 'flat'] as const;
type Condition = (typeof NAMES)[number];

/** What each condition is called and what is done; common practice, no source. */
const WORDS: Readonly<Record<Condition, { readonly label: string; readonly told: string }>> = {
  sound: { label: 'sound', told: 'Bright, smooth, round, turning freely: it goes back on its own lobe.' },
  blued: {
    label: 'blued',
    told: 'Blue is heat: it ran without oil or did not turn. Replace it, and look at its lobe and its oil hole.',
  },
  pitted: {
    label: 'pitted',
    told: 'Pits are metal broken out of the face. They take the lobe with them. Replace it and look at the lobe.',
  },
  scored: {
    label: 'scored',
    told: 'Scores run round the face: dirt was rolled or dragged. Replace it, and find where the dirt came in.',
  },
  flat: {
    label: 'with a flat',
    told: 'A flat: it stood still and slid. The reading jumps by the depth of the flat. Replace it with its tappet.',
  },
};

interface State {
  readonly id: string;
  readonly condition: Condition;
}

/** The roller in the hand: what its looks say. */
export const rollerFigure: FigureKind = {
  takes: [],
  begin: (_, id) =>
    liveFigure<State>(
      {
        caption:
          'The roller of a tappet, end-on and from the side. Choose how it was run, and look before you read what it means.',
        set: (state, control, value) =>
          control === 'condition'
            ? { ...state, condition: NAMES.find((name) => name === value) ?? state.condition }
            : state,
        show,
      },
      { id, condition: 'sound' },
    ),
};

function show({ id, condition }: State): Shown {
  const bench: CamLiftBench = {
    ...BENCH,
    rollers: BENCH.rollers.map(() => ({ condition, flatMm: condition === 'flat' ? 0.05 : 0 })),
  };
  const actions = [{ type: 'move', position: 1 }, { type: 'inspect' }] as const;
  const state = actions.reduce((before, action) => act(bench, before, action).state, startBench(bench));
  const [plate, view] = [brief(bench), lookAt(bench, state)];
  return {
    drawings: [
      {
        name: 'roller',
        svg: rollerScene.draw(plate, view, {
          id: `${id}-roller`,
          title: 'The roller in the hand',
          description: rollerScene.describe(plate, view),
        }),
      },
    ],
    dial: null,
    controls: [
      {
        kind: 'choose',
        name: 'condition',
        label: 'The roller is',
        options: NAMES.map((name) => ({ value: name, label: WORDS[name].label })),
        value: condition,
      },
    ],
    reads: [],
    told: WORDS[condition].told,
  };
}
