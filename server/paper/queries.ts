import type { Kysely, Transaction } from 'kysely';
import { displayName, listName } from '../accounts/index.ts';
import type { Database } from '../database/tables.ts';
import type { DialReadingDefinition, Grade, KindName } from '../engine/index.ts';
import type { ShopWork } from '../labsheets/index.ts';
import type { Actor } from '../web/actor.ts';
import { NotFound } from '../web/errors.ts';
import { newCode } from '../web/short-code.ts';

/** What a batch was made of, as it stood when it was printed. */
export type PaperSettings =
  | { readonly kind: 'dials'; readonly definition: DialReadingDefinition }
  | { readonly kind: 'measuring'; readonly work: KindName }
  | { readonly kind: 'sign-off'; readonly itemId: number; readonly work: ShopWork };

export interface Batch {
  readonly id: number;
  readonly title: string;
  readonly settings: PaperSettings;
  readonly at: string;
  readonly sheets: number;
}

export interface PaperSheet {
  readonly code: string;
  readonly ordinal: number;
  readonly seed: string | null;
  /** Null on a spare one. */
  readonly student: { readonly id: number; readonly name: string; readonly number: string } | null;
}

/** What was printed for a section, newest first. The caller has made sure that the section is theirs. */
export async function listBatches(db: Kysely<Database>, sectionId: number): Promise<readonly Batch[]> {
  const rows = await batches(db)
    .where('batch.section_id', '=', sectionId)
    .orderBy('batch.id', 'desc')
    .execute();
  return rows.map(toBatch);
}

/** One of them. Throws NotFound. */
export async function getBatch(db: Kysely<Database>, sectionId: number, id: number): Promise<Batch> {
  const row = await batches(db)
    .where('batch.section_id', '=', sectionId)
    .where('batch.id', '=', id)
    .executeTakeFirst();
  if (!row) throw new NotFound();
  return toBatch(row);
}

function batches(db: Kysely<Database>) {
  return db
    .selectFrom('paper_batches as batch')
    .selectAll('batch')
    .select((eb) =>
      eb
        .selectFrom('paper_sheets')
        .whereRef('paper_sheets.batch_id', '=', 'batch.id')
        .select((count) => count.fn.countAll<number>().as('n'))
        .$asScalar()
        .$notNull()
        .as('sheets'),
    );
}

type BatchRow = Awaited<ReturnType<ReturnType<typeof batches>['execute']>>[number];

function toBatch({ id, title, settings, at, sheets }: BatchRow): Batch {
  return { id, title, settings: JSON.parse(settings) as PaperSettings, at, sheets };
}

/** The sheets of a batch, in the order they were printed. */
export async function listSheets(db: Kysely<Database>, batchId: number): Promise<readonly PaperSheet[]> {
  const rows = await sheets(db).where('sheet.batch_id', '=', batchId).orderBy('sheet.ordinal').execute();
  return rows.map(toSheet);
}

/** The sheet with this code, and what it belongs to. Throws NotFound when it was not printed for this section. */
export async function getSheet(
  db: Kysely<Database>,
  sectionId: number,
  code: string,
): Promise<{ readonly sheet: PaperSheet; readonly batch: Batch }> {
  const row = await sheets(db).where('sheet.code', '=', code).select('sheet.batch_id').executeTakeFirst();
  if (!row) throw new NotFound();
  return { sheet: toSheet(row), batch: await getBatch(db, sectionId, row.batch_id) };
}

function sheets(db: Kysely<Database>) {
  return db
    .selectFrom('paper_sheets as sheet')
    .leftJoin('people as person', 'person.id', 'sheet.student_id')
    .select([
      'sheet.code',
      'sheet.ordinal',
      'sheet.seed',
      'sheet.student_id',
      'person.given_name',
      'person.family_name',
      'person.student_number',
    ]);
}

type SheetRow = Awaited<ReturnType<ReturnType<typeof sheets>['execute']>>[number];

function toSheet({
  code,
  ordinal,
  seed,
  student_id,
  given_name,
  family_name,
  student_number,
}: SheetRow): PaperSheet {
  const person = { given_name: given_name ?? '', family_name: family_name ?? '' };
  return {
    ...{ code, ordinal, seed },
    student:
      student_id === null ? null : { id: student_id, name: listName(person), number: student_number ?? '' },
  };
}

/** Keeps a batch and its sheets, each with a code of its own: one a student, then the spare ones. `seeds` are for drawn dials, one a sheet. */
export async function appendBatch(
  trx: Transaction<Database>,
  actor: Actor,
  given: {
    readonly sectionId: number;
    readonly title: string;
    readonly settings: PaperSettings;
    readonly students: readonly number[];
    readonly spare: number;
    readonly seeds: readonly string[];
    readonly at: string;
  },
): Promise<number> {
  const { id } = await trx
    .insertInto('paper_batches')
    .values({
      section_id: given.sectionId,
      kind: given.settings.kind,
      title: given.title,
      settings: JSON.stringify(given.settings),
      made_by: actor.id,
      at: given.at,
    })
    .returning('id')
    .executeTakeFirstOrThrow();
  const whose = [...given.students, ...Array.from({ length: given.spare }, () => null)];
  for (const [ordinal, student_id] of whose.entries())
    await trx
      .insertInto('paper_sheets')
      .values({
        ...{ code: await freeCode(trx), batch_id: id, ordinal, student_id },
        seed: given.seeds[ordinal] ?? null,
      })
      .execute();
  return id;
}

/** A code that no sheet has. Of 887 million two alike are rare, not impossible. */
async function freeCode(trx: Transaction<Database>): Promise<string> {
  for (;;) {
    const code = newCode();
    const taken = await trx
      .selectFrom('paper_sheets')
      .where('code', '=', code)
      .select('code')
      .executeTakeFirst();
    if (taken === undefined) return code;
  }
}

export interface KeptReadings {
  readonly typed: Readonly<Record<string, string>>;
  readonly grade: Omit<Grade, 'trace'>;
  readonly who: string;
  readonly at: string;
}

/** What was entered from a sheet last; null for nothing. */
export async function findReadings(db: Kysely<Database>, code: string): Promise<KeptReadings | null> {
  const row = await db
    .selectFrom('paper_readings as entered')
    .innerJoin('people as person', 'person.id', 'entered.entered_by')
    .where('entered.code', '=', code)
    .select(['entered.typed', 'entered.grade', 'entered.at', 'person.given_name', 'person.family_name'])
    .orderBy('entered.id', 'desc')
    .executeTakeFirst();
  if (!row) return null;
  return {
    typed: JSON.parse(row.typed) as KeptReadings['typed'],
    grade: JSON.parse(row.grade) as KeptReadings['grade'],
    who: displayName(row),
    at: row.at,
  };
}

/** Which sheets of a batch have been entered. */
export async function listEntered(db: Kysely<Database>, batchId: number): Promise<ReadonlySet<string>> {
  const rows = await db
    .selectFrom('paper_readings as entered')
    .innerJoin('paper_sheets as sheet', 'sheet.code', 'entered.code')
    .where('sheet.batch_id', '=', batchId)
    .select('entered.code')
    .distinct()
    .execute();
  return new Set(rows.map(({ code }) => code));
}

/** Keeps what was entered from a sheet, with its grade; the newest counts. */
export async function appendReadings(
  trx: Transaction<Database>,
  actor: Actor,
  given: {
    readonly code: string;
    readonly typed: Readonly<Record<string, string>>;
    readonly sheet: unknown;
    readonly grade: Omit<Grade, 'trace'>;
    readonly at: string;
  },
): Promise<void> {
  await trx
    .insertInto('paper_readings')
    .values({
      code: given.code,
      typed: JSON.stringify(given.typed),
      sheet: JSON.stringify(given.sheet),
      engine_version: given.grade.engineVersion,
      grade: JSON.stringify(given.grade),
      entered_by: actor.id,
      at: given.at,
    })
    .execute();
}
