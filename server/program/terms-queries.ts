import type { Kysely, Transaction } from 'kysely';
import type { Database } from '../database/tables.ts';

export interface ProgramTerm {
  readonly name: string;
  /** First and last day, both belong to it: `2026-09-01`. */
  readonly beginsOn: string;
  readonly endsOn: string;
}

/** Terms of the program, newest first. */
export async function listTerms(db: Kysely<Database>): Promise<readonly ProgramTerm[]> {
  return db
    .selectFrom('terms')
    .select(['name', 'begins_on as beginsOn', 'ends_on as endsOn'])
    .orderBy('begins_on', 'desc')
    .execute();
}

/** Adds a term. Gives what is wrong with it, by field, or null once it is added: terms have names of their own and share no day. */
export async function addTerm(
  trx: Transaction<Database>,
  term: ProgramTerm,
): Promise<Readonly<Record<string, string>> | null> {
  const others = await listTerms(trx);
  if (others.some(({ name }) => name.toLowerCase() === term.name.toLowerCase()))
    return { term: 'There is a term of this name.' };
  if (term.endsOn < term.beginsOn) return { endsOn: 'The last day comes before the first.' };
  const other = others.find(({ beginsOn, endsOn }) => beginsOn <= term.endsOn && term.beginsOn <= endsOn);
  if (other !== undefined) return { beginsOn: `These days belong to ${other.name} already.` };
  await trx
    .insertInto('terms')
    .values({ name: term.name, begins_on: term.beginsOn, ends_on: term.endsOn })
    .execute();
  return null;
}
