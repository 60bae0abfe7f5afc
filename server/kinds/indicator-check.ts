import { z } from 'zod';
import type {
  IndicatorCheckAction,
  IndicatorCheckBrief,
  IndicatorCheckSheet,
  ViewOf,
} from '../engine/index.ts';
import { boxWords, gaugedPerceptionWords } from '../web/words/index.ts';
import {
  decimalsIn,
  FOLLOW_UPS,
  GAUGE_ACTIONS,
  gaugeControls,
  gaugeDid,
  judgedBoxes,
  lengthBox,
  withUnit,
} from './shared.ts';
import type { BoxSet, ControlSet, Desk, LengthBox, SheetPart } from './types.ts';

type Act = IndicatorCheckAction;
type View = ViewOf<'indicator-check'>;
type Way = 'up' | 'down';

/** The one indicator. */
const ITEM = 1;
const REPEATS = 5;
const VERDICTS = ['inside', 'above'] as const;
const WAY_WORDS: Readonly<Record<Way, string>> = { up: 'going in', down: 'coming back' };

const action = z.discriminatedUnion('type', [
  ...GAUGE_ACTIONS,
  z.strictObject({
    type: z.literal('put-block'),
    travel: z.number().min(0).max(100),
    wiped: z.boolean().exactOptional(),
    stack: z.union([z.literal(1), z.literal(2)]).exactOptional(),
  }),
  z.strictObject({ type: z.literal('let-down'), how: z.enum(['fast', 'slowly']) }),
]);

/** The figures worked out from the readings: box of the sheet, code of the log, words. */
const FIGURES = [
  {
    figure: 'largestError',
    code: 'largest-error',
    label: 'Largest error going in',
    hint: 'Reading less size of the block, counted from the reading at 0. With its sign: minus shows too little.',
  },
  {
    figure: 'wholeRange',
    code: 'whole-range',
    label: 'Over the whole range',
    hint: 'Largest error less smallest, both ways together.',
  },
  {
    figure: 'oneTurn',
    code: 'one-turn',
    label: 'Inside one turn',
    hint: 'The same for points at most one turn of the pointer apart.',
  },
  {
    figure: 'adjacent',
    code: 'adjacent-step',
    label: 'Step between neighbours',
    hint: 'Largest step of error over a tenth of a turn, one way at a time. Without a sign.',
  },
  {
    figure: 'hysteresis',
    code: 'hysteresis',
    label: 'Hysteresis',
    hint: 'Largest difference of the two ways at one point. Without a sign.',
  },
  {
    figure: 'repeatability',
    code: 'repeatability',
    label: 'Repeatability',
    hint: 'Largest less smallest of the five.',
  },
] as const satisfies readonly { readonly figure: keyof IndicatorCheckSheet; [more: string]: string }[];

export const indicatorCheck: Desk<'indicator-check'> = {
  title: 'Indicator check',
  action,
  plate: ({ name }) => name,
  dial: ({ dial }) => dial,
  specification: ({ limits: { unit, ...most } }) => [
    `Error over the whole range ${withUnit(most.wholeRange, unit)} at most, inside one turn ${withUnit(most.oneTurn, unit)}.`,
    `Step of error over a tenth of a turn ${withUnit(most.adjacent, unit)} at most.`,
    `Hysteresis ${withUnit(most.hysteresis, unit)} at most, repeatability ${withUnit(most.repeatability, unit)}.`,
  ],
  facts: ({ plan, dial }) => [
    { term: 'Work', text: 'dial indicator in a comparator stand, over gauge blocks' },
    {
      term: 'Plan',
      text: `${plan.length} points from 0 to ${withUnit(plan.at(-1) ?? 0, dial.unit)}, both ways`,
    },
  ],
  orderOfWork: ({ dial, plan }) => [
    'Put the zero block under the tip, wiped. Wipe anvil and stand clean.',
    'Let the indicator down with half a turn of preload, its plunger square to the anvil. Lift the tip three times: it comes back to the same place.',
    'Turn the bezel to zero over the zero block and clamp it. It is not touched again.',
    'Wipe every block and wring it on. One that is wiped and still does not wring has a burr: take other blocks for that size.',
    'Go in through the whole plan, from the smallest block to the largest, never turning round. Read turns and pointer, to a tenth of a graduation.',
    `Go three graduations past the last point, to ${withUnit(pastTheEnd(plan, dial), dial.unit)}. Only then come back, through the same points and never turning round.`,
    'At one point raise the plunger and let it down five times, fast and slowly in turn.',
    'The error is the reading less the size of the block, counted from the first reading. Work out the figures of JIS B 7503 from the errors.',
    'One figure above its limit, and the indicator is outside.',
  ],
  caution:
    'Blocks rust under a bare finger and are spoilt by one scratch: hold them by their sides, never push one over grit. Blocks and indicator need time to be as warm as the room.',
  begin: () => 'The indicator lies beside the comparator stand. The zero block is on the anvil.',
  controls,
  form,
  partAt: () => null,
  sheet: ({ plan }, boxes) => ({
    points: plan.map((at, index) => ({
      at,
      up: boxes.number(`point-${index}.up`),
      down: boxes.number(`point-${index}.down`),
    })),
    repeats: repeats().map((one) => boxes.number(`repeat-${one}`)),
    largestError: boxes.number('largest-error'),
    wholeRange: boxes.number('whole-range'),
    oneTurn: boxes.number('one-turn'),
    adjacent: boxes.number('adjacent-step'),
    hysteresis: boxes.number('hysteresis'),
    repeatability: boxes.number('repeatability'),
    verdict: boxes.choice('verdict', VERDICTS),
    next: boxes.choice('next', FOLLOW_UPS),
  }),
  said: gaugedPerceptionWords,
  did,
  itemName: () => 'Indicator',
};

const repeats = () => Array.from({ length: REPEATS }, (_, index) => index + 1);

/** Where the plunger is pushed before it comes back, so that its play is taken up the other way. */
function pastTheEnd(plan: IndicatorCheckBrief['plan'], { graduation }: IndicatorCheckBrief['dial']): number {
  return Number(((plan.at(-1) ?? 0) + 3 * graduation).toFixed(6));
}

function controls({ dial, plan }: IndicatorCheckBrief, view: View): ControlSet<Act>[] {
  return [
    {
      legend: 'Block under the tip',
      help: 'A size is what the block is larger than the zero block. A larger one pushes the plunger in, a smaller one lets it out.',
      controls: [
        {
          control: 'pick',
          id: 'block',
          label: 'Size',
          things: plan.map((at) => (at === 0 ? 'Zero block' : withUnit(at, dial.unit))),
          buttons: [
            {
              label: 'Wipe it and wring it on',
              actions: plan.map((travel) => ({ type: 'put-block', travel, wiped: true })),
            },
            { label: 'Put it on as it is', actions: plan.map((travel) => ({ type: 'put-block', travel })) },
            {
              label: 'Wipe and wring others of that size',
              actions: plan.map((travel) => ({ type: 'put-block', travel, wiped: true, stack: 2 })),
            },
          ],
        },
        {
          control: 'amount',
          id: 'other-block',
          label: 'A size that is not in the list',
          unit: dial.unit,
          button: 'Wipe it and wring it on',
          value: view.travel,
          least: 0,
          most: dial.travel,
          step: dial.graduation,
          action: { type: 'put-block', travel: 0, wiped: true },
          field: 'travel',
        },
      ],
    },
    {
      legend: 'Raise the plunger a turn',
      controls: [
        { control: 'do', id: 'drop', label: 'Let it drop', action: { type: 'let-down', how: 'fast' } },
        {
          control: 'do',
          id: 'ease',
          label: 'Ease it down slowly',
          action: { type: 'let-down', how: 'slowly' },
        },
      ],
    },
    { legend: 'Indicator', controls: gaugeControls(view) },
  ];
}

function form(brief: IndicatorCheckBrief): SheetPart<Act>[] {
  const figures = FIGURES.map(({ code, label, hint }) =>
    fineBox(brief, code, label, code, { hint, short: boxWords(code) }),
  );
  return [
    { id: 'readings', title: 'Readings over the blocks', short: 'Readings', sets: [readings(brief)] },
    {
      id: 'repeats',
      title: 'Five at one point',
      short: 'Five at one point',
      sets: [
        {
          legend: 'Readings',
          boxes: repeats().map((one) =>
            fineBox(brief, `repeat-${one}`, `Reading ${one}`, `repeat-${one}`, {
              short: `reading ${one}`,
              ...(one === 1 ? { hint: 'From zero, turns and pointer, to a tenth of a graduation.' } : {}),
            }),
          ),
        },
      ],
    },
    {
      id: 'result',
      title: 'Result',
      short: 'Result',
      sets: [
        {
          legend: 'Errors',
          boxes: [
            ...figures,
            ...judgedBoxes<Act, 'inside' | 'above'>(
              { verdict: 'verdict', next: 'next' },
              VERDICTS,
              (value) => (value === 'inside' ? 'inside its limits' : 'outside: a figure is above its limit'),
            ),
          ],
        },
      ],
    },
  ];
}

/** A row for each block: what was read going in and coming back. */
function readings(brief: IndicatorCheckBrief): BoxSet<Act> {
  const { plan, dial } = brief;
  return {
    legend: 'All that the gauge shows from zero, turns and pointer, to a tenth of a graduation',
    table: {
      columns: [`Going in, ${dial.unit}`, `Coming back, ${dial.unit}`],
      rows: plan.map(String),
    },
    boxes: plan.flatMap((at, index) =>
      (['up', 'down'] as const).map((way) => {
        return fineBox(brief, `point-${index}.${way}`, `${at} ${WAY_WORDS[way]}`, `${way}-at-${at}`, {
          short: `${withUnit(at, dial.unit)} ${WAY_WORDS[way]}`,
        });
      }),
    ),
  };
}

/** A length that is read, or worked out, to a tenth of a graduation. */
function fineBox(
  { dial }: IndicatorCheckBrief,
  name: string,
  label: string,
  code: string,
  more: Partial<Pick<LengthBox<Act>, 'hint' | 'short'>>,
): LengthBox<Act> {
  const note: Act = { type: 'note', item: ITEM, box: code };
  return { ...lengthBox<Act>(dial, name, label, note, more), decimals: decimalsIn(dial) + 1 };
}

function did(one: Act, { dial }: IndicatorCheckBrief): string {
  switch (one.type) {
    case 'put-block': {
      const block = one.travel === 0 ? 'zero block' : `block of ${withUnit(one.travel, dial.unit)}`;
      const others = one.stack === 2 ? ', put together from others' : '';
      return `Put the ${block}${others} under the tip, ${one.wiped === true ? 'wiped' : 'not wiped'}.`;
    }
    case 'let-down':
      return one.how === 'fast'
        ? 'Raised the plunger and let it drop.'
        : 'Raised the plunger and eased it down.';
    case 'note':
      return `Wrote ${noteWords(one.box, dial.unit)}.`;
    default:
      return gaugeDid(one) ?? '';
  }
}

/** `up-at-0.1` is “reading at 0.1 mm, going in”. */
function noteWords(box: string, unit: string): string {
  const [, way, at] = /^(up|down)-at-(.+)$/.exec(box) ?? [];
  if (way === undefined)
    return box.startsWith('repeat-') ? `reading ${box.slice(7)} at one point` : boxWords(box);
  return `reading at ${at} ${unit}, ${WAY_WORDS[way as Way]}`;
}
