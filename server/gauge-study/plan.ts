import { CsvError, parse } from 'csv-parse/sync';
import { type LengthUnit, parseLength } from '../engine/index.ts';
import { drawFrom } from '../lessons/index.ts';
import type { Problems, Values } from '../web/forms.ts';

/** What is measured how often by whom. */
export interface StudyPlan {
  readonly title: string;
  readonly unit: LengthUnit;
  readonly graduation: number;
  readonly tolerance: number | null;
  readonly parts: readonly string[];
  readonly people: readonly string[];
  readonly repeats: number;
}

/** One reading, by place in the plan, from 0. */
export interface PlacedReading {
  readonly part: number;
  readonly person: number;
  readonly repeat: number;
  readonly value: number;
}

const MOST = { parts: 30, people: 20, repeats: 10 } as const;
/** More than any dial shows; what is larger was mistyped. */
const MOST_LENGTH: Readonly<Record<LengthUnit, number>> = { in: 100, mm: 1000 };

/** Reads the form of a plan; `people` are the names that were ticked or typed. With a CSV its parts, people and repeats come from there. */
export function readPlan(
  values: Values,
  names: { readonly parts: readonly string[]; readonly people: readonly string[] },
  fromCsv: boolean,
): { readonly plan: StudyPlan; readonly problems: Problems } {
  const problems: Problems = {};
  const title = (values.title ?? '').trim();
  if (title === '' || title.length > 120) problems.title = 'Write what is studied, in at most 120 letters.';
  const unit: LengthUnit = values.unit === 'mm' ? 'mm' : 'in';
  const graduation = positive(values.graduation ?? '');
  if (graduation === null) problems.graduation = 'Write what one mark is worth, for example 0.001.';
  const tolerance = (values.tolerance ?? '').trim() === '' ? null : positive(values.tolerance ?? '');
  if (tolerance === null && (values.tolerance ?? '').trim() !== '')
    problems.tolerance = 'Write the width of the tolerance, for example 0.008, or leave it blank.';
  const repeats = Number((values.repeats ?? '').trim());
  if (!fromCsv) {
    const count = (what: 'parts' | 'people', words: string) => {
      const list = names[what];
      if (list.length < 2 || list.length > MOST[what]) problems[what] = `Name 2 to ${MOST[what]} ${words}.`;
      else if (new Set(list).size < list.length) problems[what] = 'A name is there twice.';
      else if (list.some((name) => name.length > 60)) problems[what] = 'Keep each name to 60 letters.';
    };
    count('parts', 'parts, one a line');
    count('people', 'people');
    if (!(Number.isInteger(repeats) && repeats >= 2 && repeats <= MOST.repeats))
      problems.repeats = `Write a whole number from 2 to ${MOST.repeats}.`;
  }
  return { plan: { title, unit, graduation: graduation ?? 0.001, tolerance, ...names, repeats }, problems };
}

function positive(text: string): number | null {
  const written = text.trim().replace(',', '.');
  return /^\d*\.?\d+$/.test(written) && Number(written) > 0 ? Number(written) : null;
}

export interface CsvProblem {
  readonly line: number;
  readonly message: string;
}

const PERSON = ['appraiser', 'operator', 'person', 'student'];

/**
 * Readings in long form: a line each, with the headings part, appraiser (or operator, person, student), trial and value, in any order. Every
 * part must be there for everybody equally often. With any problem there are no readings.
 */
export function readStudyCsv(text: string):
  | {
      readonly parts: string[];
      readonly people: string[];
      readonly repeats: number;
      readonly readings: PlacedReading[];
    }
  | { readonly problems: readonly CsvProblem[] } {
  let records: { record: string[]; info: { lines: number } }[];
  try {
    records = parse(text, {
      bom: true,
      info: true,
      relax_column_count: true,
      skip_empty_lines: true,
      trim: true,
      delimiter: [',', ';', '\t'],
    }) as unknown as typeof records;
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    return {
      problems: [{ line: Number(error.lines ?? 1), message: 'A quotation mark is opened and not closed.' }],
    };
  }
  const [header, ...body] = records;
  const headings = (header?.record ?? []).map((heading) => heading.toLowerCase());
  const at = (names: readonly string[]) => headings.findIndex((heading) => names.includes(heading));
  const [part, person, trial, value] = [
    at(['part']),
    at(PERSON),
    at(['trial', 'repeat']),
    at(['value', 'reading']),
  ];
  if (part < 0 || person < 0 || trial < 0 || value < 0)
    return {
      problems: [{ line: 1, message: 'The headings part, appraiser, trial and value are asked for.' }],
    };
  if (body.length === 0)
    return { problems: [{ line: 2, message: 'There are headings, but no readings below them.' }] };
  if (body.length > MOST.parts * MOST.people * MOST.repeats)
    return { problems: [{ line: 2, message: 'These are more readings than any study here has.' }] };
  const problems: CsvProblem[] = [];
  const parts: string[] = [];
  const people: string[] = [];
  const repeats: string[] = [];
  const seen = new Set<string>();
  const readings = body.map(({ record, info }): PlacedReading => {
    const say = (message: string) => problems.push({ line: info.lines, message });
    const cell = (index: number) => record[index] ?? '';
    if (record.length !== headings.length)
      say(`There are ${record.length} fields and ${headings.length} headings.`);
    const read = Number(cell(value).replace(',', '.'));
    if (cell(value) === '' || !Number.isFinite(read)) say('The value is no number.');
    for (const [name, index] of [
      ['part', part],
      ['appraiser', person],
      ['trial', trial],
    ] as const)
      if (cell(index) === '' || cell(index).length > 60)
        say(`The ${name} is blank or longer than 60 letters.`);
    const key = [cell(part), cell(person), cell(trial)].join('\n');
    if (seen.has(key)) say('This part, appraiser and trial are there already.');
    seen.add(key);
    const place = (list: string[], name: string) =>
      list.includes(name) ? list.indexOf(name) : list.push(name) - 1;
    return {
      part: place(parts, cell(part)),
      person: place(people, cell(person)),
      repeat: place(repeats, cell(trial)),
      value: read,
    };
  });
  if (problems.length > 0) return { problems: problems.slice(0, 50) };
  const counts = [
    ['parts', parts, MOST.parts],
    ['people', people, MOST.people],
    ['trials', repeats, MOST.repeats],
  ] as const;
  for (const [what, list, most] of counts)
    if (list.length < 2 || list.length > most)
      return {
        problems: [{ line: 1, message: `There are ${list.length} ${what}; 2 to ${most} can be studied.` }],
      };
  for (const [p, name] of parts.entries())
    for (const [o, who] of people.entries())
      for (const [r, time] of repeats.entries())
        if (!readings.some((one) => one.part === p && one.person === o && one.repeat === r))
          return { problems: [{ line: 1, message: `Trial ${time} of part ${name} by ${who} is missing.` }] };
  return { parts, people, repeats: repeats.length, readings };
}

/** The order in which a person measures the parts in one round: drawn, and the same whenever it is asked for. */
export function orderOf(seed: string, parts: number, person: number, repeat: number): readonly number[] {
  const draw = drawFrom(`${seed} ${person} ${repeat}`);
  const order = Array.from({ length: parts }, (_, index) => index);
  for (let last = order.length - 1; last > 0; last -= 1) {
    const other = draw.whole(0, last);
    [order[last], order[other]] = [order[other] ?? 0, order[last] ?? 0];
  }
  return order;
}

/** One reading as it is typed; null for a blank box, undefined for what is no length. */
export function readReading(typed: string, unit: LengthUnit): number | null | undefined {
  const read = parseLength(typed, unit, MOST_LENGTH[unit]);
  return read.ok ? read.value : undefined;
}
