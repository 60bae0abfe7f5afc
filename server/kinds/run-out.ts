import { z } from 'zod';
import type {
  BriefOf,
  JudgedVerdict,
  RunOutAction,
  RunOutBrief,
  RunOutView,
  WrittenRunOut,
} from '../engine/index.ts';
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
import type { Boxes, ControlSet, Desk, SheetPart } from './types.ts';

type Place = RunOutBrief['places'][number];

const PLACE_WORDS: Readonly<Record<RunOutBrief['subject'], Readonly<Record<Place, string>>>> = {
  shaft: { rim: 'journal', face: 'face' },
  housing: { rim: 'bore', face: 'face' },
};

const VERDICTS: readonly JudgedVerdict[] = ['inside', 'below', 'above'];

const action = z.discriminatedUnion('type', [
  ...GAUGE_ACTIONS,
  z.strictObject({ type: z.literal('move'), place: z.enum(['rim', 'face']) }),
  z.strictObject({ type: z.literal('turn'), degrees: z.number().min(-360).max(360) }),
  z.strictObject({ type: z.literal('push') }),
]);

/** Items are counted as the engine counts them: 1 round the rim, 2 the face. */
const itemOf = (place: Place) => (place === 'rim' ? 1 : 2);

export const runOut: Desk<'run-out'> = {
  title: 'Run-out',
  action,
  plate: ({ name }) => name,
  dial: ({ dial }) => dial,
  specification: (brief) => [
    `${brief.limitOn === 'tir' ? 'Total indicator reading' : 'Eccentricity, half the total indicator reading'}: ${limitWords(brief.specification)}.`,
  ],
  facts: ({ subject }) => [
    { term: 'Work', text: subject === 'shaft' ? 'crankshaft on V-blocks' : 'flywheel housing on the engine' },
  ],
  orderOfWork: (brief) => [
    'Wipe the place clean, where the base stands and where the tip runs.',
    'Move to a place. Let the indicator down with preload, its plunger in line with what it measures. Clamp the bezel at zero.',
    'Lift the tip three times: it comes back to the same place.',
    ...(brief.places.includes('face')
      ? ['On a face, push the shaft against its stop before each reading: its end play is no run-out.']
      : []),
    'Turn the work one whole turn, one way. Write the highest and the lowest reading, and where the highest is.',
    'Total indicator reading is highest less lowest; the eccentricity is half of it.',
    'Come back to where you began: the pointer returns to zero, or something moved.',
  ],
  caution: 'A shaft on V-blocks rolls: chock it. Keep fingers and sleeves away from work that turns.',
  begin: () => 'Choose where the tip is to stand.',
  controls,
  form,
  partAt: (_, view) => (view.place === null ? null : view.place),
  sheet: (brief, boxes) => ({ places: brief.places.map((place) => placeIn(place, boxes)) }),
  said: gaugedPerceptionWords,
  did,
  itemName: (brief, item) => sentence(PLACE_WORDS[brief.subject][item === 1 ? 'rim' : 'face']),
};

function controls(brief: BriefOf<'run-out'>, view: RunOutView): ControlSet<RunOutAction>[] {
  return [
    {
      legend: 'Where the tip stands',
      controls: brief.places.map((place) => ({
        control: 'do',
        id: `move-${place}`,
        label: sentence(`on the ${PLACE_WORDS[brief.subject][place]}`),
        action: { type: 'move', place },
        pressed: view.place === place,
      })),
    },
    { legend: 'Indicator', controls: gaugeControls(view) },
    {
      legend: 'Turn the work',
      controls: [
        { control: 'do', id: 'push', label: 'Push the shaft one way', action: { type: 'push' } },
        {
          control: 'turn',
          id: 'turn',
          back: 'Turn back',
          forward: 'Turn',
          steps: [1, 10, 30],
          speeds: [
            { perSecond: 6, label: 'slow, 6°/s' },
            { perSecond: 20, label: 'steady, 20°/s' },
            { perSecond: 60, label: 'fast, 60°/s' },
          ],
          action: { type: 'turn', degrees: 0 },
        },
      ],
    },
  ];
}

function form({ dial, places, subject }: BriefOf<'run-out'>): SheetPart<RunOutAction>[] {
  return places.map((place) => {
    const note = (box: string): RunOutAction => ({ type: 'note', item: itemOf(place), box });
    const name = (box: string) => `${place}.${box}`;
    return {
      id: place,
      title: sentence(PLACE_WORDS[subject][place]),
      short: sentence(PLACE_WORDS[subject][place]),
      sets: [
        {
          legend: 'Readings',
          boxes: [
            lengthBox(dial, name('highest'), 'Highest', note('highest'), {
              hint: 'From zero; minus is lower than zero.',
            }),
            lengthBox(dial, name('lowest'), 'Lowest', note('lowest')),
            {
              box: 'number',
              name: name('highSpot'),
              label: 'High spot at',
              unit: '°',
              least: 0,
              most: 360,
              whole: false,
              sentence: 'Write the degree on the work, 0 to 360.',
              note: note('high-spot'),
            },
          ],
        },
        {
          legend: 'Result',
          boxes: [
            lengthBox(dial, name('tir'), 'Total indicator reading', note('tir')),
            ...(place === 'rim'
              ? [lengthBox(dial, name('eccentricity'), 'Eccentricity', note('eccentricity'))]
              : []),
            ...judgedBoxes<RunOutAction, JudgedVerdict>(
              { verdict: name('verdict'), next: name('next') },
              VERDICTS,
              (value) => `${VERDICT_WORDS[value]} the limits`,
            ),
          ],
        },
      ],
    };
  });
}

function placeIn(place: Place, boxes: Boxes): WrittenRunOut {
  const number = (box: string) => boxes.number(`${place}.${box}`);
  return {
    item: itemOf(place),
    highest: number('highest'),
    lowest: number('lowest'),
    tir: number('tir'),
    eccentricity: number('eccentricity'),
    highSpotDeg: number('highSpot'),
    verdict: boxes.choice(`${place}.verdict`, VERDICTS),
    next: boxes.choice(`${place}.next`, FOLLOW_UPS),
  };
}

function did(action: RunOutAction, brief: BriefOf<'run-out'>): string {
  switch (action.type) {
    case 'move':
      return `Set the stand up for the ${PLACE_WORDS[brief.subject][action.place]}.`;
    case 'turn':
      return `Turned the work ${Math.abs(action.degrees)}°${action.degrees < 0 ? ' back' : ''}.`;
    case 'push':
      return 'Pushed the shaft one way.';
    default:
      return gaugeDid(action) ?? wrote(action, brief);
  }
}

function wrote(action: RunOutAction, brief: BriefOf<'run-out'>): string {
  return action.type === 'note'
    ? `Wrote ${boxWords(action.box)}, ${runOut.itemName(brief, action.item).toLowerCase()}.`
    : '';
}
