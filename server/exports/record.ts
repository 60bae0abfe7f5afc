import type { Kysely } from 'kysely';
import {
  type Competency,
  listPeople,
  type Person,
  type Standing,
  standingsAsOf,
} from '../competencies/index.ts';
import type { Database } from '../database/tables.ts';
import { listGradedById } from '../review/index.ts';
import { listSignOffFacts, type SignOffFacts } from '../sign-offs/index.ts';

/** A graded run as it counts for something, with what a file says of it. */
export interface RecordedRun {
  readonly id: string;
  readonly at: string;
  /** As they stood at the instant of the record. */
  readonly points: number;
  readonly outOf: number;
  readonly badPart: boolean;
  readonly setUpFault: boolean;
  readonly itemTitle: string;
  readonly sectionName: string;
  readonly term: string;
  readonly gradedByEngine: string;
}

export interface RecordedSignOff {
  readonly id: string;
  readonly at: string;
  readonly facts: SignOffFacts;
}

/** Where somebody stands with a competency, and what it is held by; where it is not held, what counts towards it. */
export interface RecordedStanding {
  readonly competency: Competency;
  readonly standing: Standing;
  readonly runs: readonly RecordedRun[];
  readonly signOffs: readonly RecordedSignOff[];
}

/** One person with every competency asked about, in their order. */
export interface PersonRecord {
  readonly person: Person;
  readonly standings: readonly RecordedStanding[];
}

/** So many people are gathered at a time. */
const PEOPLE = 100;

/** The record of people as of an instant, by name, some at a time: memory stays small. The caller has made sure that they are theirs to see. */
export async function* personRecords(
  db: Kysely<Database>,
  competencies: readonly Competency[],
  asOf: string,
  studentIds: readonly number[],
): AsyncGenerator<PersonRecord[]> {
  const people = await listPeople(db, studentIds);
  for (let from = 0; from < people.length; from += PEOPLE) {
    const some = people.slice(from, from + PEOPLE);
    yield await recordsOf(db, competencies, asOf, some);
  }
}

async function recordsOf(
  db: Kysely<Database>,
  competencies: readonly Competency[],
  asOf: string,
  people: readonly Person[],
): Promise<PersonRecord[]> {
  const ids = people.map(({ studentId }) => studentId);
  const found = await standingsAsOf(db, competencies, asOf, ids);
  const all = people.map((person) => ({
    person,
    standings: competencies.map((competency) => {
      const standing = found.standing(person.studentId, competency.id);
      const { runs, signOffs } = standing.by ?? standing.progress ?? { runs: [], signOffs: [] };
      return { competency, standing, runs, signOffs };
    }),
  }));
  const used = all.flatMap(({ standings }) => standings);
  const runIds = used.flatMap(({ runs }) => runs.map(({ id }) => id));
  const summaries = new Map((await listGradedById(db, runIds)).map((run) => [run.id, run]));
  const facts = await listSignOffFacts(
    db,
    used.flatMap(({ signOffs }) => signOffs.map(({ id }) => id)),
  );
  const sum = (points: Readonly<Record<string, number>>) =>
    Math.round(Object.values(points).reduce((total, one) => total + one, 0) * 10) / 10;
  return all.map(({ person, standings }) => ({
    person,
    standings: standings.map(({ runs, signOffs, ...one }) => ({
      ...one,
      runs: runs.flatMap((run): RecordedRun[] => {
        const summary = summaries.get(run.id);
        if (summary === undefined) return [];
        const { itemTitle, sectionName, term, gradedByEngine } = summary;
        return [
          {
            ...{ id: run.id, at: run.at, points: sum(run.points), outOf: sum(run.outOf) },
            ...{ badPart: run.badPart, setUpFault: run.setUpFault },
            ...{ itemTitle, sectionName, term, gradedByEngine: gradedByEngine ?? '' },
          },
        ];
      }),
      signOffs: signOffs.flatMap(({ id, at }): RecordedSignOff[] => {
        const fact = facts.get(id);
        return fact === undefined ? [] : [{ id, at, facts: fact }];
      }),
    })),
  }));
}
