import { parseLength } from '../engine/index.ts';
import type { Problems } from '../web/forms.ts';
import type { Box, Boxes, ChoiceBox, LengthBox, ListBox, NumberBox, SheetPart } from './types.ts';

/** What is typed on a sheet, box by box. */
export type Typed = Readonly<Record<string, string>>;

export interface ReadBoxes {
  readonly boxes: Boxes;
  /** What could not be read, by box. Such a box counts as blank until it is mended. */
  readonly problems: Problems;
  /** Boxes left blank that are usually filled in. */
  readonly blank: readonly Box<unknown>[];
}

/** Every box of a sheet, in order. */
export function boxesOf<A>(form: readonly SheetPart<A>[]): Box<A>[] {
  return form.flatMap(({ sets }) => sets.flatMap(({ boxes }) => boxes));
}

/** Keeps of what came in only the boxes the sheet has, and of those only what is not empty. */
export function onlyOwnBoxes(form: readonly SheetPart<unknown>[], typed: Typed): Record<string, string> {
  return Object.fromEntries(
    boxesOf(form)
      .map(({ name }) => [name, typed[name] ?? ''] as const)
      .filter(([, text]) => text !== ''),
  );
}

type Value = number | string | readonly number[] | null;

/** Reads what was typed as lengths, numbers and choices. Never throws: what cannot be read is a problem with a sentence. */
export function readBoxes(form: readonly SheetPart<unknown>[], typed: Typed): ReadBoxes {
  const all = boxesOf(form);
  const problems: Problems = {};
  const values = new Map<string, Value>();
  for (const box of all) {
    const read = readBox(box, typed[box.name] ?? '');
    values.set(box.name, read.value);
    if (read.problem !== undefined) problems[box.name] = read.problem;
  }
  const boxes: Boxes = {
    number: (name) => {
      const value = values.get(name);
      return typeof value === 'number' ? value : null;
    },
    choice: (name, of) => of.find((one) => one === values.get(name)) ?? null,
    list: (name) => {
      const value = values.get(name);
      return Array.isArray(value) ? value : [];
    },
  };
  const blank = all.filter(({ name, optional }) => !optional && (typed[name] ?? '').trim() === '');
  return { boxes, problems, blank };
}

interface Read {
  readonly value: Value;
  readonly problem?: string;
}

function readBox(box: Box<unknown>, text: string): Read {
  if (text.trim() === '') return { value: null };
  switch (box.box) {
    case 'length':
      return readLength(box, text);
    case 'number':
      return readNumber(box, text);
    case 'choice':
      return readChoice(box, text);
    case 'list':
      return readList(box, text);
  }
}

function readLength({ unit, most, decimals }: LengthBox<unknown>, text: string): Read {
  const parsed = parseLength(text, unit, most);
  if (parsed.ok) return { value: parsed.value };
  const example = unit === 'in' ? (0.237).toFixed(decimals) : (6.02).toFixed(decimals);
  return {
    value: null,
    problem:
      parsed.meant === null
        ? `Write a length in ${unit === 'in' ? 'inches' : 'millimetres'}, for example ${example}.`
        : `Do you mean ${parsed.meant} ${unit}? Write it so.`,
  };
}

function plainNumber(text: string): number {
  const written = text.trim().replace(',', '.').replace('−', '-');
  return /^[+-]?(\d+\.?\d*|\.\d+)$/.test(written) ? Number(written) : Number.NaN;
}

function readNumber({ least, most, whole, sentence }: NumberBox<unknown>, text: string): Read {
  const value = plainNumber(text);
  const fits = value >= least && value <= most && (!whole || Number.isInteger(value));
  return fits ? { value } : { value: null, problem: sentence };
}

function readChoice({ options }: ChoiceBox<unknown>, text: string): Read {
  return options.some(({ value }) => value === text)
    ? { value: text }
    : { value: null, problem: 'Choose one of the answers in the list.' };
}

function readList({ most, sentence }: ListBox<unknown>, text: string): Read {
  const numbers = text
    .trim()
    .split(/[\s,;-]+/)
    .filter((part) => part !== '')
    .map(Number);
  const fits = numbers.length > 0 && numbers.every((one) => Number.isInteger(one) && one >= 1 && one <= most);
  return fits ? { value: numbers } : { value: null, problem: sentence };
}
