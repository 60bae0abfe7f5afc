import type { Store } from '../database/open.ts';
import { writeTransaction } from '../database/transaction.ts';
import type { Actor } from '../web/actor.ts';
import { getTaughtSection } from './queries.ts';
import type { LineProblem } from './roster-csv.ts';
import { FIELD_WORDS, type RosterRow } from './roster-row.ts';

export interface Imported {
  /** On the roster now and not before: new people, and people already known here. */
  readonly added: number;
  readonly addedKnown: number;
  readonly alreadyThere: number;
  /** Known people whose name in the file differs: nothing about them was changed. */
  readonly leftAsItWas: readonly {
    readonly line: number;
    readonly number: string;
    readonly inFile: string;
    readonly kept: string;
  }[];
}

/** Carries the problems out of the transaction, so that it is undone. */
class Refused extends Error {
  readonly problems: readonly LineProblem[];

  constructor(problems: readonly LineProblem[]) {
    super('the roster was refused');
    this.problems = problems;
  }
}

/**
 * Puts the rows on the section's roster, all or nothing. A person already known by the student number is put on the roster
 * and never changed. Throws NotFound when the instructor does not teach the section.
 */
export async function importRoster(
  store: Store,
  actor: Actor,
  sectionId: number,
  rows: readonly RosterRow[],
  now: Date,
): Promise<{ readonly imported: Imported } | { readonly problems: readonly LineProblem[] }> {
  const at = now.toISOString();
  try {
    return await writeTransaction(store, async (trx) => {
      await getTaughtSection(trx, actor, sectionId);
      const problems: LineProblem[] = [];
      const leftAsItWas: Imported['leftAsItWas'][number][] = [];
      let added = 0;
      let addedKnown = 0;
      let alreadyThere = 0;
      for (const row of rows) {
        const known = await trx
          .selectFrom('people')
          .select(['id', 'role', 'given_name', 'family_name'])
          .where('sign_in_name', '=', row.studentNumber)
          .executeTakeFirst();
        if (known && known.role !== 'student') {
          const message = 'This is the sign-in name of somebody who is not a student.';
          problems.push({ line: row.line, field: FIELD_WORDS.student_number, message });
          continue;
        }
        if (known && (known.given_name !== row.givenName || known.family_name !== row.familyName)) {
          const inFile = `${row.familyName}, ${row.givenName}`;
          const kept = `${known.family_name}, ${known.given_name}`;
          leftAsItWas.push({ line: row.line, number: row.studentNumber, inFile, kept });
        }
        const person =
          known ??
          (await trx
            .insertInto('people')
            .values({
              role: 'student',
              given_name: row.givenName,
              family_name: row.familyName,
              sign_in_name: row.studentNumber,
              student_number: row.studentNumber,
              email: row.email,
              created_at: at,
            })
            .returning('id')
            .executeTakeFirstOrThrow());
        const seat = await trx
          .insertInto('section_students')
          .values({ section_id: sectionId, person_id: person.id, added_at: at, added_by: actor.id })
          .onConflict((conflict) => conflict.doNothing())
          .executeTakeFirst();
        if (!seat.numInsertedOrUpdatedRows) alreadyThere += 1;
        else if (known) addedKnown += 1;
        else added += 1;
      }
      if (problems.length > 0) throw new Refused(problems);
      return { imported: { added, addedKnown, alreadyThere, leftAsItWas } };
    });
  } catch (error) {
    if (error instanceof Refused) return { problems: error.problems };
    throw error;
  }
}
