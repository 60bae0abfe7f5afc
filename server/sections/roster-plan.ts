import { createHash } from 'node:crypto';
import type { Kysely } from 'kysely';
import type { Database } from '../database/tables.ts';
import type { Actor } from '../web/actor.ts';
import { listRoster } from './queries.ts';
import type { LineProblem } from './roster-csv.ts';
import { FIELD_WORDS, type RosterRow } from './roster-row.ts';

/** Somebody in the file, with what taking it would do. */
export interface PlannedStudent {
  readonly row: RosterRow;
  /** Null for somebody new here. */
  readonly personId: number | null;
  readonly onRoster: boolean;
  /** What here differs from the file. */
  readonly differs: readonly { readonly what: string; readonly here: string; readonly inFile: string }[];
  /** May this instructor change it? Only who teaches every section of a student may. */
  readonly mayChange: boolean;
}

/** What taking a roster would do, before anything is done. */
export interface RosterPlan {
  readonly students: readonly PlannedStudent[];
  /** On the roster here and not in the file. */
  readonly missing: readonly { readonly id: number; readonly name: string; readonly number: string }[];
  /** Changes when anything above does. */
  readonly fingerprint: string;
}

/**
 * Works out what a roster would do to a section. A person is found by what the other system calls them, else by the student number. Throws
 * NotFound when the instructor does not teach the section.
 */
export async function planRoster(
  db: Kysely<Database>,
  actor: Actor,
  sectionId: number,
  rows: readonly RosterRow[],
): Promise<{ readonly plan: RosterPlan } | { readonly problems: readonly LineProblem[] }> {
  const roster = await listRoster(db, actor, sectionId);
  const seats = new Set(roster.map(({ id }) => id));
  const people = await peopleOf(db, rows);
  const foreign = await taughtElsewhere(
    db,
    actor,
    [...people.values()].map(({ id }) => id),
  );
  const problems: LineProblem[] = [];
  const taken = new Map<number, number>();
  const students: PlannedStudent[] = [];
  for (const row of rows) {
    const known =
      people.get(`source ${row.sourcedId ?? ''}`) ?? people.get(`number ${row.studentNumber.toLowerCase()}`);
    const say = (message: string) =>
      problems.push({ line: row.line, field: FIELD_WORDS.student_number, message });
    if (known && known.role !== 'student') {
      say('This is the sign-in name of somebody who is not a student.');
      continue;
    }
    if (
      known &&
      known.sourced_id !== null &&
      row.sourcedId !== undefined &&
      known.sourced_id !== row.sourcedId
    ) {
      say('Somebody else here has this student number.');
      continue;
    }
    const twin = known === undefined ? undefined : taken.get(known.id);
    if (known && twin !== undefined) {
      say(`This is the same person as in line ${twin}.`);
      continue;
    }
    if (known) taken.set(known.id, row.line);
    const differs =
      known === undefined
        ? []
        : [
            {
              what: 'name',
              here: `${known.family_name}, ${known.given_name}`,
              inFile: `${row.familyName}, ${row.givenName}`,
            },
            // A list without addresses takes none away.
            { what: 'email', here: known.email ?? 'none', inFile: row.email ?? known.email ?? 'none' },
          ].filter(({ here, inFile }) => here !== inFile);
    const mayChange = known === undefined || !foreign.has(known.id);
    students.push({
      ...{ row, mayChange },
      personId: known?.id ?? null,
      onRoster: known !== undefined && seats.has(known.id),
      // The address of another instructor's student is nothing to be found out by trying numbers.
      differs: mayChange ? differs : differs.filter(({ what }) => what === 'name'),
    });
  }
  if (problems.length > 0) return { problems };
  const missing = roster
    .filter(({ id }) => !taken.has(id))
    .map((one) => ({
      id: one.id,
      name: `${one.family_name}, ${one.given_name}`,
      number: one.student_number,
    }));
  const fingerprint = createHash('sha256')
    .update(JSON.stringify([students, missing]))
    .digest('hex');
  return { plan: { students, missing, fingerprint } };
}

/** The people the rows may mean, by number and by what the other system calls them. */
async function peopleOf(db: Kysely<Database>, rows: readonly RosterRow[]) {
  const found = new Map<string, Awaited<ReturnType<typeof chunk>>[number]>();
  const chunk = (part: readonly RosterRow[]) =>
    db
      .selectFrom('people')
      .where((eb) =>
        eb.or([
          eb(
            'sign_in_name',
            'in',
            part.map(({ studentNumber }) => studentNumber),
          ),
          eb(
            'sourced_id',
            'in',
            part.map(({ sourcedId }) => sourcedId ?? ''),
          ),
        ]),
      )
      .select(['id', 'role', 'given_name', 'family_name', 'email', 'sign_in_name', 'sourced_id'])
      .execute();
  // SQLite takes only so many values in one statement.
  for (let from = 0; from < rows.length; from += 400)
    for (const person of await chunk(rows.slice(from, from + 400))) {
      found.set(`number ${person.sign_in_name.toLowerCase()}`, person);
      if (person.sourced_id !== null) found.set(`source ${person.sourced_id}`, person);
    }
  return found;
}

/** Of these people, those who are also in a section that the instructor does not teach. */
async function taughtElsewhere(
  db: Kysely<Database>,
  actor: Actor,
  ids: readonly number[],
): Promise<ReadonlySet<number>> {
  const found = new Set<number>();
  for (let from = 0; from < ids.length; from += 400) {
    const rows = await db
      .selectFrom('section_students as seat')
      .where('seat.person_id', 'in', ids.slice(from, from + 400))
      .where('seat.section_id', 'not in', (sub) =>
        sub.selectFrom('section_instructors as t').where('t.person_id', '=', actor.id).select('t.section_id'),
      )
      .select('seat.person_id')
      .distinct()
      .execute();
    for (const { person_id } of rows) found.add(person_id);
  }
  return found;
}
