import { type Kysely, sql, type Transaction } from 'kysely';
import { displayName } from '../accounts/index.ts';
import type { Database } from '../database/tables.ts';
import type { Actor } from '../web/actor.ts';

/** Something that leaves the house. */
export interface ExportNote {
  /** In words; of the coordinator's exports it begins with what kind of file it is. */
  readonly what: string;
  readonly at: string;
  readonly rows?: number;
  readonly form?: string;
  readonly asOf?: string;
  readonly recipient?: string;
  readonly purpose?: string;
  readonly scope?: unknown;
  /** Whose records are in it. */
  readonly studentIds?: readonly number[];
}

/** Writes down that something left the house: what, how many rows, by whom; where it is given, to whom, why and about whom. Gives its number. */
export async function noteExport(
  trx: Transaction<Database>,
  actor: Actor,
  note: ExportNote,
): Promise<number> {
  const head = await trx
    .selectFrom('chain')
    .select('hash')
    .orderBy('seq', 'desc')
    .limit(1)
    .executeTakeFirst();
  const { id } = await trx
    .insertInto('exports')
    .values({
      ...{ person_id: actor.id, what: note.what, rows: note.rows ?? 0, at: note.at },
      ...{ form: note.form ?? 'file', as_of: note.asOf ?? null, recipient: note.recipient ?? '' },
      ...{ purpose: note.purpose ?? '', scope: JSON.stringify(note.scope ?? {}) },
      chain_link: head === undefined ? null : head.hash.subarray(32).toString('hex'),
    })
    .returning('id')
    .executeTakeFirstOrThrow();
  const students = note.studentIds ?? [];
  for (let from = 0; from < students.length; from += 500)
    await trx
      .insertInto('export_students')
      .values(students.slice(from, from + 500).map((student_id) => ({ export_id: id, student_id })))
      .execute();
  return id;
}

/** An export as it stands in the list. */
export interface PastExport {
  readonly id: number;
  readonly who: string;
  readonly what: string;
  /** Whose records are in it: a name where it is one student's; blank otherwise. */
  readonly whose: string;
  readonly recipient: string;
  readonly purpose: string;
  readonly at: string;
  readonly asOf: string | null;
  /** Null while it is not known to have gone out whole. */
  readonly rows: number | null;
  readonly sha256: string | null;
}

/** What has left the house, newest first; about one student alone where it is given. */
export async function listPastExports(
  db: Kysely<Database>,
  { studentId, most = 100 }: { readonly studentId?: number; readonly most?: number } = {},
): Promise<readonly PastExport[]> {
  let query = db
    .selectFrom('exports as one')
    .innerJoin('people as person', 'person.id', 'one.person_id')
    .leftJoin('export_ends as end', 'end.export_id', 'one.id')
    .select([
      ...(['one.id', 'one.what', 'one.recipient', 'one.purpose', 'one.at', 'one.as_of', 'one.form'] as const),
      ...(['one.rows', 'end.rows as sent', 'end.sha256', 'person.given_name', 'person.family_name'] as const),
      sql<string | null>`(SELECT CASE count(*) WHEN 1 THEN max(p.given_name || ' ' || p.family_name) END
        FROM export_students s JOIN people p ON p.id = s.student_id WHERE s.export_id = one.id)`.as('whose'),
    ])
    .orderBy('one.id', 'desc')
    .limit(most);
  if (studentId !== undefined)
    query = query.where('one.id', 'in', (eb) =>
      eb.selectFrom('export_students').where('student_id', '=', studentId).select('export_id'),
    );
  return (await query.execute()).map((row) => ({
    ...{ id: row.id, who: displayName(row), what: row.what, whose: row.whose ?? '' },
    recipient: row.recipient,
    ...{ purpose: row.purpose, at: row.at, asOf: row.as_of, sha256: row.sha256 },
    // Files of other pages, and transcripts, are made whole before they are written down.
    rows: row.form === 'file' || row.form === 'transcript' ? row.rows : row.sent,
  }));
}
