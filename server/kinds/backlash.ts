import { z } from 'zod';
import type { BacklashAction, BacklashBrief, BacklashVerdict, BacklashView } from '../engine/index.ts';
import { boxWords, GAUGED_VERDICT_WORDS, gaugedPerceptionWords, limitWords } from '../web/words/index.ts';
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
import type { Boxes, ChooseControl, ControlSet, Desk, SheetPart } from './types.ts';

const VERDICTS: readonly BacklashVerdict[] = ['inside', 'below', 'above', 'uneven'];

/** How hard, from little to enough. */
const EFFORTS: readonly (readonly [number, string])[] = [
  [0.2, 'lightly'],
  [0.8, 'firmly'],
];

const action = z.discriminatedUnion('type', [
  ...GAUGE_ACTIONS,
  z.strictObject({ type: z.literal('turn-to'), tooth: z.int().min(1).max(8) }),
  z.strictObject({ type: z.literal('hold'), on: z.boolean() }),
  z.strictObject({
    type: z.literal('rock'),
    way: z.union([z.literal(1), z.literal(-1)]),
    effort: z.number().min(0).max(1),
  }),
]);

const counted = (count: number) => Array.from({ length: count }, (_, index) => index + 1);

export const backlash: Desk<'backlash'> = {
  title: 'Backlash',
  action,
  plate: ({ name }) => name,
  dial: ({ dial }) => dial,
  specification: ({ specification, spread }) => [
    `Backlash at every tooth: ${limitWords(specification)}.`,
    ...(spread === null
      ? []
      : [`Teeth differ by ${withUnit(spread, specification.unit)} at most, largest less smallest.`]),
  ],
  facts: ({ teeth }) => [{ term: 'Work', text: `gear pair, measured at ${teeth} teeth` }],
  orderOfWork: ({ teeth }) => [
    'Bar the gears until the tooth is where the tip goes. Wipe it clean, and the place of the base.',
    'Hold the other gear, so that it cannot go along.',
    'Let the indicator down with preload on the flank at the pitch circle, its plunger along the path of the tooth.',
    'Lift the tip three times: it comes back to the same place.',
    'Rock the gear one way until the teeth touch. Turn the bezel to zero and clamp it.',
    'Rock it the other way until the teeth touch, and read. Rock it back: the pointer returns to zero.',
    `Do the same at all ${teeth} teeth. Write the smallest, the largest, and the spread: largest less smallest.`,
  ],
  caution:
    'Power off, starting disabled, keys held. Say “barring” and wait for the answer. No fingers or rags between the teeth while anyone bars or rocks.',
  begin: () => 'Choose the tooth that is to be under the tip.',
  controls,
  form,
  partAt: () => 'gears',
  sheet: (brief, boxes) => ({
    teeth: counted(brief.teeth).map((tooth) => boxes.number(`tooth-${tooth}`)),
    smallest: boxes.number('smallest'),
    largest: boxes.number('largest'),
    spread: boxes.number('spread'),
    ...judged(boxes),
  }),
  said: gaugedPerceptionWords,
  did,
  // The pair is graded as one; what is said against the first tooth is said against the pair.
  itemName: (_, item) => (item === 1 ? 'Gear pair' : `Tooth ${item}`),
};

function judged(boxes: Boxes) {
  return { verdict: boxes.choice('verdict', VERDICTS), next: boxes.choice('next', FOLLOW_UPS) };
}

function controls({ teeth }: BacklashBrief, view: BacklashView): ControlSet<BacklashAction>[] {
  return [
    {
      legend: 'Gears',
      controls: [
        {
          control: 'choose',
          id: 'turn-to',
          label: 'Tooth under the tip',
          button: 'Bar to this tooth',
          options: counted(teeth).map((tooth) => ({
            text: `Tooth ${tooth}`,
            action: { type: 'turn-to', tooth },
          })),
          first: Math.min(view.tooth ?? 0, teeth - 1),
        },
        {
          control: 'do',
          id: 'hold',
          label: view.held ? 'Let the other gear go' : 'Hold the other gear',
          action: { type: 'hold', on: !view.held },
        },
      ],
    },
    { legend: 'Indicator', controls: gaugeControls(view) },
    { legend: 'Rock the gear', controls: [rockControl(1), rockControl(-1)] },
  ];
}

function rockControl(way: 1 | -1): ChooseControl<BacklashAction> {
  const where = way === 1 ? 'towards the gauge' : 'away from the gauge';
  return {
    control: 'choose',
    id: way === 1 ? 'rock-towards' : 'rock-away',
    label: `How hard, ${where}`,
    button: sentence(`rock ${where}`),
    options: EFFORTS.map(([effort, text]) => ({
      text: sentence(text),
      action: { type: 'rock', way, effort },
    })),
  };
}

function form({ dial, teeth }: BacklashBrief): SheetPart<BacklashAction>[] {
  const note = (box: string): BacklashAction => ({ type: 'note', item: 1, box });
  return [
    {
      id: 'gears',
      title: 'Gear pair',
      short: 'Gear pair',
      sets: [
        {
          legend: 'Backlash at each tooth',
          boxes: counted(teeth).map((tooth) =>
            lengthBox(dial, `tooth-${tooth}`, `Tooth ${tooth}`, note(`tooth-${tooth}`)),
          ),
        },
        {
          legend: 'Result',
          boxes: [
            lengthBox(dial, 'smallest', 'Smallest', note('smallest')),
            lengthBox(dial, 'largest', 'Largest', note('largest')),
            lengthBox(dial, 'spread', 'Spread', note('spread'), { hint: 'Largest less smallest.' }),
            ...judgedBoxes<BacklashAction, BacklashVerdict>(
              { verdict: 'verdict', next: 'next' },
              VERDICTS,
              (value) =>
                value === 'uneven' ? 'teeth differ too much' : `${GAUGED_VERDICT_WORDS[value]} the limits`,
            ),
          ],
        },
      ],
    },
  ];
}

function did(action: BacklashAction, _brief: BacklashBrief): string {
  switch (action.type) {
    case 'turn-to':
      return `Barred the gears to tooth ${action.tooth}.`;
    case 'hold':
      return action.on ? 'Held the other gear.' : 'Let the other gear go.';
    case 'rock': {
      const effort = action.effort <= 0.39 ? 'lightly' : 'firmly';
      return `Rocked the gear ${action.way === 1 ? 'towards' : 'away from'} the gauge, ${effort}.`;
    }
    case 'note':
      return `Wrote ${boxWords(action.box)}.`;
    default:
      return gaugeDid(action) ?? '';
  }
}
