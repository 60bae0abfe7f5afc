import { z } from 'zod';
import type {
  BoreAction,
  BoreAxis,
  BoreBrief,
  BoreLevel,
  BoreVerdict,
  SeenOf,
  ViewOf,
} from '../engine/index.ts';
import { boxWords, GAUGED_VERDICT_WORDS, gaugedPerceptionWords } from '../web/words/index.ts';
import {
  clampControl,
  FOLLOW_UPS,
  GAUGE_ACTIONS,
  gaugeDid,
  judgedBoxes,
  lengthBox,
  preloadControl,
  sentence,
  withUnit,
} from './shared.ts';
import type { AmountControl, BoxSet, ControlSet, Desk, SheetPart } from './types.ts';

type View = ViewOf<'bore-gauge'>;

/** The one cylinder. */
const ITEM = 1;
const LEVELS: readonly BoreLevel[] = ['top', 'middle', 'bottom'];
const AXES: readonly BoreAxis[] = ['along', 'across'];
const VERDICTS: readonly BoreVerdict[] = ['inside', 'above', 'out-of-round', 'tapered'];
/** How far below the travel of the rings a handle still reaches, millimetres. */
const BELOW_MM = 40;

const LEVEL_WORDS: Readonly<Record<BoreLevel, string>> = {
  top: 'Top of the ring travel',
  middle: 'Middle of the ring travel',
  bottom: 'Bottom of the ring travel',
};
const AXIS_WORDS: Readonly<Record<BoreAxis, string>> = {
  along: 'along the crank',
  across: 'across the crank',
};

const action = z.union([
  z.discriminatedUnion('in', [
    z.strictObject({ type: z.literal('put'), in: z.literal('ring') }),
    z.strictObject({
      type: z.literal('put'),
      in: z.literal('cylinder'),
      depthMm: z.number().min(0).max(1000),
      axis: z.enum(['along', 'across']),
    }),
  ]),
  z.discriminatedUnion('type', [
    ...GAUGE_ACTIONS,
    z.strictObject({ type: z.literal('rock'), degrees: z.number().min(-90).max(90) }),
    z.strictObject({ type: z.literal('feel-temperature') }),
    z.strictObject({ type: z.literal('let-cool') }),
  ]),
]);

export const boreGauge: Desk<'bore-gauge'> = {
  title: 'Bore gauge',
  action,
  plate: ({ name }) => name,
  dial: ({ dial }) => dial,
  specification: ({ limits: { nominal, upper, outOfRound, taper, unit } }) => [
    `Bore ${withUnit(nominal, unit)} nominal, ${withUnit(upper, unit)} at most.`,
    ...(outOfRound === null ? [] : [`Out-of-round ${withUnit(outOfRound, unit)} at most.`]),
    ...(taper === null ? [] : [`Taper ${withUnit(taper, unit)} at most.`]),
  ],
  facts: ({ dial, ring, travel }) => [
    { term: 'Work', text: 'one cylinder, piston out' },
    { term: 'Setting ring', text: withUnit(ring, dial.unit) },
    { term: 'Ring travel', text: `${travel.fromMm} to ${travel.toMm} mm below the deck, under a ridge` },
  ],
  orderOfWork: () => [
    'Wipe ring, bore and contacts clean. Feel ring and block: they have to be as warm as each other.',
    'Put the gauge in the setting ring. Fit the indicator with more than a turn of preload, so that its plunger still has room in a larger bore.',
    'Rock the handle to and fro. The pointer turns back where the gauge stands square. Stop there, turn the bezel to zero and clamp it.',
    'Rock it once more in the ring: the pointer turns back at zero.',
    'Measure at three levels: just below the ridge, half way, and just above the foot of the ring travel. At each level along the crank and across it.',
    'Rock at every place and read where the pointer turns back, not where it stands when the gauge goes in. Minus is a larger bore than the ring, plus a smaller one.',
    'The diameter is the size marked on the ring less the reading, sign and all.',
    'Out-of-round is the difference of the two axes at one level; taper is the difference of the levels along one axis. Write the largest of each.',
    'Put it back in the ring and rock: the pointer turns back at zero, or something moved.',
  ],
  caution:
    'Edges of ridge and deck are sharp. Nobody turns the crank while a hand or a gauge is in a cylinder. A block from the washer may be hot.',
  begin: () => 'The bore gauge is in your hand, its indicator not fitted. Choose where it goes.',
  controls,
  form,
  partAt: () => 'cylinder',
  sheet: (_, boxes) => ({
    places: LEVELS.flatMap((level) =>
      AXES.map((axis) => ({
        level,
        axis,
        reading: boxes.number(`${level}.${axis}.reading`),
        diameter: boxes.number(`${level}.${axis}.diameter`),
      })),
    ),
    largest: boxes.number('largest'),
    outOfRound: boxes.number('out-of-round'),
    taper: boxes.number('taper'),
    verdict: boxes.choice('verdict', VERDICTS),
    next: boxes.choice('next', FOLLOW_UPS),
  }),
  said,
  did,
  itemName: () => 'Cylinder',
};

function controls(brief: BoreBrief, view: View): ControlSet<BoreAction>[] {
  return [
    {
      legend: 'Where the gauge goes',
      help: 'Depth is counted from the deck. The gauge goes in slanted.',
      controls: [
        ...AXES.map((axis) => putControl(brief, view, axis)),
        {
          control: 'do',
          id: 'put-ring',
          label: 'Put it in the setting ring',
          action: { type: 'put', in: 'ring' },
          pressed: view.spot?.in === 'ring',
        },
      ],
    },
    {
      legend: 'Rock the gauge',
      controls: [
        {
          control: 'turn',
          id: 'rock',
          back: 'Tilt back',
          forward: 'Tilt forward',
          steps: [0.25, 1, 5],
          speeds: [
            { perSecond: 1, label: 'slow, 1°/s' },
            { perSecond: 3, label: 'steady, 3°/s' },
            { perSecond: 8, label: 'fast, 8°/s' },
          ],
          action: { type: 'rock', degrees: 0 },
        },
      ],
    },
    {
      legend: 'Indicator',
      controls: [
        { control: 'do', id: 'wipe', label: 'Wipe ring, bore and contacts', action: { type: 'wipe' } },
        preloadControl<BoreAction>((turns) => ({ type: 'set-indicator', turns }), 'Fit the indicator'),
        { control: 'do', id: 'zero', label: 'Turn bezel to zero', action: { type: 'zero' } },
        clampControl<BoreAction>(view.clamped, { type: 'clamp' }, { type: 'unclamp' }),
      ],
    },
    {
      legend: 'Temperature',
      controls: [
        { control: 'do', id: 'feel', label: 'Feel ring and block', action: { type: 'feel-temperature' } },
        {
          control: 'do',
          id: 'let-cool',
          label: 'Let ring and block lie side by side',
          action: { type: 'let-cool' },
        },
      ],
    },
  ];
}

/** Into the cylinder with the contacts one way; the depth stays where it was last. */
function putControl({ travel }: BoreBrief, { spot }: View, axis: BoreAxis): AmountControl<BoreAction> {
  const depthMm = spot?.in === 'cylinder' ? spot.depthMm : 0;
  return {
    control: 'amount',
    id: `put-${axis}`,
    label: `Depth, contacts ${AXIS_WORDS[axis]}`,
    unit: 'mm',
    button: `Put it in ${AXIS_WORDS[axis]}`,
    value: depthMm,
    least: 0,
    most: travel.toMm + BELOW_MM,
    step: 1,
    action: { type: 'put', in: 'cylinder', depthMm, axis },
    field: 'depthMm',
  };
}

function form(brief: BoreBrief): SheetPart<BoreAction>[] {
  const { dial, ring } = brief;
  const note = (box: string): BoreAction => ({ type: 'note', item: ITEM, box });
  return [
    {
      id: 'cylinder',
      title: 'Cylinder',
      short: 'Cylinder',
      sets: [
        ...LEVELS.map((level) => levelSet(brief, level)),
        {
          legend: 'Result',
          boxes: [
            lengthBox(dial, 'largest', 'Largest diameter', note('largest-diameter'), { most: 2 * ring }),
            lengthBox(dial, 'out-of-round', 'Out-of-round', note('out-of-round'), {
              hint: 'Without a sign.',
            }),
            lengthBox(dial, 'taper', 'Taper', note('taper'), { hint: 'Without a sign.' }),
            ...judgedBoxes<BoreAction, BoreVerdict>(
              { verdict: 'verdict', next: 'next' },
              VERDICTS,
              verdictWords,
            ),
          ],
        },
      ],
    },
  ];
}

function levelSet({ dial, ring }: BoreBrief, level: BoreLevel): BoxSet<BoreAction> {
  return {
    legend: LEVEL_WORDS[level],
    boxes: AXES.flatMap((axis) => {
      const box = (what: 'reading' | 'diameter', more: { most?: number; hint?: string }) =>
        lengthBox<BoreAction>(
          dial,
          `${level}.${axis}.${what}`,
          `${sentence(axis)}, ${what}`,
          { type: 'note', item: ITEM, box: `${what}-${level}-${axis}` },
          { short: `${what}, ${level}, ${AXIS_WORDS[axis]}`, ...more },
        );
      const isFirst = level === 'top' && axis === 'along';
      return [
        box('reading', isFirst ? { hint: 'From zero in the ring; minus is a larger bore.' } : {}),
        box('diameter', { most: 2 * ring, ...(isFirst ? { hint: 'Ring less reading.' } : {}) }),
      ];
    }),
  };
}

function verdictWords(value: BoreVerdict): string {
  if (value === 'inside') return 'inside the limits';
  return value === 'above' ? 'larger than the limit' : GAUGED_VERDICT_WORDS[value];
}

/** As for every gauge, but for what is said of a tip on the work: this one is held inside it. */
function said(one: SeenOf<'bore-gauge'>['said'][number]): string {
  if (one.code === 'moved') return 'The gauge is in. Its handle slants.';
  if (one.code === 'cannot' && one.why === 'choose-a-place')
    return 'Put the gauge in the ring or in the cylinder first.';
  return gaugedPerceptionWords(one);
}

function did(one: BoreAction): string {
  switch (one.type) {
    case 'put':
      return one.in === 'ring'
        ? 'Put the gauge in the setting ring.'
        : `Put the gauge in the cylinder, ${one.depthMm} mm below the deck, ${AXIS_WORDS[one.axis]}.`;
    case 'rock':
      return `Rocked the gauge ${Math.abs(one.degrees)}°${one.degrees < 0 ? ' back' : ''}.`;
    case 'feel-temperature':
      return 'Felt whether ring and block are as warm as each other.';
    case 'let-cool':
      return 'Let ring and block lie side by side.';
    case 'wipe':
      return 'Wiped ring, bore and contacts clean.';
    case 'set-indicator':
      return `Fitted the indicator with ${one.turns} of a turn of preload.`;
    case 'note':
      return `Wrote ${noteWords(one.box)}.`;
    default:
      return gaugeDid(one) ?? '';
  }
}

/** `reading-top-along` is “reading, top, along the crank”. */
function noteWords(box: string): string {
  const [what, level, axis] = box.split('-');
  return axis === 'along' || axis === 'across' ? `${what}, ${level}, ${AXIS_WORDS[axis]}` : boxWords(box);
}
