import { z } from 'zod';
import type { BriefOf, DialReadingAction, ViewOf, WrittenDrill } from '../engine/index.ts';
import { boxWords, dialWords, gaugedPerceptionWords } from '../web/words/index.ts';
import { counterBox, lengthBox, pointerBox, turnsBox } from './shared.ts';
import type { Boxes, ControlSet, Desk, SheetPart } from './types.ts';

type Brief = BriefOf<'dial-reading'>;
type View = ViewOf<'dial-reading'>;

/** Turns of the pointer a second. */
const SPEEDS = [
  { speed: 0.25, words: 'slowly, ¼ turn a second' },
  { speed: 0.5, words: 'steadily, ½ turn a second' },
  { speed: 1, words: 'fast, 1 turn a second' },
] as const;

export const dialReading: Desk<'dial-reading'> = {
  title: 'Dial reading',
  action: z.discriminatedUnion('type', [
    z.strictObject({ type: z.literal('go-to'), drill: z.int().min(1).max(20) }),
    z.strictObject({ type: z.literal('watch'), speed: z.number().min(0.05).max(20) }),
    z.strictObject({ type: z.literal('watch-back'), speed: z.number().min(0.05).max(20) }),
    z.strictObject({
      type: z.literal('note'),
      item: z.int().min(0).max(99),
      box: z.string().min(1).max(40),
    }),
  ]),
  plate: ({ name }) => name,
  dial: ({ drills }, { drill }) => drills[drill - 1]?.dial ?? null,
  specification: ({ drills }) => [
    `${drills.length === 1 ? 'One dial' : `${drills.length} dials`}, each set to zero. Watch the pointer run; write what it went through from zero.`,
  ],
  facts: () => [],
  orderOfWork: () => [
    'Note where the small hand stands, and which way the face counts.',
    'Watch the pointer leave zero: plunger in is plus, plunger out is minus.',
    'Count the turns each time it passes zero. The small hand is the check.',
    'Write the turns, then the graduations past the last zero the way the pointer ran, then the reading with its unit and sign.',
  ],
  caution:
    'On a real gauge, keep the tip clear of edges: a plunger that is jammed or snapped back is spoilt.',
  begin: () => 'Dial 1 stands before you.',
  controls,
  form,
  partAt: (_, { drill }) => `drill-${drill}`,
  sheet: (brief, boxes) => ({ drills: brief.drills.map(({ drill }) => drillIn(drill, boxes)) }),
  said: gaugedPerceptionWords,
  did,
  itemName: (_, item) => `Dial ${item}`,
};

function controls({ drills }: Brief, view: View): ControlSet<DialReadingAction>[] {
  const watch = (type: 'watch' | 'watch-back', label: string, button: string) =>
    ({
      control: 'choose',
      id: type,
      label,
      button,
      options: SPEEDS.map(({ speed, words }) => ({ text: words, action: { type, speed } })),
      first: 1,
    }) as const;
  return [
    ...(drills.length > 1
      ? [
          {
            legend: 'Dials',
            controls: drills.map(
              ({ drill }) =>
                ({
                  control: 'do',
                  id: `go-to-${drill}`,
                  label: `Dial ${drill}`,
                  action: { type: 'go-to', drill },
                  pressed: view.drill === drill,
                }) as const,
            ),
          },
        ]
      : []),
    {
      legend: 'The movement',
      controls: [
        watch('watch', 'Away from zero', 'Watch it run'),
        watch('watch-back', 'Back to zero', 'Watch it back'),
      ],
    },
  ];
}

function form({ drills }: Brief): SheetPart<DialReadingAction>[] {
  return drills.map(({ drill, dial, dialName }) => {
    const place = (box: string) => ({
      name: `${drill}.${box}`,
      note: { type: 'note', item: drill, box } as const,
    });
    return {
      id: `drill-${drill}`,
      title: `Dial ${drill}: ${dialWords(dialName)}`,
      short: `Dial ${drill}`,
      sets: [
        {
          legend: null,
          boxes: [
            turnsBox(place('turns'), 0),
            {
              ...pointerBox(dial, place('pointer')),
              hint: 'Graduations past the last zero, the way it ran.',
            },
            lengthBox(dial, place('reading').name, 'Reading', place('reading').note, {
              hint: 'Plunger in plus, out minus.',
            }),
          ],
        },
        ...(dial.counter === 'none'
          ? []
          : [
              {
                legend: 'Revolution counter',
                folded: 'Revolution counter, if you note it',
                boxes: [
                  counterBox(place('counterBefore'), 'Counter at zero'),
                  counterBox(place('counterAfter'), 'Counter after'),
                ],
              },
            ]),
      ],
    };
  });
}

function drillIn(drill: number, boxes: Boxes): WrittenDrill {
  const number = (box: string) => boxes.number(`${drill}.${box}`);
  return {
    drill,
    turns: number('turns'),
    pointer: number('pointer'),
    counterBefore: number('counterBefore'),
    counterAfter: number('counterAfter'),
    reading: number('reading'),
  };
}

function did(action: DialReadingAction): string {
  switch (action.type) {
    case 'go-to':
      return `Went to dial ${action.drill}.`;
    case 'watch':
      return `Watched the pointer run, ${action.speed} of a turn a second.`;
    case 'watch-back':
      return `Watched the pointer run back, ${action.speed} of a turn a second.`;
    case 'note':
      return `Wrote ${boxWords(action.box)}, dial ${action.item}.`;
  }
}
