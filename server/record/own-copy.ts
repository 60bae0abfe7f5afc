import type { Kysely } from 'kysely';
import { listOwnStandings } from '../competencies/index.ts';
import type { Database } from '../database/tables.ts';
import { listPastExports } from '../disclosures/index.ts';
import { listTranscripts } from '../transcripts/index.ts';
import type { Actor } from '../web/actor.ts';

/**
 * Everything that is kept about the person who asks, to take along. Left out is what is nobody's record: what a practice engine hides before it is graded, the
 * reference readings of shop engines, and what passwords and PINs are checked with.
 */
export async function ownCopy(db: Kysely<Database>, actor: Actor, now: Date) {
  const { id } = actor;
  const person = await db
    .selectFrom('people')
    .where('id', '=', id)
    .select(['given_name', 'family_name', 'student_number', 'sign_in_name', 'email', 'uuid', 'created_at'])
    .executeTakeFirstOrThrow();
  const standings = await listOwnStandings(db, actor, now);
  return {
    ...{ format: 'dialbench-own-copy', version: 1, at: now.toISOString(), person },
    sections: await db
      .selectFrom('section_students as seat')
      .innerJoin('sections as section', 'section.id', 'seat.section_id')
      .where('seat.person_id', '=', id)
      .select(['section.name', 'section.term', 'seat.added_at'])
      .execute(),
    competencies: standings.map(({ competency, standing }) => ({
      ...{ code: competency.code, title: competency.title, state: standing.state },
      ...{ since: standing.since, until: standing.until, ruleVersion: standing.ruleVersion },
    })),
    attempts: await attemptsOf(db, id),
    signOffs: await signOffsOf(db, id),
    coordinatorsWords: await db
      .selectFrom('competency_words as word')
      .innerJoin('competencies as one', 'one.id', 'word.competency_id')
      .where('word.student_id', '=', id)
      .select(['one.code', 'word.word', 'word.reason', 'word.at'])
      .execute(),
    drills: await db
      .selectFrom('drill_answers as answer')
      .innerJoin('drill_rounds as round', 'round.id', 'answer.round_id')
      .where('round.student_id', '=', id)
      .select(['answer.round_id', 'answer.number', 'answer.typed', 'answer.grade', 'answer.at'])
      .orderBy('answer.at')
      .execute(),
    lessonAnswers: await db.selectFrom('lesson_answers').where('person_id', '=', id).selectAll().execute(),
    transcripts: await listTranscripts(db, id),
    leftTheHouse: (await listPastExports(db, { studentId: id, most: 10_000 })).map(
      ({ who, what, recipient, purpose, at }) => ({ who, what, recipient, purpose, at }),
    ),
    lookedAt: await db
      .selectFrom('record_looks as look')
      .innerJoin('people as who', 'who.id', 'look.looked_by')
      .where('look.student_id', '=', id)
      .select(['who.given_name', 'who.family_name', 'look.what', 'look.at'])
      .orderBy('look.id')
      .execute(),
  };
}

async function attemptsOf(db: Kysely<Database>, studentId: number) {
  const attempts = await db
    .selectFrom('attempts as one')
    .innerJoin('lab_sheet_items as item', 'item.id', 'one.item_id')
    .leftJoin('hand_ins as hand_in', 'hand_in.attempt_id', 'one.id')
    .where('one.student_id', '=', studentId)
    .select(['one.id', 'item.title', 'one.way', 'one.try_number', 'one.started_at'])
    .select(['hand_in.at as handed_in_at', 'hand_in.typed'])
    .orderBy('one.started_at')
    .execute();
  const ids = attempts.map(({ id }) => id);
  if (ids.length === 0) return [];
  const all = {
    actions: await db
      .selectFrom('attempt_actions')
      .where('attempt_id', 'in', ids)
      .selectAll()
      .orderBy('seq')
      .execute(),
    grades: await db.selectFrom('grades').where('attempt_id', 'in', ids).selectAll().orderBy('id').execute(),
    changes: await db
      .selectFrom('grade_changes')
      .where('attempt_id', 'in', ids)
      .selectAll()
      .orderBy('id')
      .execute(),
    comments: await db
      .selectFrom('attempt_comments')
      .where('attempt_id', 'in', ids)
      .selectAll()
      .orderBy('id')
      .execute(),
    disagreements: await db
      .selectFrom('disagreements')
      .where('attempt_id', 'in', ids)
      .selectAll()
      .orderBy('id')
      .execute(),
  };
  return attempts.map(({ typed, ...one }) => {
    const own = <Row extends { readonly attempt_id: string }>(rows: readonly Row[]) =>
      rows.filter(({ attempt_id }) => attempt_id === one.id);
    return {
      ...one,
      typed: typed === null ? null : (JSON.parse(typed) as unknown),
      actions: own(all.actions).map(({ seq, action, at }) => ({ seq, action: JSON.parse(action), at })),
      grades: own(all.grades).map(({ grade, engine_version, at }) => ({
        ...{ at, engineVersion: engine_version, grade: JSON.parse(grade) },
      })),
      changes: own(all.changes).map(({ set_up, procedure, reading, verdict, reason, at }) => ({
        ...{ at, reason, points: { setUp: set_up, procedure, reading, verdict } },
      })),
      comments: own(all.comments).map(({ words, at }) => ({ at, words })),
      disagreements: own(all.disagreements),
    };
  });
}

async function signOffsOf(db: Kysely<Database>, studentId: number) {
  const rows = await db
    .selectFrom('sign_offs as one')
    .innerJoin('lab_sheet_items as item', 'item.id', 'one.item_id')
    .where('one.student_id', '=', studentId)
    .select(['one.id', 'item.title', 'one.position', 'one.started_at', 'one.gauges', 'one.paper'])
    .orderBy('one.started_at')
    .execute();
  const ids = rows.map(({ id }) => id);
  if (ids.length === 0) return [];
  const ticks = await db.selectFrom('sign_off_ticks').where('sign_off_id', 'in', ids).selectAll().execute();
  const readings = await db
    .selectFrom('sign_off_readings')
    .where('sign_off_id', 'in', ids)
    .selectAll()
    .execute();
  const signatures = await db
    .selectFrom('sign_off_signatures as one')
    .innerJoin('people as who', 'who.id', 'one.person_id')
    .where('one.sign_off_id', 'in', ids)
    .select(['one.sign_off_id', 'one.role', 'one.made_at', 'who.given_name', 'who.family_name'])
    .execute();
  return rows.map((one) => {
    const own = <Row extends { readonly sign_off_id: string }>(all: readonly Row[]) =>
      all.filter(({ sign_off_id }) => sign_off_id === one.id);
    return {
      ...{ id: one.id, title: one.title, position: one.position, startedAt: one.started_at },
      gauges: JSON.parse(one.gauges) as unknown,
      ticks: own(ticks).map(({ step, state, note, made_at }) => ({ step, state, note, at: made_at })),
      readings: own(readings).map(({ typed, made_at }) => ({ typed: JSON.parse(typed), at: made_at })),
      signatures: own(signatures).map(({ sign_off_id: _, ...signature }) => signature),
    };
  });
}
