import { ruleWords, STATE_WORDS } from '../competencies/index.ts';
import type { ExportSource, Piece } from './forms.ts';
import { type PersonRecord, personRecords } from './record.ts';

/** The record as JSON, a person at a time. Names of fields are only ever added. */
export async function* jsonPieces(source: ExportSource): AsyncGenerator<Piece> {
  const { db, competencies, asOf, studentIds } = source;
  const head = {
    ...{
      format: 'dialbench-record',
      version: 1,
      asOf,
      exportedAt: source.exportedAt,
      exportId: source.exportId,
    },
    competencies: competencies.map((one) => ({
      ...{ uuid: one.uuid, code: one.code, title: one.title, statement: one.statement, course: one.course },
      version: one.version,
      rules: one.rules
        .filter(({ from }) => from <= asOf)
        .map(({ version, from, rule }) => ({ version, inForceFrom: from, words: ruleWords(rule), rule })),
    })),
  };
  yield { text: `${JSON.stringify(head).slice(0, -1)},"people":[`, rows: 0 };
  let isFirst = true;
  for await (const people of personRecords(db, competencies, asOf, studentIds)) {
    const text = people.map((one) => JSON.stringify(personJson(one))).join(',\n');
    yield { text: `${isFirst ? '\n' : ',\n'}${text}`, rows: people.length };
    isFirst = false;
  }
  yield { text: '\n]}\n', rows: 0 };
}

function personJson({ person, standings }: PersonRecord) {
  return {
    ...{ studentNumber: person.studentNumber, familyName: person.familyName, givenName: person.givenName },
    standings: standings.map(({ competency, standing, runs, signOffs }) => ({
      ...{ competency: competency.uuid, code: competency.code, state: standing.state },
      words: STATE_WORDS[standing.state],
      ...{ since: standing.since, until: standing.until, ruleVersion: standing.ruleVersion },
      missing: standing.progress?.missing ?? [],
      evidence: [
        ...runs.map((run) => ({
          ...{ kind: 'practice engine', id: run.id, at: run.at, item: run.itemTitle },
          ...{ section: run.sectionName, term: run.term, points: run.points, outOf: run.outOf },
          ...{ partOutsideLimits: run.badPart, faultInSetUp: run.setUpFault, gradedBy: run.gradedByEngine },
        })),
        ...signOffs.map(({ id, at, facts }) => ({
          ...{ kind: 'shop engine', id, at, item: facts.item, section: facts.section, term: facts.term },
          ...{ assessor: facts.assessor, assessorStanding: facts.assessorStanding },
          countersignedBy: facts.countersignedBy || null,
          gauge: facts.gauge && { number: facts.gauge.number, checkDue: facts.gauge.dueOn },
          wrench: facts.wrench && { number: facts.wrench.number, checkDue: facts.wrench.dueOn },
        })),
      ],
    })),
  };
}
