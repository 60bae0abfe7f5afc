import type { Kysely } from 'kysely';
import {
  type Competency,
  endOfDay,
  listCompetencies,
  listPeople,
  listProgramSections,
  listProgramStudents,
} from '../competencies/index.ts';
import type { Database } from '../database/tables.ts';
import type { Actor } from '../web/actor.ts';
import type { Problems } from '../web/forms.ts';

/** What an export is about. */
export interface Scope {
  readonly competencies: readonly Competency[];
  readonly asOf: string;
  readonly studentIds: readonly number[];
  readonly everybody: boolean;
  /** Of one section; null for others. */
  readonly sectionId: number | null;
  /** `IC-LIFT (rule version 2); Fuel systems, section A` */
  readonly words: string;
  /** As it is kept with the note of the export. */
  readonly kept: unknown;
}

/** Reads what was asked for: `competency-3` or `course-…` or nothing for all in use; `section-3`, `student-4` or nothing for everybody. Null with problems by field. */
export async function readScope(
  db: Kysely<Database>,
  actor: Actor,
  asked: { readonly competencies: string; readonly people: string; readonly asOf: string },
  now: Date,
): Promise<{ readonly scope: Scope | null; readonly problems: Problems }> {
  const problems: Problems = {};
  const day = asked.asOf.trim();
  const end = day === '' ? now.toISOString() : endOfDay(day, now);
  if (end === null) problems.asOf = 'Choose a day that is over, or leave it blank for now.';
  const asOf = end ?? now.toISOString();
  const all = await listCompetencies(db, actor, new Date(asOf));
  const competencies = all.filter((one) =>
    asked.competencies === ''
      ? one.retiredAt === null
      : asked.competencies === `competency-${one.id}` || asked.competencies === `course-${one.course}`,
  );
  if (competencies.length === 0) problems.competencies = 'There is no such competency on that day.';
  const sectionId = Number(/^section-(\d+)$/.exec(asked.people)?.[1] ?? Number.NaN);
  const studentId = Number(/^student-(\d+)$/.exec(asked.people)?.[1] ?? Number.NaN);
  const section = (await listProgramSections(db)).find(({ id }) => id === sectionId);
  const [student] = Number.isNaN(studentId) ? [] : await listPeople(db, [studentId]);
  const everybody = asked.people === '';
  if (!everybody && section === undefined && student === undefined) problems.people = 'Choose whose records.';
  if (Object.keys(problems).length > 0) return { scope: null, problems };
  const studentIds =
    student !== undefined ? [student.studentId] : await listProgramStudents(db, section?.id ?? null);
  const whose =
    student !== undefined
      ? // Whose is told by the student's own row, from which a name can be taken away.
        'one student'
      : section === undefined
        ? 'the whole program'
        : `${section.name}, ${section.term}`;
  const rules = competencies
    .map(({ code, ruleVersion }) => `${code} (rule version ${ruleVersion})`)
    .join(', ');
  return {
    scope: {
      ...{ competencies, asOf, studentIds, everybody, sectionId: section?.id ?? null },
      words: `${rules}; ${whose}`,
      kept: {
        rules: Object.fromEntries(competencies.map(({ uuid, ruleVersion }) => [uuid, ruleVersion])),
        ...(everybody ? {} : { people: asked.people }),
      },
    },
    problems,
  };
}
