import { z } from 'zod';
import type {
  BriefOf,
  JudgedVerdict,
  Valve,
  ValveAction,
  ValveName,
  ValvePlace,
  ViewOf,
  WrittenValve,
} from '../engine/index.ts';
import {
  boxWords,
  gaugedPerceptionWords,
  limitWords,
  preloadWords,
  VERDICT_WORDS,
} from '../web/words/index.ts';
import { BARRING } from './engine-controls.ts';
import {
  FOLLOW_UPS,
  GAUGE_ACTIONS,
  gaugeControls,
  gaugeDid,
  judgedBoxes,
  lengthBox,
  sentence,
  withUnit,
} from './shared.ts';
import type { AmountControl, Boxes, Control, ControlSet, Desk, SheetPart } from './types.ts';

type Brief = BriefOf<'valve-lift'>;
type View = ViewOf<'valve-lift'>;

/** In the order they are usually measured. */
const PLACES: readonly ValvePlace[] = ['rocker', 'pushrod', 'retainer'];
const PLACE_WORDS: Readonly<Record<ValvePlace, string>> = {
  rocker: 'on the rocker, over the valve',
  pushrod: 'in the cup of the pushrod',
  retainer: 'on the spring retainer',
};
const VERDICTS: readonly JudgedVerdict[] = ['inside', 'below', 'above'];

const action = z.discriminatedUnion('type', [
  ...GAUGE_ACTIONS,
  z.strictObject({
    type: z.literal('move'),
    cylinder: z.int().min(1).max(12),
    valve: z.enum(['intake', 'exhaust']),
    at: z.enum(['pushrod', 'retainer', 'rocker']),
  }),
  z.strictObject({ type: z.literal('bar'), degrees: z.number().min(-1440).max(1440) }),
  z.strictObject({ type: z.literal('rock-rocker'), way: z.enum(['up', 'down']) }),
  z.strictObject({ type: z.literal('pump-up') }),
]);

const nameWords = ({ cylinder, valve }: ValveName) => `cylinder ${cylinder}, ${valve}`;
const partId = ({ cylinder, valve }: ValveName) => `${valve}-${cylinder}`;

export const valveLift: Desk<'valve-lift'> = {
  title: 'Valve lift',
  action,
  plate: ({ name }) => name,
  dial: ({ dial }) => dial,
  specification,
  facts: ({ firingOrder, tappets }) => [
    { term: 'Firing order', text: firingOrder.join('-') },
    { term: 'Tappets', text: tappets },
  ],
  orderOfWork,
  caution:
    'Fuel shut and starter made dead, so that nobody can start it. Keep fingers from between rocker, valve and spring while the crank turns: a valve spring shuts hard.',
  begin: () => 'The rocker cover is off. Choose a valve and where the tip is to stand.',
  controls,
  form: (brief) => brief.valves.map((name, index) => valvePart(brief, name, index + 1)),
  partAt: (_, { spot }) => (spot === null ? null : partId(spot)),
  sheet: ({ valves }, boxes) => ({ valves: valves.map((name) => valveIn(name, boxes)) }),
  said: gaugedPerceptionWords,
  did,
  itemName,
};

function specification({ specification: { unit, ratio, ...of }, tappets, valves }: Brief): string[] {
  const kinds = (['intake', 'exhaust'] as const).filter((kind) => valves.some(({ valve }) => valve === kind));
  const lashOf = (valve: Valve) =>
    tappets === 'hydraulic' ? 'no lash' : `lash ${withUnit(of[valve].lash, unit)}`;
  return [
    ...kinds.map((valve) => {
      const { lower, upper } = of[valve];
      return `${sentence(valve)} valve lift, at the retainer: ${limitWords({ lower, upper, unit })}; ${lashOf(valve)}.`;
    }),
    `Rocker ratio ${ratio}.`,
  ];
}

function orderOfWork({ tappets }: Brief): string[] {
  return [
    'Bar clockwise to firing top dead centre of the cylinder: both its valves are shut and both tappets on their base circles.',
    ...(tappets === 'hydraulic'
      ? [
          'Rock the rocker down. Where it stops softly the tappet has lost its oil: pump it up before you measure.',
        ]
      : []),
    'Lash: set the tip on the rocker, over the valve, with preload for more than the play. Rock the rocker up, zero and clamp. Rock it down and read; rock it up and see zero again.',
    'Lobe lift: slide the rocker aside and set the tip in the cup of the pushrod, in line with it. Zero on the base circle.',
    'Bar clockwise, two turns of the crank. Count the turns of the pointer up to the highest reading, then see zero again.',
    'Valve lift: set the tip on the spring retainer, in line with the valve stem. The retainer goes away from the tip: give more preload than the valve lifts, and half a turn besides.',
    'Bar two turns again. The pointer runs backwards: count its turns down to the lowest reading, then see zero again.',
    'Every time: wipe first, line the plunger up, lift the tip three times, zero, clamp.',
    'Rocker ratio is valve lift and lash together, divided by lobe lift. Judge the valve’s lift by the valve’s limits, never the lobe’s.',
  ];
}

function controls(brief: Brief, view: View): ControlSet<ValveAction>[] {
  return [
    { legend: 'Where the tip stands', controls: [moveControl(brief, view)] },
    {
      legend: brief.tappets === 'hydraulic' ? 'Rocker and tappet, by hand' : 'Rocker, by hand',
      help: 'On the base circle the rocker has play; with its valve open it has none.',
      controls: handControls(brief),
    },
    { legend: 'Indicator', controls: gaugeControls(view, preload(brief)) },
    {
      legend: 'Bar the engine',
      controls: [
        {
          control: 'turn',
          id: 'bar',
          back: 'Bar back',
          forward: 'Bar clockwise',
          ...BARRING,
          action: { type: 'bar', degrees: 0 },
        },
      ],
    },
  ];
}

function moveControl({ valves }: Brief, { spot }: View): Control<ValveAction> {
  const spots = valves.flatMap(({ cylinder, valve }) => PLACES.map((at) => ({ cylinder, valve, at })));
  const now = spots.findIndex(
    ({ cylinder, valve, at }) => cylinder === spot?.cylinder && valve === spot.valve && at === spot.at,
  );
  return {
    control: 'choose',
    id: 'move',
    label: spot === null ? 'Valve and place' : `Valve and place; now ${nameWords(spot)}, ${spot.at}`,
    button: 'Set the stand up there',
    options: spots.map((one) => ({
      text: sentence(`${nameWords(one)}: ${PLACE_WORDS[one.at]}`),
      action: { type: 'move', ...one },
    })),
    // The one that usually comes next.
    first: Math.min(now + 1, spots.length - 1),
  };
}

function handControls({ tappets }: Brief): Control<ValveAction>[] {
  return [
    {
      control: 'do',
      id: 'rock-up',
      label: 'Rock it up, against the pushrod',
      action: { type: 'rock-rocker', way: 'up' },
    },
    {
      control: 'do',
      id: 'rock-down',
      label: 'Rock it down, onto the valve',
      action: { type: 'rock-rocker', way: 'down' },
    },
    ...(tappets === 'hydraulic'
      ? ([
          { control: 'do', id: 'pump-up', label: 'Pump the tappet up', action: { type: 'pump-up' } },
        ] as const)
      : []),
  ];
}

/** A retainer needs whole turns of preload, as many as its valve lifts: too many for a list. */
function preload({ dial }: Brief): AmountControl<ValveAction> {
  return {
    control: 'amount',
    id: 'preload',
    label: 'Preload, turns of the pointer',
    unit: 'turns',
    button: 'Let the indicator down',
    value: 0.5,
    least: 0,
    most: Math.floor(dial.travel / dial.rangePerTurn + 1e-6),
    step: 0.25,
    action: { type: 'set-indicator', turns: 0 },
    field: 'turns',
  };
}

function valvePart({ dial }: Brief, name: ValveName, item: number): SheetPart<ValveAction> {
  const id = partId(name);
  const box = (code: string) => `${id}.${code}`;
  const note = (code: string): ValveAction => ({ type: 'note', item, box: code });
  return {
    id,
    title: sentence(nameWords(name)),
    short: `${name.cylinder} ${name.valve}`,
    sets: [
      {
        legend: 'Readings',
        boxes: [
          lengthBox(dial, box('lash'), 'Lash', note('lash'), {
            hint: 'Rocker up to rocker down. No lash is 0.',
          }),
          lengthBox(dial, box('lobe-lift'), 'Lobe lift', note('lobe-lift'), {
            hint: 'At the pushrod: turns and pointer.',
          }),
          lengthBox(dial, box('valve-lift'), 'Valve lift', note('valve-lift'), {
            hint: 'At the retainer, as the gauge shows it. No sign needed.',
          }),
        ],
      },
      {
        legend: 'Result',
        boxes: [
          {
            box: 'number',
            name: box('ratio'),
            label: 'Rocker ratio',
            least: 0,
            most: 99,
            whole: false,
            sentence: 'Write the ratio to two decimals, for example 1.62.',
            hint: 'Two decimals.',
            note: note('ratio'),
          },
          ...judgedBoxes<ValveAction, JudgedVerdict>(
            { verdict: box('verdict'), next: box('next') },
            VERDICTS,
            (value) => `${VERDICT_WORDS[value]} the limits`,
          ),
        ],
      },
    ],
  };
}

function valveIn(name: ValveName, boxes: Boxes): WrittenValve {
  const id = partId(name);
  return {
    ...name,
    lobeLift: boxes.number(`${id}.lobe-lift`),
    valveLift: boxes.number(`${id}.valve-lift`),
    lash: boxes.number(`${id}.lash`),
    ratio: boxes.number(`${id}.ratio`),
    verdict: boxes.choice(`${id}.verdict`, VERDICTS),
    next: boxes.choice(`${id}.next`, FOLLOW_UPS),
  };
}

function itemName({ valves }: Brief, item: number): string {
  const name = valves[item - 1];
  return name === undefined ? `Valve ${item}` : sentence(nameWords(name));
}

function did(one: ValveAction, brief: Brief): string {
  switch (one.type) {
    case 'move':
      return `Set the stand up at ${nameWords(one)}: ${PLACE_WORDS[one.at]}.`;
    case 'bar':
      return `Barred the crank ${Math.abs(one.degrees)}°${one.degrees < 0 ? ' back' : ''}.`;
    case 'rock-rocker':
      return one.way === 'up'
        ? 'Rocked the rocker up, against the pushrod.'
        : 'Rocked the rocker down, onto the valve.';
    case 'pump-up':
      return 'Pumped the tappet up.';
    case 'set-indicator':
      return preloadWords(Number(one.turns.toFixed(2)));
    case 'note':
      return `Wrote ${boxWords(one.box)}, ${itemName(brief, one.item).toLowerCase()}.`;
    default:
      return gaugeDid(one) ?? '';
  }
}
