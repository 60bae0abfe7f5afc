import { z } from 'zod';
import type { BriefOf, LiftCurveAction, LiftCurveVerdict, ViewOf } from '../engine/index.ts';
import { boxWords, gaugedPerceptionWords, limitWords } from '../web/words/index.ts';
import { BARRING } from './engine-controls.ts';
import {
  FOLLOW_UPS,
  GAUGE_ACTIONS,
  gaugeControls,
  gaugeDid,
  judgedBoxes,
  lengthBox,
  withUnit,
} from './shared.ts';
import type { Box, ControlSet, Desk, NumberBox, SheetPart } from './types.ts';

type Act = LiftCurveAction;
type Brief = BriefOf<'lift-curve'>;
type View = ViewOf<'lift-curve'>;
type Range = Brief['limits']['width'];

/** The one lobe. */
const ITEM = 1;
/** Lines of the table: a whole lobe every five degrees of crank, finer on the flanks, and a little of the base circle. */
const LINES = 96;
const LINES_A_PART = 24;
/** Fewer lines than this make no curve: a table with none of them is said to be blank. */
const FEWEST = 12;
const CYCLE_DEG = 720;
const VERDICTS: readonly LiftCurveVerdict[] = ['inside', 'below', 'above', 'shifted'];
const VERDICT_WORDS: Readonly<Record<LiftCurveVerdict, string>> = {
  inside: 'inside the limits',
  below: 'lift or width below its limits',
  above: 'lift or width above its limits',
  shifted: 'off its time: the centre is outside its limits',
};

const action = z.discriminatedUnion('type', [
  ...GAUGE_ACTIONS,
  z.strictObject({
    type: z.literal('bar'),
    degrees: z
      .number()
      .min(-2 * CYCLE_DEG)
      .max(2 * CYCLE_DEG),
  }),
  z.strictObject({ type: z.literal('try-stop') }),
  z.strictObject({ type: z.literal('set-wheel'), degrees: z.number().min(-30).max(30) }),
]);

export const liftCurve: Desk<'lift-curve'> = {
  title: 'Lift curve',
  action,
  plate: ({ name }) => name,
  dial: ({ dial }) => dial,
  specification: ({ limits, checking }) => [
    `Maximum lift: ${limitWords(limits.lift)}.`,
    `Event width at ${withUnit(checking.lift, checking.unit)} of lift: ${rangeWords(limits.width)} of crank.`,
    `Lobe centre, half-way between opening and closing: ${rangeWords(limits.centre)} after firing top dead centre.`,
  ],
  facts: ({ checking }) => [
    { term: 'Work', text: 'one injection lobe, its pump out, the tip on the tappet’s rod' },
    { term: 'Opening and closing', text: `at ${withUnit(checking.lift, checking.unit)} of lift` },
  ],
  orderOfWork,
  caution:
    'Fuel shut and starter made dead, so that nobody can start it. Take the piston stop out before you bar on, and bar slowly towards it: it bends, or the piston breaks.',
  begin: () =>
    'The degree wheel is on the crank and the rod stands on the tappet. Try the wheel against the stop first.',
  controls,
  form,
  // The page cannot tell at which line of the table the student is.
  partAt: () => null,
  sheet: (_, boxes) => ({
    points: counted(1, LINES).map((line) => ({
      crankDeg: boxes.number(`point-${line}.crank`),
      lift: boxes.number(`point-${line}.lift`),
    })),
    highPointDeg: boxes.number('high-point'),
    opensDeg: boxes.number('opens'),
    closesDeg: boxes.number('closes'),
    widthDeg: boxes.number('width'),
    centreDeg: boxes.number('centre'),
    maximumLift: boxes.number('maximum-lift'),
    verdict: boxes.choice('verdict', VERDICTS),
    next: boxes.choice('next', FOLLOW_UPS),
  }),
  said: gaugedPerceptionWords,
  did,
  itemName: () => 'Lobe',
};

const counted = (from: number, to: number) =>
  Array.from({ length: to - from + 1 }, (_, index) => from + index);

/** `118° to 130°`; an open side is said. */
function rangeWords({ lower, upper }: Range): string {
  if (lower !== null && upper !== null) return `${lower}° to ${upper}°`;
  if (lower !== null) return `${lower}° or more`;
  return upper === null ? 'no limits' : `${upper}° or less`;
}

function orderOfWork({ checking }: Brief): string[] {
  return [
    'Try the piston stop from both sides. Top dead centre is half-way between the two readings of the wheel: bend the pointer until it would say 0 there, and try again.',
    'Wipe. Let the indicator down with preload, in line with the rod. Bar round once to find the base circle: the pointer at its lowest, and still.',
    'Stop well inside the base circle, barring clockwise. Set the indicator down afresh, line it up, lift the tip three times, zero, clamp.',
    'Bar clockwise and stop every 5°. Write crank and lift. On the flanks never more than 5° apart, near the nose 10° will do.',
    'Always come to a reading clockwise, so that the play of the gears is out. Gone too far? Bar back 30° and more, then come forward again.',
    'The mark on the cam gear says in which of the two turns you are. In the second turn add 360 to what the wheel says.',
    'Go on to the base circle: the pointer returns to zero, or something moved.',
    `Plot lift against crank. Opening and closing are where the curve passes ${withUnit(checking.lift, checking.unit)}; read between two lines of the table.`,
    'Width is from opening to closing. The lobe centre is half-way between them; on a lobe with uneven flanks it is not the high point.',
    'Judge lift, width and centre, in that order.',
  ];
}

function controls(_: Brief, view: View): ControlSet<Act>[] {
  return [
    {
      legend: 'Degree wheel',
      controls: [
        {
          control: 'amount',
          id: 'set-wheel',
          label: 'The pointer is to say so many degrees more; less with a minus',
          unit: '°',
          button: 'Bend the pointer',
          value: 0,
          least: -30,
          most: 30,
          step: 0.1,
          action: { type: 'set-wheel', degrees: 0 },
          field: 'degrees',
        },
        {
          control: 'do',
          id: 'try-stop',
          label: 'Try the stop from both sides',
          action: { type: 'try-stop' },
        },
      ],
    },
    { legend: 'Indicator', controls: gaugeControls(view) },
    {
      legend: 'Bar the engine',
      controls: [
        {
          control: 'turn',
          id: 'bar',
          back: 'Bar back',
          forward: 'Bar clockwise',
          steps: [1, 5, 30],
          speeds: BARRING.speeds,
          action: { type: 'bar', degrees: 0 },
        },
      ],
    },
  ];
}

function form(brief: Brief): SheetPart<Act>[] {
  const parts = counted(1, LINES / LINES_A_PART).map((part) =>
    tablePart(brief, (part - 1) * LINES_A_PART + 1, part * LINES_A_PART),
  );
  return [...parts, result(brief)];
}

/** A part of the table: rows of crank and lift. */
function tablePart(brief: Brief, from: number, to: number): SheetPart<Act> {
  return {
    id: `points-${from}`,
    title: `Table, points ${from} to ${to}`,
    short: `Points ${from} to ${to}`,
    sets: [
      {
        legend:
          from === 1
            ? 'Crank from 0° to 720°: in the second turn 360 more than the wheel says. Lift from zero, turns and pointer. The lobe, and a few points of base circle on either side, are enough.'
            : null,
        table: { columns: ['Crank, °', `Lift, ${brief.dial.unit}`], rows: counted(from, to).map(String) },
        boxes: counted(from, to).flatMap((line) => pointBoxes(brief, line)),
      },
    ],
  };
}

function pointBoxes({ dial }: Brief, line: number): Box<Act>[] {
  const may = line > FEWEST ? ({ optional: true } as const) : {};
  const note = (box: string): Act => ({ type: 'note', item: ITEM, box: `point-${line}-${box}` });
  const short = (what: string) => `point ${line}, ${what}`;
  return [
    degreeBox(`point-${line}.crank`, `${line}: crank`, {
      ...may,
      note: note('crank'),
      short: short('crank'),
    }),
    lengthBox(dial, `point-${line}.lift`, `${line}: lift`, note('lift'), { ...may, short: short('lift') }),
  ];
}

function degreeBox(
  name: string,
  label: string,
  more: Partial<Pick<NumberBox<Act>, 'optional' | 'hint' | 'short' | 'note'>> = {},
): NumberBox<Act> {
  const sentence = 'Write crank degrees, 0 to 720.';
  return {
    box: 'number',
    name,
    label,
    unit: '°',
    least: 0,
    most: CYCLE_DEG,
    whole: false,
    sentence,
    ...more,
  };
}

function result({ dial, checking }: Brief): SheetPart<Act> {
  const note = (box: string): Act => ({ type: 'note', item: ITEM, box });
  const degrees = (code: string, label: string, hint: string) =>
    degreeBox(code, label, { hint, note: note(code) });
  const at = withUnit(checking.lift, checking.unit);
  return {
    id: 'result',
    title: 'Result',
    short: 'Result',
    sets: [
      {
        legend: 'From table and plot',
        boxes: [
          lengthBox(dial, 'maximum-lift', 'Maximum lift', note('maximum-lift'), {
            hint: 'Highest reading, from zero.',
          }),
          degrees('high-point', 'High point at', 'Crank, 0 to 720. Middle of the highest stretch.'),
          degrees('opens', 'Opens at', `Crank, 0 to 720, where the lift passes ${at} going up.`),
          degrees('closes', 'Closes at', `Crank, 0 to 720, where it passes ${at} coming down.`),
          degrees('width', 'Event width', 'Closes less opens. Is closes the smaller? Add 720 to it first.'),
          degrees('centre', 'Lobe centre', 'Opens and half the width; 720 less where that is above 720.'),
        ],
      },
      {
        legend: 'Verdict',
        boxes: judgedBoxes<Act, LiftCurveVerdict>(
          { verdict: 'verdict', next: 'next' },
          VERDICTS,
          (value) => VERDICT_WORDS[value],
        ),
      },
    ],
  };
}

function did(one: Act): string {
  switch (one.type) {
    case 'bar':
      return `Barred the crank ${Math.abs(one.degrees)}°${one.degrees < 0 ? ' back' : ''}.`;
    case 'try-stop':
      return 'Barred the piston against its stop from both sides.';
    case 'set-wheel':
      return `Bent the pointer of the degree wheel to say ${Number(Math.abs(one.degrees).toFixed(1))}° ${one.degrees < 0 ? 'less' : 'more'}.`;
    case 'note':
      return `Wrote ${boxWords(one.box)}.`;
    default:
      return gaugeDid(one) ?? '';
  }
}
