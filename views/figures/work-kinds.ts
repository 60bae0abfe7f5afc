import type { AnyAction, KindName } from '../../server/engine/index.ts';
import type { Control, Readout } from './figure.ts';

export type WorkKind = Exclude<KindName, 'cam-lift' | 'fault-finding' | 'torque-adapter' | 'dial-reading'>;
type Values = Readonly<Record<string, string>>;
// Each kind has its own plate and view; a figure's part reads only what it knows is there.
// biome-ignore lint/suspicious/noExplicitAny: the kinds' types meet here
type Some = any;

/** A control that goes from one value to another. A switch is `true` or `false`, a button nothing; `values` are all of them, after it. */
interface Done {
  readonly control: string;
  readonly before: string;
  readonly now: string;
  readonly values: Values;
  readonly plate: Some;
}

/** What a kind of work lets be done in its figure. Values are those of its own controls, by name. */
export interface WorkOwn {
  readonly title: string;
  readonly caption: string;
  readonly definition: object;
  values(plate: Some): Values;
  setUp(plate: Some): readonly AnyAction[];
  controls(values: Values, view: Some): readonly Control[];
  actions(done: Done): readonly AnyAction[];
  reads(values: Values, view: Some, plate: Some): readonly Readout[];
}

const setDown = (turns: number): readonly AnyAction[] => [
  { type: 'wipe' },
  { type: 'set-indicator', turns },
  { type: 'align' },
  { type: 'lift-tip' },
];

/** A crank or a shaft that is turned by a slider, in degrees from where the figure began. */
const turning = (values: Values, label: string, max: number, perSecond: number): Control => ({
  kind: 'slide',
  name: 'turn',
  label,
  min: 0,
  max,
  step: 1,
  value: Number(values.turn ?? 0),
  said: `${Math.round(Number(values.turn ?? 0))}°`,
  perSecond,
});

const way = (before: string, now: string) => Number(now) - Number(before === '' ? 0 : before);

const press = (name: string, label: string): Control => ({ kind: 'press', name, label });

const runOut: WorkOwn = {
  title: 'A shaft on V-blocks, an indicator on it',
  caption:
    'A shaft on V-blocks from its front end, degrees chalked on it. Turn it once: the pointer swings between its highest and its lowest place. Zero anywhere and turn again: the difference stays the same.',
  definition: { subject: 'shaft', dial: 'inch-0.0005-0.5' },
  values: () => ({ turn: '0', place: 'rim' }),
  setUp: () => [{ type: 'move', place: 'rim' }, ...setDown(1)],
  controls: (values) => [turning(values, 'Turn the shaft', 720, 90)],
  actions: ({ before, now }) => [{ type: 'turn', degrees: way(before, now) }],
  reads: (_, view) => [
    { name: 'deg', label: 'Under the tip', text: `${Math.round(view.sample.workDeg ?? 0) % 360}°` },
  ],
};

const endPlay: WorkOwn = {
  title: 'A crankshaft, an indicator on its end',
  caption:
    'Pry the shaft to one end, zero, pry it to the other. Pull harder: a sound shaft comes to a solid stop and goes no further.',
  definition: { subject: 'crankshaft', dial: 'inch-0.001-1' },
  values: () => ({ effort: '8' }),
  setUp: () => setDown(1),
  controls: ({ effort = '8' }) => [
    {
      kind: 'slide',
      name: 'effort',
      label: 'Pull on the bar',
      min: 1,
      max: 10,
      step: 1,
      value: Number(effort),
      said: `${effort} of 10`,
    },
    press('front', 'Pry to the front'),
    press('rear', 'Pry to the rear'),
  ],
  actions: ({ control, values }) =>
    control === 'effort'
      ? []
      : [{ type: 'pry', way: control === 'front' ? 'front' : 'rear', effort: Number(values.effort) / 10 }],
  reads: () => [],
};

const backlash: WorkOwn = {
  title: 'Two gears in mesh, an indicator on a tooth',
  caption:
    'Hold one gear, rock the other one way and back. What the pointer swings is the backlash at that tooth. Rock with the other gear free, and both go together.',
  definition: { dial: 'inch-0.0005-0.5' },
  values: () => ({}),
  setUp: () => [{ type: 'turn-to', tooth: 1 }, ...setDown(1), { type: 'hold', on: true }],
  controls: (_, view) => [
    { kind: 'press', name: 'hold', label: 'Hold the other gear', pressed: view.held },
    press('on', 'Rock one way'),
    press('back', 'Rock the other'),
  ],
  actions: ({ control, now }) =>
    control === 'hold'
      ? [{ type: 'hold', on: now === 'true' }]
      : [{ type: 'rock', way: control === 'on' ? 1 : -1, effort: 0.8 }],
  reads: () => [],
};

const liner: WorkOwn = {
  title: 'A liner in its block, an indicator on a bridge',
  caption:
    'The bridge stands on the deck, and the gauge is zeroed there. Slide it until the tip stands on the flange of the liner: the pointer shows how far it stands proud. Press the liner down and look again.',
  definition: { liners: 2, dial: 'inch-0.0005-0.5' },
  values: () => ({ spot: 'deck' }),
  setUp: () => [{ type: 'place', on: 'deck', liner: 1 }, ...setDown(1)],
  controls: ({ spot = 'deck' }) => [
    {
      kind: 'choose',
      name: 'spot',
      label: 'Tip stands on',
      options: [
        { value: 'deck', label: 'the deck' },
        ...[1, 2, 3, 4].map((point) => ({ value: String(point), label: `the liner, point ${point}` })),
      ],
      value: spot,
    },
    press('press', 'Press the liner down'),
  ],
  actions: ({ control, now }) => {
    if (control === 'press') return [{ type: 'press-liner', liner: 1 }];
    return [
      now === 'deck'
        ? { type: 'place', on: 'deck', liner: 1 }
        : { type: 'place', on: 'liner', liner: 1, point: Number(now) },
    ];
  },
  reads: () => [],
};

const bore: WorkOwn = {
  title: 'A bore gauge in a setting ring and in a cylinder',
  caption:
    'Rock the gauge slowly through upright: the pointer turns back where it stands square, and that place is the reading. Set zero there in the ring, then go into the bore.',
  definition: { dial: 'inch-0.0005-0.5' },
  values: () => ({ spot: 'ring', rock: '0' }),
  setUp: () => [{ type: 'wipe' }, { type: 'put', in: 'ring' }, { type: 'set-indicator', turns: 1 }],
  controls: ({ spot = 'ring', rock = '0' }) => [
    {
      kind: 'choose',
      name: 'spot',
      label: 'Gauge stands in',
      options: [
        { value: 'ring', label: 'the setting ring' },
        ...['top', 'middle', 'bottom'].flatMap((level) => [
          { value: `${level}-along`, label: `the bore, ${level}, along the crank` },
          { value: `${level}-across`, label: `the bore, ${level}, across` },
        ]),
      ],
      value: spot,
    },
    {
      kind: 'slide',
      name: 'rock',
      label: 'Rock the gauge',
      min: -8,
      max: 8,
      step: 0.25,
      value: Number(rock),
      said: `${Number(rock).toFixed(2).replace('-', '−')}°`,
      perSecond: 8,
    },
  ],
  actions: ({ control, before, now, plate }) => {
    if (control === 'rock') return [{ type: 'rock', degrees: way(before, now) }];
    if (now === 'ring') return [{ type: 'put', in: 'ring' }];
    const [level = 'top', axis = 'along'] = now.split('-');
    const { fromMm, toMm } = plate.travel;
    const depthMm = { top: fromMm + 5, middle: (fromMm + toMm) / 2, bottom: toMm - 5 }[level] ?? fromMm + 5;
    return [{ type: 'put', in: 'cylinder', depthMm, axis: axis === 'along' ? 'along' : 'across' }];
  },
  reads: (_, view) => [
    { name: 'slant', label: 'Gauge leans', text: `${view.slantDeg.toFixed(2).replace('-', '−')}°` },
  ],
};

const valve: WorkOwn = {
  title: 'Valve train of one cylinder, an indicator on it',
  caption:
    'The indicator stands on the pushrod or on the valve’s retainer. Bar two turns: the lobe lifts both once, the valve by the ratio of the rocker, less the lash.',
  definition: { valves: [{ cylinder: 1, valve: 'intake' }] },
  values: () => ({ at: 'pushrod', turn: '0' }),
  setUp: () => [{ type: 'move', cylinder: 1, valve: 'intake', at: 'pushrod' }, ...setDown(1)],
  controls: (values) => [
    {
      kind: 'choose',
      name: 'at',
      label: 'Indicator stands on',
      options: [
        { value: 'pushrod', label: 'the pushrod' },
        { value: 'retainer', label: 'the retainer of the valve' },
      ],
      value: values.at ?? 'pushrod',
    },
    turning(values, 'Turn the crank', 720, 120),
  ],
  actions: ({ control, before, now }) =>
    control === 'turn'
      ? [{ type: 'bar', degrees: way(before, now) }]
      : [
          { type: 'move', cylinder: 1, valve: 'intake', at: now === 'retainer' ? 'retainer' : 'pushrod' },
          ...setDown(now === 'retainer' ? 5 : 1),
        ],
  reads: (_, view) => [{ name: 'crank', label: 'Crank', text: `${Math.round(view.crankDeg) % 360}°` }],
};

const curve: WorkOwn = {
  title: 'Degree wheel on the crank, an indicator on the tappet',
  caption:
    'Bar forward in strides of a few degrees and write pointer and wheel each time. Back up, and the backlash of the gears shows: wheel and lift no longer belong together.',
  definition: { dial: 'inch-0.001-1' },
  values: () => ({ turn: '0' }),
  setUp: () => setDown(0.5),
  controls: (values) => [turning(values, 'Turn the crank', 720, 120)],
  actions: ({ before, now }) => [{ type: 'bar', degrees: way(before, now) }],
  reads: (_, view) => [
    { name: 'wheel', label: 'Degree wheel', text: `${Math.round(view.sample.workDeg ?? 0) % 360}°` },
    { name: 'turn', label: 'Turn', text: view.turn === 1 ? 'first' : 'second' },
  ],
};

const check: WorkOwn = {
  title: 'An indicator in a stand over gauge blocks',
  caption:
    'Blocks of known size push the plunger in. What the gauge shows, less the block, is its error there. Come from the other side, and the difference is its hysteresis.',
  definition: { dial: 'metric-0.01-10' },
  values: () => ({ block: '0' }),
  setUp: () => [{ type: 'wipe' }, { type: 'set-indicator', turns: 0.25 }, { type: 'align' }],
  controls: ({ block = '0' }) => [
    {
      kind: 'slide',
      name: 'block',
      label: 'Gauge block under the tip',
      min: 0,
      max: 20,
      step: 1,
      value: Number(block),
      said: blockWords(Number(block)),
    },
    press('fast', 'Let the tip down fast'),
    press('slowly', 'Let the tip down slowly'),
  ],
  actions: ({ control, now, plate }) => {
    if (control === 'fast' || control === 'slowly') return [{ type: 'let-down', how: control }];
    const travel = (Number(now) * plate.dial.rangePerTurn) / 10;
    return [{ type: 'put-block', travel: Number(travel.toFixed(4)), wiped: true }];
  },
  reads: ({ block = '0' }, _, plate) => [
    {
      name: 'block',
      label: 'Block',
      text: `${((Number(block) * plate.dial.rangePerTurn) / 10).toFixed(plate.dial.unit === 'in' ? 3 : 2)} ${plate.dial.unit}`,
    },
  ],
};

const blockWords = (tenths: number) =>
  tenths === 0 ? 'none' : `${(tenths / 10).toFixed(1)} turns of the pointer`;

/** The kinds a figure can be made of. A new one is a line here. */
export const WORKS: Readonly<Record<WorkKind, WorkOwn>> = {
  'run-out': runOut,
  'end-play': endPlay,
  backlash,
  'liner-protrusion': liner,
  'bore-gauge': bore,
  'valve-lift': valve,
  'lift-curve': curve,
  'indicator-check': check,
};
