import type {
  CamLiftAction,
  CamLiftBrief,
  NoteBox,
  RollerVerdict,
  Verdict,
  WrittenLobe,
} from '../engine/index.ts';
import {
  actionWords,
  dialWords,
  limitWords,
  nominalWords,
  perceptionWords,
  ROLLER_VERDICT_WORDS,
  VERDICT_WORDS,
} from '../web/words/index.ts';
import { ENGINE_ACTION, engineControls } from './engine-controls.ts';
import { choiceBox, counterBox, FOLLOW_UPS, judgedBoxes, lengthBox, pointerBox, turnsBox } from './shared.ts';
import type { Boxes, Desk, SheetPart } from './types.ts';

const SIMPLE: readonly Verdict[] = ['inside', 'below', 'above'];
const GUARDED: readonly Verdict[] = [...SIMPLE, 'too-close-to-call'];
const ROLLER_VERDICTS: readonly RollerVerdict[] = ['sound', 'not-again'];

const verdictsOf = ({ decision }: Pick<CamLiftBrief, 'decision'>) =>
  decision?.rule === 'guarded' ? GUARDED : SIMPLE;

export const camLift: Desk<'cam-lift'> = {
  title: 'Cam lift',
  action: ENGINE_ACTION,
  plate: ({ engineName }) => engineName,
  dial: gaugeInHand,
  specification: specificationLines,
  facts: ({ firingOrder }) => [{ term: 'Firing order', text: firingOrder.join('-') }],
  orderOfWork,
  caution:
    'Power off and tagged, fuel shut and pressure bled, before anything is opened; keep hold of the bar at compression.',
  begin: ({ tray }) =>
    tray === undefined
      ? 'Choose a pump position to begin.'
      : 'Take a gauge whose travel is enough, then choose a pump position.',
  controls: engineControls,
  form,
  partAt: (_, { position }) => (position === null ? null : `lobe-${position}`),
  sheet: (brief, boxes) => ({
    ...(brief.tray === undefined
      ? {}
      : {
          gauge: boxes.choice(
            'gauge',
            brief.tray.map(({ dialName }) => dialName),
          ),
        }),
    lobes: brief.positions.map((position) => lobeIn(brief, position, boxes)),
  }),
  said: perceptionWords,
  did: (action) => actionWords(action),
  itemName: (_, item) => `Lobe at position ${item}`,
};

/** The gauge in the student's hand, or the one that comes with the engine. */
export function gaugeInHand(
  { tray, dial }: Pick<CamLiftBrief, 'tray' | 'dial'>,
  { gauge }: { readonly gauge: string | null },
) {
  if (tray === undefined) return dial;
  return tray.find(({ dialName }) => dialName === gauge)?.dial ?? null;
}

/** Nominal lift and limits, or where to find them, and how they are judged by. */
export function specificationLines({
  specification,
  page,
  decision,
}: Pick<CamLiftBrief, 'specification' | 'page' | 'decision'>): string[] {
  const lines =
    specification === null
      ? [`Lobe lift: to be looked up. The camshaft carries the letter ${page?.letter ?? ''}.`]
      : [`Lobe lift ${nominalWords(specification)}; limits ${limitWords(specification)}.`];
  if (decision?.rule === 'guarded') {
    const { expanded, k, unit } = decision;
    lines.push(
      `Judge with a guard band of U = ${Number(expanded.toPrecision(2))} ${unit}, k = ${Number(k.toFixed(2))}: nearer a limit than that is too close to call.`,
    );
  }
  return lines;
}

function orderOfWork({ rollerVerdict, tray, page, fullCycle }: CamLiftBrief): string[] {
  return [
    ...(tray === undefined
      ? []
      : ['Take a gauge whose travel is the nominal lift and 0.050 in more, and a rod that stands snug.']),
    ...(page === undefined ? [] : ['Look up the row of the letter on this camshaft.']),
    `Move to a pump position. ${rollerVerdict ? 'Look at the roller before it goes in: colour, surface, shape. ' : ''}Seat the tappet: metal on metal.`,
    'Let the indicator down with preload. Look along the bore: set the indicator in line with it. Tighten arm and base; the rod stands firm.',
    'Lift the tip three times: it comes back to the same place.',
    'Bar clockwise to the base circle: the pointer at its lowest, and still over 60° of crank.',
    'Turn the bezel to zero. Clamp it. Note where the small hand stands: it seldom starts at zero.',
    `Bar clockwise${fullCycle ? ', the whole two turns of the crank' : ', two turns of the crank'}. Count the turns of the pointer up to the high point; write turns, pointer and lift.`,
    'Go on to the base circle. Write the return. Take the second reading. Write the mean.',
    'Judge by the limits. Say what comes next. Then the next lobe: its set-up starts afresh.',
  ];
}

function form(brief: CamLiftBrief): SheetPart<CamLiftAction>[] {
  return brief.positions.map((position, index) => ({
    id: `lobe-${position}`,
    title: `Lobe at position ${position}`,
    short: `Lobe ${position}`,
    sets: [
      ...(index === 0 ? gaugeSet(brief) : []),
      ...(brief.rollerVerdict
        ? [
            {
              legend: null,
              boxes: [
                choiceBox<CamLiftAction, RollerVerdict>(
                  `${position}.roller`,
                  'Roller',
                  ROLLER_VERDICTS,
                  (value) => ROLLER_VERDICT_WORDS[value],
                ),
              ],
            },
          ]
        : []),
      ...([1, 2] as const).flatMap((reading) => readingSets(brief, position, reading)),
      {
        legend: 'The lobe',
        boxes: [
          lengthBox<CamLiftAction>(
            brief.dial,
            `${position}.lift`,
            'Lift of the lobe, mean of the two',
            undefined,
            { short: 'lift of the lobe' },
          ),
          ...judgedBoxes<CamLiftAction, Verdict>(
            { verdict: `${position}.verdict`, next: `${position}.next` },
            verdictsOf(brief),
            (value) =>
              value === 'too-close-to-call' ? VERDICT_WORDS[value] : `${VERDICT_WORDS[value]} the limits`,
          ),
        ],
      },
    ],
  }));
}

function gaugeSet({ tray }: CamLiftBrief) {
  if (tray === undefined) return [];
  const names = tray.map(({ dialName }) => dialName);
  return [
    {
      legend: null,
      boxes: [choiceBox<CamLiftAction, (typeof names)[number]>('gauge', 'Gauge used', names, dialWords)],
    },
  ];
}

function readingSets(
  brief: CamLiftBrief,
  position: number,
  reading: 1 | 2,
): SheetPart<CamLiftAction>['sets'] {
  const { dial } = brief;
  const place = (box: NoteBox) => ({
    name: `${position}.${reading}.${box}`,
    note: { type: 'note', position, reading, box } as CamLiftAction,
  });
  const nth = reading === 1 ? 'First reading' : 'Second reading';
  return [
    {
      legend: nth,
      boxes: [
        turnsBox(place('turns'), -9),
        pointerBox(dial, place('pointer')),
        lengthBox(dial, place('lift').name, 'Lift', place('lift').note),
        lengthBox(dial, place('returned').name, 'Return', place('returned').note, { most: dial.travel }),
      ],
    },
    {
      legend: nth,
      folded: 'Revolution counter, if you note it',
      boxes: [
        counterBox(place('counterBefore'), 'Counter at zero'),
        counterBox(place('counterHigh'), 'Counter at high point'),
      ],
    },
  ];
}

function lobeIn(brief: CamLiftBrief, position: number, boxes: Boxes): WrittenLobe {
  const readings = [1, 2].map((reading) => {
    const number = (box: NoteBox) => boxes.number(`${position}.${reading}.${box}`);
    return {
      counterBefore: number('counterBefore'),
      counterHigh: number('counterHigh'),
      turns: number('turns'),
      pointer: number('pointer'),
      lift: number('lift'),
      returned: number('returned'),
    };
  });
  return {
    position,
    readings,
    lift: boxes.number(`${position}.lift`),
    verdict: boxes.choice(`${position}.verdict`, verdictsOf(brief)),
    next: boxes.choice(`${position}.next`, FOLLOW_UPS),
    ...(brief.rollerVerdict ? { roller: boxes.choice(`${position}.roller`, ROLLER_VERDICTS) } : {}),
  };
}
