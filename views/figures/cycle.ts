import { CYCLE_DEG } from '../../server/engine/index.ts';
import { effortWord } from '../drawing/crank.ts';
import { cylinderSvg, strokesSvg } from './cycle-drawing.ts';
import { barCycle, type Cycle, lobesNow, ownDeg, startCycle, strokeAt } from './cycle-engine.ts';
import { type FigureKind, givenWord, held, liveFigure, type Shown } from './figure.ts';

interface State {
  readonly id: string;
  readonly cycle: Cycle;
}

/** Two turns of the crank: four strokes, one turn of the cam, one lift of each lobe. */
export const cycleFigure: FigureKind = {
  takes: ['cylinders'],
  begin: (given, id) => {
    const cylinders = givenWord(given, 'cylinders', ['4', '6'] as const, '4') === '6' ? 6 : 4;
    return liveFigure<State>(
      {
        caption:
          'Two turns of the crank, from firing top dead centre of cylinder 1. Bar on and watch: four strokes, one turn of the cam, and each injection lobe lifts once. Strokes are drawn from dead centre to dead centre; valves open earlier and shut later.',
        set,
        show,
      },
      { id, cycle: startCycle(cylinders) },
    );
  },
};

function set(state: State, control: string, value: string): State {
  const { cycle } = state;
  if (control === 'crank')
    return { ...state, cycle: barCycle(cycle, held(value, 0, CYCLE_DEG, cycle.crankDeg)) };
  if (control === 'back') return { ...state, cycle: barCycle(cycle, Math.max(0, cycle.crankDeg - 30)) };
  if (control === 'on') return { ...state, cycle: barCycle(cycle, Math.min(CYCLE_DEG, cycle.crankDeg + 30)) };
  return state;
}

function show({ id, cycle }: State): Shown {
  const { crankDeg, effort, bench } = cycle;
  const { lifting, next, inDeg } = lobesNow(cycle);
  return {
    drawings: [
      {
        name: 'cylinder',
        svg: cylinderSvg(cycle, { id: `${id}-cylinder`, title: 'Cylinder 1, its valves, crank and cam' }),
      },
      {
        name: 'strokes',
        svg: strokesSvg(cycle, { id: `${id}-strokes`, title: 'The strokes of all cylinders' }),
      },
    ],
    dial: null,
    controls: [
      {
        kind: 'slide',
        name: 'crank',
        label: 'Turn the crank',
        min: 0,
        max: CYCLE_DEG,
        step: 1,
        value: Math.round(crankDeg),
        said: `${Math.round(crankDeg)}° of 720`,
        perSecond: 180,
      },
      { kind: 'press', name: 'back', label: 'Bar 30° back', off: crankDeg <= 0 },
      { kind: 'press', name: 'on', label: 'Bar 30° on', off: crankDeg >= CYCLE_DEG },
    ],
    reads: [
      { name: 'stroke', label: 'Cylinder 1', text: strokeAt(ownDeg(cycle, 1)) },
      { name: 'cam', label: 'Cam', text: `${Math.round(crankDeg / 2)}°` },
      { name: 'effort', label: 'On the bar', text: effortWord(effort).toLowerCase() },
      { name: 'lifting', label: 'Lobes lifting', text: lifting.length === 0 ? 'none' : lifting.join(', ') },
      { name: 'next', label: 'Next at its nose', text: `${next}, in ${Math.round(inDeg)}°` },
      { name: 'order', label: 'Firing order', text: bench.firingOrder.join('-') },
    ],
    told: null,
  };
}
