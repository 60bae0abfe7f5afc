import { torqueSetting } from '../../server/engine/index.ts';
import { adapterSvg } from './adapter-drawing.ts';
import { type FigureKind, givenNumber, held, liveFigure, type Shown } from './figure.ts';

interface State {
  readonly id: string;
  readonly wanted: number;
  /** Hand to drive, inches. */
  readonly wrench: number;
  /** Drive to the middle of the nut, inches. */
  readonly adapter: number;
  /** 0 in line, outwards; 90 square across; 180 turned back. */
  readonly angleDeg: number;
}

/** An open-end adapter turned round the drive of the wrench. */
export const adapterFigure: FigureKind = {
  takes: ['wanted', 'wrench', 'adapter'],
  begin: (given, id) =>
    liveFigure<State>(
      {
        caption:
          'Torque wrench from above with an open-end adapter on its drive. Turn the adapter, make it longer: the setting follows. US Army TM 9-254, figure 46, for the adapter in line; the projection of a leaning one is geometry.',
        set,
        show,
      },
      {
        id,
        wanted: givenNumber(given, 'wanted', 35, 1, 600),
        wrench: givenNumber(given, 'wrench', 18, 4, 60),
        adapter: givenNumber(given, 'adapter', 1.25, 0.25, 6),
        angleDeg: 0,
      },
    ),
};

function set(state: State, control: string, value: string): State {
  if (control === 'angle') return { ...state, angleDeg: held(value, 0, 180, state.angleDeg) };
  if (control === 'adapter') return { ...state, adapter: held(value, 2, 24, state.adapter * 4) / 4 };
  return state;
}

function show({ id, wanted, wrench, adapter, angleDeg }: State): Shown {
  const setting = torqueSetting(wanted, wrench, adapter, angleDeg);
  const unchanged = (wanted * wanted) / setting;
  const pounds = (value: number) => `${value.toFixed(1)} lbf·ft`;
  return {
    drawings: [
      {
        name: 'wrench',
        svg: adapterSvg(
          { wrench, adapter, angleDeg },
          { id: `${id}-wrench`, title: 'Torque wrench with an adapter' },
        ),
      },
    ],
    dial: null,
    controls: [
      {
        kind: 'slide',
        name: 'angle',
        label: 'Turn the adapter',
        min: 0,
        max: 180,
        step: 5,
        value: angleDeg,
        said: angleWords(angleDeg),
      },
      {
        kind: 'slide',
        name: 'adapter',
        label: 'Drive to middle of the nut',
        min: 2,
        max: 24,
        step: 1,
        value: Math.round(adapter * 4),
        said: `${adapter.toFixed(2)} in`,
      },
    ],
    reads: [
      { name: 'wanted', label: 'Wanted at the nut', text: pounds(wanted) },
      { name: 'setting', label: 'Set the wrench to', text: pounds(setting) },
      { name: 'unchanged', label: 'Left at the wanted, the nut gets', text: pounds(unchanged) },
    ],
    told: null,
  };
}

function angleWords(deg: number): string {
  if (deg === 0) return '0°, in line';
  if (deg === 90) return '90°, square across';
  if (deg === 180) return '180°, turned back';
  return `${deg}°`;
}
