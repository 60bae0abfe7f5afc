import { z } from 'zod';
import type { BriefOf, EndPlayAction, EndPlayBrief, EndPlayView, JudgedVerdict } from '../engine/index.ts';
import { boxWords, gaugedPerceptionWords, limitWords, VERDICT_WORDS } from '../web/words/index.ts';
import {
  FOLLOW_UPS,
  GAUGE_ACTIONS,
  gaugeControls,
  gaugeDid,
  judgedBoxes,
  lengthBox,
  sentence,
} from './shared.ts';
import type { ChooseControl, ControlSet, Desk, SheetPart } from './types.ts';

type Subject = EndPlayBrief['subject'];
type Way = 'front' | 'rear';

const VERDICTS: readonly JudgedVerdict[] = ['inside', 'below', 'above'];
const WAYS: readonly Way[] = ['front', 'rear'];

/** What one does to move it, each way. */
const MOVES: Readonly<Record<Subject, Readonly<Record<Way, string>>>> = {
  crankshaft: { front: 'pry the crankshaft to the front', rear: 'pry the crankshaft to the rear' },
  'wheel-bearing': { front: 'pull the hub out', rear: 'push the hub in' },
};
const DONE: Readonly<Record<Subject, Readonly<Record<Way, string>>>> = {
  crankshaft: { front: 'pried the crankshaft to the front', rear: 'pried the crankshaft to the rear' },
  'wheel-bearing': { front: 'pulled the hub out', rear: 'pushed the hub in' },
};

/** How hard, from little to all a person should put on a short bar. */
const EFFORTS: readonly (readonly [number, string])[] = [
  [0.3, 'lightly'],
  [0.6, 'steadily'],
  [0.9, 'hard'],
];

const action = z.discriminatedUnion('type', [
  ...GAUGE_ACTIONS,
  z.strictObject({
    type: z.literal('pry'),
    way: z.enum(['front', 'rear']),
    effort: z.number().min(0).max(1),
    rock: z.boolean().exactOptional(),
  }),
]);

export const endPlay: Desk<'end-play'> = {
  title: 'End play',
  action,
  plate: ({ name }) => name,
  dial: ({ dial }) => dial,
  specification: ({ specification }) => [`End play: ${limitWords(specification)}.`],
  facts: ({ subject }) => [
    {
      term: 'Work',
      text: subject === 'crankshaft' ? 'crankshaft in its bearings' : 'wheel hub on its spindle',
    },
  ],
  orderOfWork: ({ subject }) => [
    'Wipe the place clean, where the base stands and where the tip stands.',
    'Let the indicator down on the front with preload, its plunger in line with the axis.',
    'Lift the tip three times: it comes back to the same place.',
    `${sentence(MOVES[subject].rear)} until it stops solidly. Turn the bezel to zero and clamp it.`,
    ...(subject === 'wheel-bearing' ? ['Rock the hub to and fro each time, so that the rollers seat.'] : []),
    `${sentence(MOVES[subject].front)} until it stops solidly. Read the whole movement.`,
    'Go back: the pointer returns to zero, or something moved. Then read it once more.',
    'The end play is the mean of the two readings.',
  ],
  caution:
    'Power off, starting disabled, keys held. Keep fingers out of the gap while anyone pries. Set a hub on stands and chock the other wheels before you touch it.',
  begin: ({ subject }) =>
    subject === 'crankshaft'
      ? 'The pry bar stands between a web and the block. Set the indicator up on the front.'
      : 'The wheel is off. Set the indicator up on the outer face of the hub.',
  controls,
  form,
  partAt: () => 'end-play',
  sheet: (_, boxes) => ({
    readings: [boxes.number('reading-1'), boxes.number('reading-2')],
    endPlay: boxes.number('end-play'),
    verdict: boxes.choice('verdict', VERDICTS),
    next: boxes.choice('next', FOLLOW_UPS),
  }),
  said: gaugedPerceptionWords,
  did,
  itemName: ({ subject }) => (subject === 'crankshaft' ? 'Crankshaft' : 'Wheel bearing'),
};

function controls({ subject }: EndPlayBrief, view: EndPlayView): ControlSet<EndPlayAction>[] {
  return [
    { legend: 'Indicator', controls: gaugeControls(view) },
    {
      legend: subject === 'crankshaft' ? 'Move the crankshaft' : 'Move the hub',
      controls: WAYS.map((way) => pryControl(subject, way)),
    },
  ];
}

/** One way, with how hard; a hub may be rocked at the same time. */
function pryControl(subject: Subject, way: Way): ChooseControl<EndPlayAction> {
  const plain = EFFORTS.map(([effort, text]) => ({
    text: sentence(text),
    action: { type: 'pry' as const, way, effort },
  }));
  const rocked = EFFORTS.map(([effort, text]) => ({
    text: sentence(`${text}, rocking the hub`),
    action: { type: 'pry' as const, way, effort, rock: true },
  }));
  return {
    control: 'choose',
    id: `pry-${way}`,
    label: `How hard, to the ${way}`,
    button: sentence(MOVES[subject][way]),
    options: subject === 'wheel-bearing' ? [...plain, ...rocked] : plain,
    first: 1,
  };
}

function form({ dial }: BriefOf<'end-play'>): SheetPart<EndPlayAction>[] {
  const note = (box: string): EndPlayAction => ({ type: 'note', item: 1, box });
  return [
    {
      id: 'end-play',
      title: 'End play',
      short: 'End play',
      sets: [
        {
          legend: 'Whole movement',
          boxes: [
            lengthBox(dial, 'reading-1', 'First reading', note('reading-1'), {
              hint: 'From stop to stop.',
            }),
            lengthBox(dial, 'reading-2', 'Second reading', note('reading-2')),
          ],
        },
        {
          legend: 'Result',
          boxes: [
            lengthBox(dial, 'end-play', 'End play, the mean', note('end-play'), { short: 'end play' }),
            ...judgedBoxes<EndPlayAction, JudgedVerdict>(
              { verdict: 'verdict', next: 'next' },
              VERDICTS,
              (value) => `${VERDICT_WORDS[value]} the limits`,
            ),
          ],
        },
      ],
    },
  ];
}

function did(action: EndPlayAction, { subject }: EndPlayBrief): string {
  if (action.type === 'note') return `Wrote ${boxWords(action.box)}.`;
  if (action.type !== 'pry') return gaugeDid(action) ?? '';
  const effort = EFFORTS.find(([most]) => action.effort <= most)?.[1] ?? 'as hard as can be';
  const rocking = subject === 'wheel-bearing' && action.rock === true ? ', rocking it' : '';
  return `${sentence(DONE[subject][action.way])}, ${effort}${rocking}.`;
}
