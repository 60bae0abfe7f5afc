import { z } from 'zod';
import type { LinerAction, LinerBrief, LinerVerdict, LinerView, WrittenLiner } from '../engine/index.ts';
import { boxWords, GAUGED_VERDICT_WORDS, gaugedPerceptionWords, limitWords } from '../web/words/index.ts';
import {
  FOLLOW_UPS,
  GAUGE_ACTIONS,
  gaugeControls,
  gaugeDid,
  judgedBoxes,
  lengthBox,
  withUnit,
} from './shared.ts';
import type { Boxes, ControlSet, Desk, SheetPart } from './types.ts';

const VERDICTS: readonly LinerVerdict[] = ['inside', 'below', 'above', 'uneven'];
const BETWEEN_VERDICTS = ['inside', 'above'] as const;

const liner = z.int().min(1).max(6);
const action = z.discriminatedUnion('type', [
  ...GAUGE_ACTIONS,
  z.discriminatedUnion('on', [
    z.strictObject({ type: z.literal('place'), on: z.literal('deck'), liner }),
    z.strictObject({
      type: z.literal('place'),
      on: z.literal('liner'),
      liner,
      point: z.int().min(1).max(4),
    }),
  ]),
  z.strictObject({ type: z.literal('press-liner'), liner }),
]);

const counted = (count: number) => Array.from({ length: count }, (_, index) => index + 1);

/** The step between neighbours is an item of its own, after the liners. */
const betweenItem = ({ liners }: LinerBrief) => liners + 1;

export const linerProtrusion: Desk<'liner-protrusion'> = {
  title: 'Liner protrusion',
  action,
  plate: ({ name }) => name,
  dial: ({ dial }) => dial,
  specification: ({ limits: { each, within, between } }) => [
    `Protrusion at every point: ${limitWords(each)}.`,
    ...(within === null ? [] : [`Points of one liner differ by ${withUnit(within, each.unit)} at most.`]),
    ...(between === null ? [] : [`Means of neighbours differ by ${withUnit(between, each.unit)} at most.`]),
  ],
  facts: ({ liners, points }) => [
    { term: 'Work', text: `${liners} neighbouring liners, ${points} points each` },
  ],
  orderOfWork: ({ points }) => [
    'Clamp the liner down evenly, as the manual asks: unclamped it stands on its seal.',
    'Slide the bridge until the tip is on the deck beside the liner. Wipe deck and flange clean.',
    'Let the indicator down with preload, its plunger square to the deck. Lift the tip three times: it comes back to the same place.',
    'Turn the bezel to zero on the deck and clamp it.',
    `Slide to each of the ${points} points and read. Above the deck is plus, below it minus.`,
    'Come back to the deck: the pointer returns to zero, or something moved.',
    'Write the mean and how far the points differ. With all liners done, compare the means of neighbours.',
  ],
  caution:
    'Edges of deck and flange are sharp. Tighten the clamps evenly, a little at a time, and keep fingers from under them. Cover the bores: nothing may fall in.',
  begin: () => 'Choose where the tip of the bridge gauge is to stand.',
  controls,
  form,
  partAt: (_, { spot }) => (spot === null ? null : `liner-${spot.liner}`),
  sheet: (brief, boxes) => ({
    liners: counted(brief.liners).map((one) => linerIn(one, brief.points, boxes)),
    between: boxes.number('neighbours.between'),
    betweenVerdict: boxes.choice('neighbours.verdict', BETWEEN_VERDICTS),
    betweenNext: boxes.choice('neighbours.next', FOLLOW_UPS),
  }),
  said: gaugedPerceptionWords,
  did,
  itemName: (brief, item) => (item === betweenItem(brief) ? 'Neighbours' : `Liner ${item}`),
};

function controls(brief: LinerBrief, view: LinerView): ControlSet<LinerAction>[] {
  const liners = counted(brief.liners);
  const points = liners.flatMap((one) => counted(brief.points).map((point) => ({ liner: one, point })));
  return [
    {
      legend: 'Liners',
      controls: [
        {
          control: 'choose',
          id: 'press-liner',
          label: 'Liner',
          button: 'Clamp the liner down',
          options: liners.map((one) => ({
            text: `Liner ${one}${view.pressed.includes(one) ? ', clamped' : ''}`,
            action: { type: 'press-liner', liner: one },
          })),
          first: Math.max(
            0,
            liners.findIndex((one) => !view.pressed.includes(one)),
          ),
        },
      ],
    },
    {
      legend: 'Where the tip stands',
      help: 'The gauge keeps its zero while the bridge slides.',
      controls: [
        {
          control: 'choose',
          id: 'place-deck',
          label: 'On the deck',
          button: 'Slide to the deck',
          options: liners.map((one) => ({
            text: `Beside liner ${one}`,
            action: { type: 'place', on: 'deck', liner: one },
          })),
          first: (view.spot?.liner ?? 1) - 1,
        },
        {
          control: 'choose',
          id: 'place-point',
          label: 'On a liner',
          button: 'Slide to the point',
          options: points.map((one) => ({
            text: `Liner ${one.liner}, point ${one.point}`,
            action: { type: 'place', on: 'liner', ...one },
          })),
          first: Math.min(nextPoint(brief, view), points.length - 1),
        },
      ],
    },
    { legend: 'Indicator', controls: gaugeControls(view) },
  ];
}

/** The point that is usually next: the first of the liner at hand, or the one after this. */
function nextPoint({ points }: LinerBrief, { spot }: LinerView): number {
  if (spot === null) return 0;
  return (spot.liner - 1) * points + (spot.on === 'deck' ? 0 : spot.point);
}

function form(brief: LinerBrief): SheetPart<LinerAction>[] {
  return [...counted(brief.liners).map((one) => linerPart(brief, one)), neighbours(brief)];
}

const verdictWords = (value: LinerVerdict) =>
  value === 'uneven' ? 'points differ too much' : `${GAUGED_VERDICT_WORDS[value]} the limits`;

function linerPart({ dial, points }: LinerBrief, one: number): SheetPart<LinerAction> {
  const id = `liner-${one}`;
  const note = (box: string): LinerAction => ({ type: 'note', item: one, box });
  const name = (box: string) => `${id}.${box}`;
  return {
    id,
    title: `Liner ${one}`,
    short: `Liner ${one}`,
    sets: [
      {
        legend: 'Protrusion',
        boxes: counted(points).map((point) =>
          lengthBox(dial, name(`point-${point}`), `Point ${point}`, note(`point-${point}`), {
            ...(point === 1 ? { hint: 'From the deck; minus is below it.' } : {}),
          }),
        ),
      },
      {
        legend: 'Result',
        boxes: [
          lengthBox(dial, name('mean'), 'Mean of the points', note('mean')),
          lengthBox(dial, name('within'), 'Difference within the liner', note('within'), {
            hint: 'Highest point less lowest.',
          }),
          ...judgedBoxes<LinerAction, LinerVerdict>(
            { verdict: name('verdict'), next: name('next') },
            VERDICTS,
            verdictWords,
          ),
        ],
      },
    ],
  };
}

function neighbours(brief: LinerBrief): SheetPart<LinerAction> {
  const note: LinerAction = { type: 'note', item: betweenItem(brief), box: 'between' };
  return {
    id: 'neighbours',
    title: 'Neighbours',
    short: 'Neighbours',
    sets: [
      {
        legend: 'Result',
        boxes: [
          lengthBox(brief.dial, 'neighbours.between', 'Largest difference between neighbours', note, {
            hint: 'Between the means of two liners side by side.',
          }),
          ...judgedBoxes<LinerAction, 'inside' | 'above'>(
            { verdict: 'neighbours.verdict', next: 'neighbours.next' },
            BETWEEN_VERDICTS,
            verdictWords,
          ),
        ],
      },
    ],
  };
}

function linerIn(one: number, points: number, boxes: Boxes): WrittenLiner {
  const name = (box: string) => `liner-${one}.${box}`;
  return {
    liner: one,
    points: counted(points).map((point) => boxes.number(name(`point-${point}`))),
    mean: boxes.number(name('mean')),
    within: boxes.number(name('within')),
    verdict: boxes.choice(name('verdict'), VERDICTS),
    next: boxes.choice(name('next'), FOLLOW_UPS),
  };
}

function did(action: LinerAction, brief: LinerBrief): string {
  switch (action.type) {
    case 'place':
      return action.on === 'deck'
        ? `Slid the bridge to the deck beside liner ${action.liner}.`
        : `Slid the bridge to liner ${action.liner}, point ${action.point}.`;
    case 'press-liner':
      return `Clamped liner ${action.liner} down.`;
    case 'note':
      return action.item === betweenItem(brief)
        ? `Wrote ${boxWords(action.box)}.`
        : `Wrote ${boxWords(action.box)}, liner ${action.item}.`;
    default:
      return gaugeDid(action) ?? '';
  }
}
