import { CRITERIA, type Criterion, FULL_POINTS, type KindName } from '../engine/index.ts';
import { deskOf } from '../kinds/index.ts';
import type { Problems, Values } from '../web/forms.ts';
import { definitionFrom, isKindName, settingFields } from './exercise-settings.ts';
import type { Weights } from './score.ts';
import { readShopWork, SHOP_WORK_DEFAULTS } from './shop-work-settings.ts';
import type { ItemKind, Way } from './tables.ts';

/** One item of a sheet while it is written. */
export interface ItemDraft {
  /** Its place in the form; never shown. */
  readonly key: string;
  /** Null for one that has not been kept yet. */
  readonly id: number | null;
  readonly kind: ItemKind;
  readonly lessonSlug: string | null;
  readonly exercise: KindName | null;
  readonly way: Way | null;
  readonly values: Values;
}

/** A sheet while it is written, as typed. */
export interface SheetDraft {
  readonly title: string;
  readonly introduction: string;
  readonly weights: Values;
  readonly items: readonly ItemDraft[];
}

/** An item read, as it is kept. */
export interface ReadItem {
  readonly id: number | null;
  readonly title: string;
  readonly kind: ItemKind;
  readonly lessonSlug: string | null;
  readonly way: Way | null;
  readonly definition: string | null;
  readonly tries: number | null;
  readonly share: number;
  readonly hints: boolean;
}

export interface ReadSheet {
  readonly title: string;
  readonly introduction: string;
  /** Null where they are as the engine has them. */
  readonly weights: Weights | null;
  readonly items: readonly ReadItem[];
}

/** What a button of the form asks for. */
export interface DraftButton {
  readonly what: 'keep' | 'add' | 'up' | 'down' | 'remove' | 'engine';
  readonly of: string;
}

/** Most items a sheet may have: more would be read by nobody. */
export const MOST_ITEMS = 40;

export function fieldName(key: string, name: string): string {
  return `i${key}-${name}`;
}

/** The form as it came in. Items that cannot be told what they are, are passed over; nobody writes those by hand. */
export function readDraft(body: unknown): {
  readonly draft: SheetDraft;
  readonly button: DraftButton;
  readonly add: string;
} {
  const sent = (body ?? {}) as Record<string, unknown>;
  const text = (name: string) => (typeof sent[name] === 'string' ? sent[name] : '');
  const keys = [...new Set(text('items').split(','))]
    .filter((key) => /^\d{1,4}$/.test(key))
    .slice(0, MOST_ITEMS);
  const items = keys.flatMap((key): ItemDraft[] => {
    const values: Values = {};
    for (const [name, value] of Object.entries(sent))
      if (name.startsWith(`i${key}-`) && typeof value === 'string')
        values[name.slice(`i${key}-`.length)] = value;
    const told = whatOf(values.what ?? '');
    if (told === null) return [];
    const id = /^[1-9]\d{0,14}$/.test(values.id ?? '') ? Number(values.id) : null;
    return [{ ...told, key, id, values }];
  });
  const [what = '', of = ''] = text('do').split(' ');
  return {
    draft: {
      title: text('title'),
      introduction: text('introduction'),
      weights: Object.fromEntries(CRITERIA.map((criterion) => [criterion, text(`weight-${criterion}`)])),
      items,
    },
    button: {
      what: ['add', 'up', 'down', 'remove', 'engine'].includes(what) ? (what as DraftButton['what']) : 'keep',
      of,
    },
    add: text('add'),
  };
}

/** What an item is, from `lesson:cam-lobes`, `question-set:cam-lobes`, `practice-engine:cam-lift:practice` or `shop-engine`. */
export function whatOf(what: string): Pick<ItemDraft, 'kind' | 'lessonSlug' | 'exercise' | 'way'> | null {
  const [kind = '', of = '', way = ''] = what.split(':');
  if ((kind === 'lesson' || kind === 'question-set') && /^[a-z0-9-]{1,80}$/.test(of))
    return { kind, lessonSlug: of, exercise: null, way: null };
  if (kind === 'practice-engine' && isKindName(of) && (way === 'practice' || way === 'graded-run'))
    return { kind, lessonSlug: null, exercise: of, way };
  if (kind === 'shop-engine') return { kind, lessonSlug: null, exercise: null, way: null };
  return null;
}

export function whatWords({
  kind,
  lessonSlug,
  exercise,
  way,
}: Pick<ItemDraft, 'kind' | 'lessonSlug' | 'exercise' | 'way'>): string {
  return [kind, lessonSlug ?? exercise, way].filter((part) => part !== null).join(':');
}

/** A new item with what it usually is. `lessonTitle` is the title of its lesson, where it has one. */
export function freshItem(what: string, key: string, lessonTitle: string | null): ItemDraft | null {
  const told = whatOf(what);
  if (told === null) return null;
  const { kind, exercise, way } = told;
  const base = { ...told, key, id: null };
  if (kind === 'lesson') return { ...base, values: { what, title: lessonTitle ?? '', share: '0' } };
  if (kind === 'question-set')
    return { ...base, values: { what, title: `Questions: ${lessonTitle ?? ''}`, share: '20' } };
  if (kind === 'shop-engine') return { ...base, values: { what, ...SHOP_WORK_DEFAULTS } };
  const graded = way === 'graded-run';
  const title = exercise === null ? '' : deskOf(exercise).title;
  return {
    ...base,
    values: {
      ...{ what, title: `${title}: ${graded ? 'graded run' : 'practice'}`, share: graded ? '100' : '0' },
      ...{ tries: graded ? '3' : '', hints: graded ? '' : 'on', level: '2', cylinders: '6', unit: 'in' },
    },
  };
}

/** The draft after a button that moves things about. */
export function rearranged(items: readonly ItemDraft[], { what, of }: DraftButton): readonly ItemDraft[] {
  if (what === 'remove') return items.filter(({ key }) => key !== of);
  const at = items.findIndex(({ key }) => key === of);
  const to = at + (what === 'up' ? -1 : 1);
  const [one, other] = [items[at], items[to]];
  if (one === undefined || other === undefined) return items;
  return items.map((item, index) => (index === at ? other : index === to ? one : item));
}

/**
 * Reads a whole draft. `known` are the items that stand on the sheet already, by id, with their definitions: what a setting does not speak of
 * stays. `lessons` are the lessons there are. `fixed` are weights that are not the writer's to change. Problems are by field, as the form names them.
 */
export function readSheet(
  draft: SheetDraft,
  known: ReadonlyMap<number, { readonly definition: string | null }>,
  lessons: ReadonlySet<string>,
  fixed: { readonly weights: Weights | null } | null,
): { readonly sheet: ReadSheet; readonly problems: Problems } {
  const problems: Problems = {};
  const title = draft.title.trim();
  if (title === '' || title.length > 120) problems.title = 'Write a title of at most 120 letters.';
  const introduction = draft.introduction.trim();
  if (introduction.length > 2000) problems.introduction = 'Write at most 2000 letters.';
  if (draft.items.length === 0) problems.add = 'Add at least one item.';
  const items = draft.items.map((item) => readItem(item, known, lessons, problems));
  const weights = fixed === null ? readWeights(draft.weights, problems) : fixed.weights;
  return { sheet: { title, introduction, weights, items }, problems };
}

function readItem(
  { key, id, kind, lessonSlug, exercise, way, values }: ItemDraft,
  known: ReadonlyMap<number, { readonly definition: string | null }>,
  lessons: ReadonlySet<string>,
  problems: Problems,
): ReadItem {
  const say = (name: string, text: string) => {
    problems[fieldName(key, name)] ??= text;
  };
  const title = (values.title ?? '').trim();
  if (title === '' || title.length > 120)
    say('title', 'Write what the item is called, in at most 120 letters.');
  if (lessonSlug !== null && !lessons.has(lessonSlug))
    say('title', 'There is no such lesson any more. Take the item off.');
  const share = numberOf(values.share ?? '', 0, 100);
  if (share === null) say('share', 'Write a number from 0 to 100.');
  const base = id === null ? undefined : known.get(id);
  const common = { id: base === undefined ? null : id, title, kind, lessonSlug, way, share: share ?? 0 };
  if (kind === 'shop-engine') {
    const { definition, problems: wrong } = readShopWork(values);
    for (const [name, text] of Object.entries(wrong)) say(name, text);
    return { ...common, definition: JSON.stringify(definition), tries: null, hints: false };
  }
  if (exercise === null) return { ...common, definition: null, tries: null, hints: false };
  const tries = (values.tries ?? '').trim() === '' ? null : numberOf(values.tries ?? '', 1, 50);
  if (tries === null && (values.tries ?? '').trim() !== '')
    say('tries', 'Write a whole number from 1 to 50, or leave it blank.');
  const before = base?.definition ? JSON.parse(base.definition) : null;
  const { definition, problems: wrong } = definitionFrom(exercise, values, before);
  for (const [name, text] of Object.entries(wrong)) say(name, text);
  return {
    ...common,
    definition: JSON.stringify(definition),
    tries: tries === null ? null : Math.round(tries),
    hints: way === 'practice' && values.hints === 'on',
  };
}

function readWeights(typed: Values, problems: Problems): Weights | null {
  const read = CRITERIA.map((criterion): [Criterion, number | null] => {
    const text = (typed[criterion] ?? '').trim();
    return [criterion, text === '' ? FULL_POINTS[criterion] : numberOf(text, 0, 100)];
  });
  for (const [criterion, value] of read)
    if (value === null) problems[`weight-${criterion}`] = 'Write a number from 0 to 100.';
  if (read.some(([, value]) => value === null)) return null;
  const weights = Object.fromEntries(read) as Record<Criterion, number>;
  const sum = CRITERIA.reduce((total, criterion) => total + weights[criterion], 0);
  if (Math.abs(sum - 100) > 1e-9) {
    problems['weight-setUp'] = `The four must make 100; they make ${sum}.`;
    return null;
  }
  return CRITERIA.every((criterion) => weights[criterion] === FULL_POINTS[criterion]) ? null : weights;
}

function numberOf(text: string, least: number, most: number): number | null {
  const written = text.trim().replace(',', '.');
  if (!/^\d{1,3}(\.\d{1,2})?$/.test(written)) return null;
  const value = Number(written);
  return value >= least && value <= most ? value : null;
}

/** The fields of an item's exercise, for the view. */
export function fieldsOf(item: ItemDraft) {
  return item.exercise === null ? [] : settingFields(item.exercise);
}
