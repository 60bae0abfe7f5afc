import {
  DIALS,
  displacementMm,
  fromMm,
  type Lobe,
  readDial,
  SOUND_LOBE,
  toMm,
} from '../../server/engine/index.ts';
import { cutawaySvg } from '../drawing/cutaway.ts';
import { type FigureKind, givenWord, held, liveFigure, type Shown } from './figure.ts';
import { lobeCurveSvg } from './lobe-curve.ts';
import { signed } from './tally.ts';
import { USUAL_LOBE } from './usual-lobe.ts';

const NAMES = ['sound', 'worn', 'built-up-nose', 'built-up-rise', 'built-up-base', 'runs-out'] as const;
type Condition = (typeof NAMES)[number];

/** Far enough gone to be seen in the drawing; a gauge finds a tenth of it. */
const buildUp = (place: 'nose' | 'flank' | 'base', atCamDeg: number, halfWidthCamDeg: number) => ({
  buildUp: { place, heightMm: 0.5, atCamDeg, halfWidthCamDeg },
});
const CONDITIONS: Readonly<Record<Condition, { readonly label: string; readonly lobe: Lobe }>> = {
  sound: { label: 'as made', lobe: USUAL_LOBE },
  worn: { label: 'worn on nose and flanks', lobe: lobeWith({ wearMm: 0.7 }) },
  'built-up-nose': { label: 'built up on the nose', lobe: lobeWith(buildUp('nose', 0, 14)) },
  'built-up-rise': { label: 'built up on the rise', lobe: lobeWith(buildUp('flank', -30, 12)) },
  'built-up-base': { label: 'built up on the base circle', lobe: lobeWith(buildUp('base', 170, 24)) },
  'runs-out': {
    label: 'camshaft bent: all of it runs out',
    lobe: lobeWith({ runOutMm: 0.3, runOutPhaseCamDeg: 180 }),
  },
};

function lobeWith(condition: Partial<Lobe['condition']>): Lobe {
  return { ...USUAL_LOBE, condition: { ...SOUND_LOBE, ...condition } };
}

/** The zero is taken here: opposite the nose, on the base circle. */
const ZERO_DEG = -160;
const DIAL = DIALS['inch-0.001-1'];
const PRELOAD = 0.08;

interface State {
  readonly id: string;
  readonly speed: boolean;
  readonly condition: Condition;
  /** Degrees of cam from the middle of the nose. */
  readonly camDeg: number;
}

/** A lobe and what it does to the lift all the way round. */
export const lobeFigure: FigureKind = {
  takes: ['show'],
  begin: (given, id) => {
    const speed = givenWord(given, 'show', ['lift', 'speed'] as const, 'lift') === 'speed';
    return liveFigure<State>(
      {
        caption: speed
          ? 'Lift for each degree of cam: how fast the plunger of the pump is driven. Thin: as made. The higher the hump on the rise, the faster the fuel is pressed.'
          : 'A lobe under its roller, and its lift over a turn of the cam; thin and broken: as made. The gauge was zeroed on the base circle. What is wrong is drawn larger than it would be found.',
        set,
        show,
      },
      { id, speed, condition: 'sound', camDeg: ZERO_DEG },
    );
  },
};

function set(state: State, control: string, value: string): State {
  if (control === 'cam') return { ...state, camDeg: held(value, -180, 180, state.camDeg) };
  if (control === 'condition')
    return { ...state, condition: NAMES.find((name) => name === value) ?? state.condition };
  return state;
}

/** Half the stretch over which a slope is taken, degrees of cam. */
const HALF_DEG = 0.5;

function slope(lobe: Lobe, deg: number): number {
  return (displacementMm(lobe, deg + HALF_DEG) - displacementMm(lobe, deg - HALF_DEG)) / (2 * HALF_DEG);
}

const DEGREES = Array.from({ length: 181 }, (_, index) => index * 2 - 180);

function show({ id, speed, condition, camDeg }: State): Shown {
  const { lobe } = CONDITIONS[condition];
  const value = speed ? slope : displacementMm;
  const points = (of: Lobe) => DEGREES.map((deg) => [deg, value(of, deg)] as const);
  const height = displacementMm(lobe, camDeg);
  const shown = fromMm(height - displacementMm(lobe, ZERO_DEG), 'in');
  const at = readDial({ ...DIAL, plungerAtZero: PRELOAD, counterAtZero: 0.55 }, shown);
  const section = cutawaySvg(
    {
      liftCurve: DEGREES.map((deg) => [deg + 180, displacementMm(lobe, deg + 180)] as const),
      camDeg: (camDeg + 360) % 360,
      tappetMm: height,
      figures: false,
    },
    { id: `${id}-section`, title: 'Section through cam and tappet' },
  );
  const curve = lobeCurveSvg(
    {
      made: points(USUAL_LOBE),
      now: points(lobe),
      at: [camDeg, value(lobe, camDeg)],
      upright: speed ? 'lift per degree of cam, mm' : 'lift, mm',
      lowest: speed ? -0.2 : -0.6,
      highest: speed ? 0.3 : 7,
    },
    { id: `${id}-curve`, title: speed ? 'How fast the lobe lifts' : 'How high the lobe lifts' },
  );
  return {
    drawings: [
      { name: 'section', svg: section },
      { name: 'curve', svg: curve },
    ],
    dial: speed
      ? null
      : {
          dial: DIAL,
          pointer: at.pointer,
          counter: at.counter,
          faceTurn: 0,
          clamped: true,
          indicator: 'on',
          plungerMm: toMm(PRELOAD + shown, 'in'),
          title: 'Dial indicator on the rod, 0.001 inch, zeroed on the base circle.',
        },
    controls: [
      {
        kind: 'choose',
        name: 'condition',
        label: 'The lobe is',
        options: NAMES.map((name) => ({ value: name, label: CONDITIONS[name].label })),
        value: condition,
      },
      {
        kind: 'slide',
        name: 'cam',
        label: 'Turn the cam',
        min: -180,
        max: 180,
        step: 1,
        value: Math.round(camDeg),
        said: `${signed(String(Math.round(camDeg)))}° of cam, ${signed(String(Math.round(camDeg * 2)))}° of crank`,
        perSecond: 60,
      },
    ],
    reads: speed
      ? [
          { name: 'speed', label: 'Lift per degree', text: `${signed(slope(lobe, camDeg).toFixed(3))} mm` },
          { name: 'fastest', label: 'Fastest on the rise', text: `${fastest(lobe).toFixed(3)} mm` },
        ]
      : [
          { name: 'shown', label: 'Gauge shows', text: `${signed(shown.toFixed(3))} in` },
          { name: 'lift', label: 'Highest from that zero', text: `${highestShown(lobe).toFixed(3)} in` },
          { name: 'made', label: 'As made', text: `${highestShown(USUAL_LOBE).toFixed(3)} in` },
        ],
    told: null,
  };
}

function fastest(lobe: Lobe): number {
  return Math.max(...DEGREES.map((deg) => slope(lobe, deg)));
}

function highestShown(lobe: Lobe): number {
  const highest = Math.max(...DEGREES.map((deg) => displacementMm(lobe, deg)));
  return fromMm(highest - displacementMm(lobe, ZERO_DEG), 'in');
}
