import type { Kysely, Transaction } from 'kysely';
import { displayName } from '../accounts/index.ts';
import type { Database } from '../database/tables.ts';
import { noteExport } from '../disclosures/index.ts';
import type { Actor } from '../web/actor.ts';
import { NotFound } from '../web/errors.ts';
import { newCode } from '../web/short-code.ts';
import type { TranscriptContent } from './content.ts';

/** Letters of a transcript's code: eleven drawn, some 2.5 × 10^16 of them, and one that checks. */
export const CODE_LETTERS = 12;

export interface Transcript {
  readonly code: string;
  readonly studentId: number;
  /** Null once the person's name was taken out of the record. */
  readonly name: { readonly given: string; readonly family: string; readonly number: string } | null;
  readonly content: TranscriptContent;
  readonly issuedAt: string;
  readonly withdrawn: { readonly reason: string; readonly at: string } | null;
}

/** Keeps a transcript as it is given out, with a note of the export. Gives its code. */
export async function keepTranscript(
  trx: Transaction<Database>,
  actor: Actor,
  given: {
    readonly studentId: number;
    readonly content: TranscriptContent;
    readonly recipient: string;
    readonly purpose: string;
  },
): Promise<string> {
  const { studentId, content } = given;
  const person = await trx
    .selectFrom('people')
    .where('id', '=', studentId)
    .where('role', '=', 'student')
    .select(['given_name', 'family_name', 'student_number'])
    .executeTakeFirst();
  if (person === undefined) throw new NotFound();
  const exportId = await noteExport(trx, actor, {
    ...{ what: 'Transcript', form: 'transcript', at: content.issuedAt, asOf: content.asOf },
    ...{ recipient: given.recipient, purpose: given.purpose, studentIds: [studentId] },
    scope: {
      rules: Object.fromEntries(content.lines.map(({ uuid, ruleVersion }) => [uuid, ruleVersion])),
    },
  });
  const code = newCode(undefined, CODE_LETTERS);
  await trx
    .insertInto('transcripts')
    .values({
      ...{ code, export_id: exportId, student_id: studentId, content: JSON.stringify(content) },
      at: content.issuedAt,
    })
    .execute();
  await trx
    .insertInto('transcript_names')
    .values({
      ...{ code, given_name: person.given_name, family_name: person.family_name },
      student_number: person.student_number ?? '',
    })
    .execute();
  return code;
}

/** A transcript by its code, for whoever holds it. Null where there is none. */
export async function findTranscript(db: Kysely<Database>, code: string): Promise<Transcript | null> {
  const row = await db
    .selectFrom('transcripts as one')
    .leftJoin('transcript_names as name', 'name.code', 'one.code')
    .leftJoin('transcript_withdrawals as back', 'back.code', 'one.code')
    .where('one.code', '=', code)
    .select([
      ...(['one.code', 'one.student_id', 'one.content', 'one.at', 'name.given_name'] as const),
      ...(['name.family_name', 'name.student_number', 'back.reason', 'back.at as backAt'] as const),
    ])
    .executeTakeFirst();
  if (row === undefined) return null;
  const { given_name: given, family_name: family, student_number: number } = row;
  return {
    ...{ code: row.code, studentId: row.student_id, issuedAt: row.at },
    name: given === null ? null : { given, family: family ?? '', number: number ?? '' },
    content: JSON.parse(row.content) as TranscriptContent,
    withdrawn: row.reason === null ? null : { reason: row.reason, at: row.backAt ?? '' },
  };
}

/** Takes a transcript back. Throws NotFound; a second time changes nothing. */
export async function withdrawTranscript(
  trx: Transaction<Database>,
  actor: Actor,
  given: { readonly code: string; readonly reason: string; readonly at: string },
): Promise<void> {
  const { code, reason, at } = given;
  if ((await findTranscript(trx, code)) === null) throw new NotFound();
  await trx
    .insertInto('transcript_withdrawals')
    .values({ code, reason, withdrawn_by: actor.id, at })
    .onConflict((conflict) => conflict.doNothing())
    .execute();
}

/** A transcript as it stands in the list of one student. */
export interface TranscriptGiven {
  readonly code: string;
  readonly at: string;
  readonly asOf: string;
  readonly who: string;
  readonly recipient: string;
  readonly purpose: string;
  readonly withdrawnAt: string | null;
}

/** Transcripts of one student, newest first. For coordinators, and for the student. */
export async function listTranscripts(
  db: Kysely<Database>,
  studentId: number,
): Promise<readonly TranscriptGiven[]> {
  const rows = await db
    .selectFrom('transcripts as one')
    .innerJoin('exports as note', 'note.id', 'one.export_id')
    .innerJoin('people as who', 'who.id', 'note.person_id')
    .leftJoin('transcript_withdrawals as back', 'back.code', 'one.code')
    .where('one.student_id', '=', studentId)
    .select([
      ...(['one.code', 'one.at', 'note.as_of', 'note.recipient', 'note.purpose'] as const),
      ...(['who.given_name', 'who.family_name', 'back.at as withdrawnAt'] as const),
    ])
    .orderBy('one.at', 'desc')
    .execute();
  return rows.map((row) => ({
    ...{ code: row.code, at: row.at, asOf: row.as_of ?? row.at, who: displayName(row) },
    ...{ recipient: row.recipient, purpose: row.purpose, withdrawnAt: row.withdrawnAt },
  }));
}
