import { z } from 'zod';
import {
  type Dial,
  type FollowUp,
  type GaugeAction,
  type GaugeView,
  graduationsPerTurn,
  type LengthUnit,
} from '../engine/index.ts';
import { FOLLOW_UP_WORDS, GAUGE_ACTION_WORDS, preloadWords } from '../web/words/index.ts';
import type { Box, ChoiceBox, ChooseControl, Control, DoControl, LengthBox, NumberBox } from './types.ts';

/** Pieces that the kinds with an indicator on a stand share: actions, buttons, boxes, lines of the log. */

export const FOLLOW_UPS: readonly FollowUp[] = [
  'return-to-service',
  'measure-again',
  'correct-set-up',
  'replace',
];

/** What is done to the gauge whatever is measured, as it may come in from a page. */
export const GAUGE_ACTIONS = [
  z.strictObject({ type: z.literal('wipe') }),
  z.strictObject({ type: z.literal('set-indicator'), turns: z.number().min(0).max(100) }),
  z.strictObject({ type: z.literal('align') }),
  z.strictObject({ type: z.literal('lift-tip') }),
  z.strictObject({ type: z.literal('zero') }),
  z.strictObject({ type: z.literal('clamp') }),
  z.strictObject({ type: z.literal('unclamp') }),
  z.strictObject({
    type: z.literal('note'),
    item: z.int().min(0).max(99),
    box: z.string().min(1).max(40),
  }),
] as const;

/** A choice as it begins a list: with a capital. */
export const sentence = (words: string) => words.charAt(0).toUpperCase() + words.slice(1);

const TURNS: readonly (readonly [number, string])[] = [
  [0, 'just touching'],
  [0.25, '¼ turn'],
  [0.5, '½ turn'],
  [1, '1 turn'],
  [1.5, '1½ turns'],
  [2.5, '2½ turns'],
];

/** Lets the indicator down with preload. Half a turn is offered first. */
export function preloadControl<A>(
  make: (turns: number) => A,
  button = 'Let the indicator down',
): ChooseControl<A> {
  return {
    control: 'choose',
    id: 'preload',
    label: 'Preload, turns of the pointer',
    button,
    options: TURNS.map(([turns, text]) => ({ text, action: make(turns) })),
    first: 2,
  };
}

/** Clamps the bezel or frees it, whichever is still to do. */
export function clampControl<A>(clamped: boolean, clamp: A, unclamp: A): DoControl<A> {
  return {
    control: 'do',
    id: 'clamp',
    label: clamped ? 'Free the bezel' : 'Clamp the bezel',
    action: clamped ? unclamp : clamp,
  };
}

/** Everything done to an indicator on a stand; `preload` where half a turn or two are not what is usually chosen from. */
export function gaugeControls<A = GaugeAction>(
  view: Pick<GaugeView, 'clamped'>,
  preload?: Control<A>,
): Control<GaugeAction | A>[] {
  return [
    { control: 'do', id: 'wipe', label: 'Wipe base and work clean', action: { type: 'wipe' } },
    preload ?? preloadControl<GaugeAction>((turns) => ({ type: 'set-indicator', turns })),
    { control: 'do', id: 'align', label: 'Line the plunger up', action: { type: 'align' } },
    { control: 'do', id: 'lift-tip', label: 'Lift the tip and let go', action: { type: 'lift-tip' } },
    { control: 'do', id: 'zero', label: 'Turn bezel to zero', action: { type: 'zero' } },
    clampControl<GaugeAction>(view.clamped, { type: 'clamp' }, { type: 'unclamp' }),
  ];
}

/** What was done to the gauge, as a line of the log; null for an action that is a kind's own. */
export function gaugeDid(action: { readonly type: string } | GaugeAction): string | null {
  switch (action.type) {
    case 'wipe':
      return 'Wiped base and work clean.';
    case 'set-indicator':
      return preloadWords((action as { turns: number }).turns);
    case 'align':
      return 'Lined the plunger up.';
    case 'lift-tip':
    case 'zero':
    case 'clamp':
    case 'unclamp':
      return GAUGE_ACTION_WORDS[action.type];
    default:
      return null;
  }
}

/** Decimals in which a dial is read by its whole graduations. */
export function decimalsIn({ graduation }: Pick<Dial, 'graduation'>): number {
  return String(Number(graduation.toFixed(6))).split('.')[1]?.length ?? 0;
}

/** A length read on the dial, or worked out of such. */
export function lengthBox<A>(
  dial: Dial,
  name: string,
  label: string,
  note?: A,
  more: Partial<Pick<LengthBox<A>, 'most' | 'optional' | 'hint' | 'short'>> = {},
): LengthBox<A> {
  return {
    box: 'length',
    name,
    label,
    unit: dial.unit,
    most: 10 * dial.travel,
    decimals: decimalsIn(dial),
    ...(note === undefined ? {} : { note }),
    ...more,
  };
}

/** A name and, where the log tells of it, the note. */
interface Place<A> {
  readonly name: string;
  readonly note?: A;
}

/** Whole turns of the pointer; `least` below 0 where the pointer may have run down. */
export function turnsBox<A>(place: Place<A>, least: number): NumberBox<A> {
  const sentence = 'Write whole turns, for example 2.';
  return { box: 'number', ...place, label: 'Turns', least, most: 99, whole: true, sentence };
}

/** Graduations past the last zero. */
export function pointerBox<A>(dial: Dial, place: Place<A>): NumberBox<A> {
  const most = graduationsPerTurn(dial);
  const sentence = `Write the graduations past zero, 0 to ${most}.`;
  return { box: 'number', ...place, label: 'Pointer', least: 0, most, whole: false, sentence };
}

/** Where the small hand stands; may stay blank. */
export function counterBox<A>(place: Place<A>, label: string): NumberBox<A> {
  const sentence = 'Write where the small hand stands, for example 1.5.';
  return { box: 'number', ...place, label, optional: true, least: 0, most: 99, whole: false, sentence };
}

export function choiceBox<A, T extends string>(
  name: string,
  label: string,
  values: readonly T[],
  words: (value: T) => string,
): ChoiceBox<A> {
  return {
    box: 'choice',
    name,
    label,
    options: values.map((value) => ({ value, text: sentence(words(value)) })),
  };
}

/** The verdict and what comes of it. */
export function judgedBoxes<A, T extends string>(
  names: { readonly verdict: string; readonly next: string },
  verdicts: readonly T[],
  words: (value: T) => string,
): Box<A>[] {
  return [choiceBox(names.verdict, 'Verdict', verdicts, words), nextBox(names.next)];
}

/** What comes next, as every sheet asks it. */
export function nextBox<A>(name: string): ChoiceBox<A> {
  return choiceBox(name, 'What next', FOLLOW_UPS, (value) => FOLLOW_UP_WORDS[value]);
}

/** The gauge on a job card. */
export function gaugeFacts(dial: Dial | null): { term: string; text: string }[] {
  if (dial === null) return [];
  const { graduation, unit, rangePerTurn, travel, counter } = dial;
  const facts = [
    { term: 'Gauge', text: `${graduation} ${unit}, ${rangePerTurn} ${unit} a turn` },
    { term: 'Travel', text: `${travel} ${unit}` },
  ];
  if (counter !== 'forwards')
    facts.push({ term: 'Revolution counter', text: counter === 'none' ? 'none' : 'runs backwards' });
  return facts;
}

/** `1 in`, for lines of the log and of the sheet. */
export const withUnit = (length: number, unit: LengthUnit) => `${length} ${unit}`;
