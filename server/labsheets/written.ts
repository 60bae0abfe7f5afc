import type { Kysely, Transaction } from 'kysely';
import type { Database } from '../database/tables.ts';
import type { AnyDefinition } from '../engine/index.ts';
import { CRITERIA, FULL_POINTS } from '../engine/index.ts';
import type { Actor } from '../web/actor.ts';
import { Conflict, NotFound } from '../web/errors.ts';
import { isKindName, settingsOf } from './exercise-settings.ts';
import type { Weights } from './score.ts';
import { type ItemDraft, type ReadItem, type ReadSheet, type SheetDraft, whatWords } from './sheet-draft.ts';
import { type ShopWork, shopWorkValues } from './shop-work-settings.ts';

/** A sheet that an instructor may look at. */
export interface WrittenSheet {
  readonly id: number;
  readonly title: string;
  readonly introduction: string;
  readonly version: number;
  readonly weights: Weights | null;
  /** May the actor change it? Otherwise it is the program's or a colleague's, to assign and to copy. */
  readonly mine: boolean;
  readonly madeBy: string | null;
  /** Competencies its items count towards; their weights are not an instructor's to change. */
  readonly evidenceFor: readonly string[];
  readonly items: number;
}

/** What the instructor may assign: the program's sheets, their own, and those assigned to a section they teach. */
export async function listSheets(db: Kysely<Database>, actor: Actor): Promise<readonly WrittenSheet[]> {
  const rows = await visible(db, actor).where('sheet.archived_at', 'is', null).orderBy('sheet.id').execute();
  return Promise.all(rows.map((row) => toSheet(db, actor, row)));
}

/** One of them. Throws NotFound. */
export async function getSheet(db: Kysely<Database>, actor: Actor, id: number): Promise<WrittenSheet> {
  const row = await visible(db, actor).where('sheet.id', '=', id).executeTakeFirst();
  if (!row) throw new NotFound();
  return toSheet(db, actor, row);
}

function visible(db: Kysely<Database>, actor: Actor) {
  return db
    .selectFrom('lab_sheets as sheet')
    .leftJoin('people as maker', 'maker.id', 'sheet.made_by')
    .where((eb) =>
      eb.or([
        eb('sheet.made_by', 'is', null),
        eb('sheet.made_by', '=', actor.id),
        eb.exists(
          eb
            .selectFrom('assignments')
            .innerJoin('section_instructors as teaches', 'teaches.section_id', 'assignments.section_id')
            .whereRef('assignments.lab_sheet_id', '=', 'sheet.id')
            .where('teaches.person_id', '=', actor.id)
            .select('assignments.section_id'),
        ),
      ]),
    )
    .selectAll('sheet')
    .select(['maker.given_name', 'maker.family_name']);
}

type Row = Awaited<ReturnType<ReturnType<typeof visible>['execute']>>[number];

async function toSheet(db: Kysely<Database>, actor: Actor, row: Row): Promise<WrittenSheet> {
  const evidence = await db
    .selectFrom('competency_items')
    .innerJoin('lab_sheet_items as item', 'item.id', 'competency_items.item_id')
    .innerJoin('competencies', 'competencies.id', 'competency_items.competency_id')
    .where('item.lab_sheet_id', '=', row.id)
    .select('competencies.code')
    .distinct()
    .orderBy('competencies.code')
    .execute();
  return {
    id: row.id,
    title: row.title,
    introduction: row.introduction,
    version: row.version,
    weights: row.weights === null ? null : (JSON.parse(row.weights) as Weights),
    mine: row.made_by === actor.id,
    madeBy: row.given_name === null ? null : `${row.given_name} ${row.family_name}`,
    evidenceFor: evidence.map(({ code }) => code),
    items: (await listItems(db, row.id)).length,
  };
}

/** What stands on a sheet now, in order. The caller has made sure that the sheet is theirs to see. */
export function listItems(db: Kysely<Database>, sheetId: number) {
  return db
    .selectFrom('lab_sheet_items')
    .where('lab_sheet_id', '=', sheetId)
    .where('removed_at', 'is', null)
    .selectAll()
    .orderBy('ordinal')
    .execute();
}

type ItemRow = Awaited<ReturnType<typeof listItems>>[number];

/** A sheet as it is written on. */
export async function draftOf(db: Kysely<Database>, sheet: WrittenSheet): Promise<SheetDraft> {
  const items = await listItems(db, sheet.id);
  const weights = sheet.weights ?? FULL_POINTS;
  return {
    title: sheet.title,
    introduction: sheet.introduction,
    weights: Object.fromEntries(CRITERIA.map((criterion) => [criterion, String(weights[criterion])])),
    items: items.map(itemDraft),
  };
}

function itemDraft(row: ItemRow, index: number): ItemDraft {
  const definition = row.definition === null ? null : (JSON.parse(row.definition) as { kind: string });
  const exercise =
    row.kind === 'practice-engine' && definition && isKindName(definition.kind) ? definition.kind : null;
  const told = { kind: row.kind, lessonSlug: row.lesson_slug, exercise, way: row.way };
  return {
    ...told,
    key: String(index),
    id: row.id,
    values: {
      ...{ what: whatWords(told), id: String(row.id), title: row.title, share: String(row.share) },
      tries: row.tries === null ? '' : String(row.tries),
      ...(row.hints === 1 ? { hints: 'on' } : {}),
      ...(exercise === null ? {} : settingsOf(definition as unknown as AnyDefinition)),
      ...(row.kind === 'shop-engine' ? shopWorkValues(definition as unknown as ShopWork) : {}),
    },
  };
}

/** What became of items that somebody had begun to work on. */
export interface Kept {
  readonly id: number;
  /** Titles of items that were taken off or replaced, whose work stays as it is. */
  readonly putAside: readonly string[];
}

/**
 * Keeps a sheet as its next version; without an id it is a new one. An item that nobody has begun is changed where it stands. One that is being
 * worked on keeps its work: where its exercise changed it is put aside and another takes its place. Throws NotFound for a sheet of somebody
 * else's, Conflict where it was kept elsewhere since `seenVersion`.
 */
export async function keepSheet(
  trx: Transaction<Database>,
  actor: Actor,
  given: {
    readonly id: number | null;
    readonly seenVersion: number;
    readonly sheet: ReadSheet;
    readonly at: string;
  },
): Promise<Kept> {
  const { sheet, at } = given;
  const weights = sheet.weights === null ? null : JSON.stringify(sheet.weights);
  const id = given.id ?? (await addSheet(trx, actor, sheet, at));
  const found = await trx
    .selectFrom('lab_sheets')
    .where('id', '=', id)
    .where('made_by', '=', actor.id)
    .select('version')
    .executeTakeFirst();
  if (!found) throw new NotFound();
  if (given.id !== null && found.version !== given.seenVersion)
    throw new Conflict(
      'This sheet was kept on another page since. Reload it, so that nothing of it is lost.',
    );
  const version = given.id === null ? 1 : found.version + 1;
  await trx
    .updateTable('lab_sheets')
    .set({ title: sheet.title, introduction: sheet.introduction, weights, version })
    .where('id', '=', id)
    .execute();
  const putAside = await keepItems(trx, id, sheet.items, at);
  await trx
    .insertInto('lab_sheet_versions')
    .values({ lab_sheet_id: id, version, content: JSON.stringify(sheet), kept_by: actor.id, at })
    .execute();
  return { id, putAside };
}

async function addSheet(
  trx: Transaction<Database>,
  actor: Actor,
  sheet: ReadSheet,
  at: string,
): Promise<number> {
  const { title, introduction } = sheet;
  const { id } = await trx
    .insertInto('lab_sheets')
    .values({ title, introduction, created_at: at, made_by: actor.id })
    .returning('id')
    .executeTakeFirstOrThrow();
  return id;
}

async function keepItems(
  trx: Transaction<Database>,
  sheetId: number,
  items: readonly ReadItem[],
  at: string,
): Promise<readonly string[]> {
  const before = await listItems(trx, sheetId);
  const begun = await begunItems(trx, sheetId);
  const putAside: string[] = [];
  // Out of the way of the new order; an index holds places apart.
  for (const row of before) await setItem(trx, row.id, { ordinal: -row.id });
  const stays = new Set<number>();
  const places = items.map((item) => {
    const row = before.find(({ id }) => id === item.id && !stays.has(id));
    if (row === undefined || (begun.has(row.id) && !isSame(row, item))) return null;
    stays.add(row.id);
    return row.id;
  });
  for (const row of before) {
    if (stays.has(row.id)) continue;
    if (begun.has(row.id)) {
      putAside.push(row.title);
      await setItem(trx, row.id, { removed_at: at });
    } else await trx.deleteFrom('lab_sheet_items').where('id', '=', row.id).execute();
  }
  for (const [index, item] of items.entries()) {
    const values = { ...columnsOf(item), ordinal: index + 1 };
    const place = places[index] ?? null;
    if (place === null)
      await trx
        .insertInto('lab_sheet_items')
        .values({ lab_sheet_id: sheetId, ...values })
        .execute();
    else await setItem(trx, place, values);
  }
  return putAside;
}

function setItem(trx: Transaction<Database>, id: number, values: Record<string, string | number | null>) {
  return trx.updateTable('lab_sheet_items').set(values).where('id', '=', id).execute();
}

function columnsOf({ title, kind, lessonSlug, way, definition, tries, share, hints }: ReadItem) {
  return { title, kind, lesson_slug: lessonSlug, way, definition, tries, share, hints: hints ? 1 : 0 };
}

function isSame(row: ItemRow, item: ReadItem): boolean {
  return (
    row.kind === item.kind &&
    row.lesson_slug === item.lessonSlug &&
    row.way === item.way &&
    sameJson(row.definition, item.definition)
  );
}

function sameJson(one: string | null, other: string | null): boolean {
  if (one === null || other === null) return one === other;
  return sorted(JSON.parse(one)) === sorted(JSON.parse(other));
}

function sorted(value: unknown): string {
  return JSON.stringify(value, (_, held: unknown) =>
    held !== null && typeof held === 'object' && !Array.isArray(held)
      ? Object.fromEntries(Object.entries(held).sort(([one], [other]) => (one < other ? -1 : 1)))
      : held,
  );
}

/** Items of a sheet that somebody has begun to work on, or that a competency counts. */
async function begunItems(trx: Transaction<Database>, sheetId: number): Promise<ReadonlySet<number>> {
  const rows = await trx
    .selectFrom('lab_sheet_items as item')
    .where('item.lab_sheet_id', '=', sheetId)
    .where((eb) =>
      eb.or([
        eb.exists(
          eb.selectFrom('attempts').whereRef('attempts.item_id', '=', 'item.id').select('attempts.id'),
        ),
        eb.exists(
          eb
            .selectFrom('competency_items as c')
            .whereRef('c.item_id', '=', 'item.id')
            .select('c.competency_id'),
        ),
      ]),
    )
    .select('item.id')
    .execute();
  return new Set(rows.map(({ id }) => id));
}

/** A sheet of the actor's own that holds the same as another. */
export async function copySheet(
  trx: Transaction<Database>,
  actor: Actor,
  from: WrittenSheet,
  at: string,
): Promise<number> {
  const items = await listItems(trx, from.id);
  const sheet: ReadSheet = {
    title: `${from.title.slice(0, 112)} (copy)`,
    introduction: from.introduction,
    weights: from.weights,
    items: items.map((row) => ({
      id: null,
      title: row.title,
      kind: row.kind,
      lessonSlug: row.lesson_slug,
      way: row.way,
      definition: row.definition,
      tries: row.tries,
      share: row.share,
      hints: row.hints === 1,
    })),
  };
  return (await keepSheet(trx, actor, { id: null, seenVersion: 0, sheet, at })).id;
}
