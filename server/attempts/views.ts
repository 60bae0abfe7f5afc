import type { CamLiftBrief, CamLiftView } from '../engine/index.ts';
import type { Problems } from '../web/forms.ts';
import { FOLLOW_UP_WORDS, ROLLER_VERDICT_WORDS, VERDICT_WORDS } from '../web/words/index.ts';
import type { OwnAttempt } from './queries.ts';
import type { TypedSheet } from './schema.ts';
import { boxName, FOLLOW_UPS, lineName, READING_BOXES, ROLLER_VERDICTS, VERDICTS } from './sheet.ts';

/** A box of the lab sheet as the view draws it. */
export interface BoxView {
  readonly name: string;
  readonly label: string;
  readonly value: string;
  readonly problem: string | undefined;
  readonly unit: string | undefined;
  readonly hint: string | undefined;
}

export interface ChoiceView {
  readonly name: string;
  readonly label: string;
  readonly value: string;
  readonly problem: string | undefined;
  readonly options: readonly { readonly value: string; readonly text: string }[];
}

/** One lobe's part of the lab sheet. */
export interface LobeView {
  readonly position: number;
  readonly readings: readonly {
    readonly number: number;
    readonly counter: readonly BoxView[];
    readonly main: readonly BoxView[];
  }[];
  readonly lift: BoxView;
  readonly verdict: ChoiceView;
  readonly next: ChoiceView;
  /** Null where the sheet has no line for the roller. */
  readonly roller: ChoiceView | null;
}

/** What the bench page is drawn from: only what a person standing there would see, and what they have typed. */
export interface BenchPage {
  readonly title: string;
  readonly wide: true;
  readonly scripts: readonly string[];
  readonly attempt: Pick<
    OwnAttempt,
    'id' | 'try_number' | 'tries' | 'way' | 'itemTitle' | 'sheetTitle' | 'sectionName'
  >;
  readonly brief: CamLiftBrief;
  readonly view: CamLiftView;
  readonly next: number;
  readonly lobes: readonly LobeView[];
  readonly problems: Problems;
  readonly specification: string;
  readonly dialSvg: string;
  readonly crankSvg: string;
  readonly effortSvg: string;
}

/** As a choice in a list begins: with a capital. */
const sentence = (words: string) => words.charAt(0).toUpperCase() + words.slice(1);

/** The lobes' boxes, with what is typed and what is wrong with it. */
export function lobeViews(brief: CamLiftBrief, typed: TypedSheet, problems: Problems): LobeView[] {
  const { unit } = brief.dial;
  const box = (name: string, label: string, more: { unit?: string; hint?: string } = {}): BoxView => ({
    name,
    label,
    value: typed[name] ?? '',
    problem: problems[name],
    unit: more.unit,
    hint: more.hint,
  });
  const choice = (name: string, label: string, options: ChoiceView['options']): ChoiceView => ({
    name,
    label,
    value: typed[name] ?? '',
    problem: problems[name],
    options: [{ value: '', text: 'Choose' }, ...options],
  });
  const labels: Readonly<Record<(typeof READING_BOXES)[number], { label: string; unit?: string }>> = {
    counterBefore: { label: 'Counter at zero' },
    counterHigh: { label: 'Counter at high point' },
    turns: { label: 'Turns' },
    pointer: { label: 'Pointer' },
    lift: { label: 'Lift', unit },
    returned: { label: 'Return', unit },
  };
  return brief.positions.map((position) => ({
    position,
    readings: [1, 2].map((number) => {
      const boxes = READING_BOXES.map((name) =>
        box(boxName(position, number, name), labels[name].label, labels[name]),
      );
      return { number, counter: boxes.slice(0, 2), main: boxes.slice(2) };
    }),
    lift: box(lineName(position, 'lift'), 'Lift of the lobe, mean of the two', { unit }),
    verdict: choice(
      lineName(position, 'verdict'),
      'Verdict',
      VERDICTS.map((value) => ({ value, text: sentence(`${VERDICT_WORDS[value]} the limits`) })),
    ),
    next: choice(
      lineName(position, 'next'),
      'What next',
      FOLLOW_UPS.map((value) => ({ value, text: sentence(FOLLOW_UP_WORDS[value]) })),
    ),
    roller: brief.rollerVerdict
      ? choice(
          lineName(position, 'roller'),
          'Roller',
          ROLLER_VERDICTS.map((value) => ({ value, text: sentence(ROLLER_VERDICT_WORDS[value]) })),
        )
      : null,
  }));
}

/** The specification in words: nominal and limits, an open side said to be open. */
export function specificationWords({ specification, page }: CamLiftBrief): string {
  if (specification === null) return `To be looked up: the camshaft carries the letter ${page?.letter ?? ''}`;
  const { unit, nominal, lower, upper } = specification;
  const places = unit === 'in' ? 3 : 2;
  const write = (length: number) => {
    const exact = String(Number(length.toFixed(6)));
    const decimals = exact.split('.')[1]?.length ?? 0;
    return `${decimals > places ? exact : length.toFixed(places)} ${unit}`;
  };
  const limits =
    lower !== null && upper !== null
      ? `limits ${write(lower)} to ${write(upper)}`
      : lower !== null
        ? `replace below ${write(lower)}, no upper limit`
        : upper !== null
          ? `no lower limit, not above ${write(upper)}`
          : 'no limits given';
  return `Lobe lift ${write(nominal)}; ${limits}.`;
}

/** One line of the look-over page. */
export interface LookOverLobe {
  readonly position: number;
  readonly rows: readonly { readonly label: string; readonly first: string; readonly second: string }[];
  readonly lift: string;
  readonly verdict: string;
  readonly next: string;
  readonly roller: string | null;
}

export interface LookOverPage {
  readonly title: string;
  readonly attempt: BenchPage['attempt'];
  readonly lobes: readonly LookOverLobe[];
  /** Blank boxes in words, by lobe. */
  readonly blanks: readonly string[];
  readonly specification: string;
}

export function lookOverLobes(brief: CamLiftBrief, typed: TypedSheet): LookOverLobe[] {
  return lobeViews(brief, typed, {}).map((lobe) => {
    const [first, second] = lobe.readings.map(({ counter, main }) => [...counter, ...main]);
    const shown = (box: BoxView | undefined) =>
      box === undefined || box.value === ''
        ? ''
        : `${box.value}${box.unit !== undefined && /\d$/.test(box.value) ? ` ${box.unit}` : ''}`;
    const chosen = (choice: ChoiceView) =>
      choice.value === '' ? '' : (choice.options.find(({ value }) => value === choice.value)?.text ?? '');
    return {
      position: lobe.position,
      rows: (first ?? []).map((box, index) => ({
        label: box.label,
        first: shown(box),
        second: shown(second?.[index]),
      })),
      lift: shown(lobe.lift),
      verdict: chosen(lobe.verdict),
      next: chosen(lobe.next),
      roller: lobe.roller === null ? null : chosen(lobe.roller),
    };
  });
}

/** Blank boxes said a lobe at a time: "Position 2: first reading (pointer, lift), verdict". */
export function blankWords(brief: CamLiftBrief, blank: readonly string[]): string[] {
  return brief.positions.flatMap((position) => {
    const own = blank
      .filter((name) => name.startsWith(`${position}.`))
      .map((name) => name.split('.').slice(1));
    if (own.length === 0) return [];
    const readings = ['1', '2'].flatMap((number) => {
      const boxes = own
        .filter(([reading, box]) => reading === number && box !== undefined)
        .map(([, box]) => BLANK_NAMES[box ?? '']);
      return boxes.length === 0
        ? []
        : [`${number === '1' ? 'first' : 'second'} reading (${boxes.join(', ')})`];
    });
    const lines = own
      .filter((parts) => parts.length === 1)
      .map(([line]) => (line === 'lift' ? 'lift of the lobe' : BLANK_NAMES[line ?? '']));
    return [`Position ${position}: ${[...readings, ...lines].join(', ')}`];
  });
}

const BLANK_NAMES: Readonly<Record<string, string>> = {
  turns: 'turns',
  pointer: 'pointer',
  lift: 'lift',
  returned: 'return',
  verdict: 'verdict',
  next: 'what next',
  roller: 'roller',
};
