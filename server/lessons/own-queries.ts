import type { Kysely, Transaction } from 'kysely';
import type { Database } from '../database/tables.ts';
import type { Actor } from '../web/actor.ts';
import { NotFound } from '../web/errors.ts';

/** What an instructor writes of a lesson. */
export interface OwnText {
  readonly title: string;
  readonly minutes: number;
  /** One a line. */
  readonly aims: string;
  readonly body: string;
  readonly sources: string;
  readonly cautions: boolean;
}

/** A lesson of an instructor's own, in its last version. */
export interface OwnLesson extends OwnText {
  readonly id: number;
  readonly madeBy: number;
  readonly basedOn: string | null;
  readonly versionId: number;
  readonly at: string;
}

function lastVersions(db: Kysely<Database>) {
  return db
    .selectFrom('own_lessons as lesson')
    .innerJoin('own_lesson_versions as version', (join) =>
      join.on('version.id', '=', (eb) =>
        eb
          .selectFrom('own_lesson_versions as v')
          .whereRef('v.own_lesson_id', '=', 'lesson.id')
          .select((max) => max.fn.max('v.id').as('id')),
      ),
    )
    .select([
      'lesson.id',
      'lesson.made_by',
      'lesson.based_on',
      'version.id as versionId',
      'version.title',
      'version.minutes',
      'version.aims',
      'version.body',
      'version.sources',
      'version.cautions',
      'version.at',
    ]);
}

type Row = Awaited<ReturnType<ReturnType<typeof lastVersions>['execute']>>[number];

function toOwnLesson({ made_by, based_on, cautions, ...row }: Row): OwnLesson {
  return { ...row, madeBy: made_by, basedOn: based_on, cautions: cautions === 1 };
}

/** One of the actor's own lessons. Throws NotFound, also for somebody else's. */
export async function getOwnLesson(db: Kysely<Database>, actor: Actor, id: number): Promise<OwnLesson> {
  const row = await lastVersions(db)
    .where('lesson.id', '=', id)
    .where('lesson.made_by', '=', actor.id)
    .executeTakeFirst();
  if (!row) throw new NotFound();
  return toOwnLesson(row);
}

/** Every lesson the actor has written, the newest first. */
export async function listOwnLessons(db: Kysely<Database>, actor: Actor): Promise<readonly OwnLesson[]> {
  const rows = await lastVersions(db)
    .where('lesson.made_by', '=', actor.id)
    .orderBy('lesson.id', 'desc')
    .execute();
  return rows.map(toOwnLesson);
}

/**
 * Instructors' lessons that the actor meets: those they wrote, those in the plan of a section they teach or are in. What a plan
 * holds back is for whoever asks to sort out.
 */
export async function listMetOwnLessons(
  db: Kysely<Database>,
  actor: Actor,
  id?: number,
): Promise<readonly OwnLesson[]> {
  let query = lastVersions(db).where((eb) =>
    eb.or([
      eb('lesson.made_by', '=', actor.id),
      eb.exists(
        eb
          .selectFrom('section_lessons as line')
          .where((own) =>
            own(own.ref('line.lesson_key'), '=', own.fn<string>('printf', [own.val('own-%d'), 'lesson.id'])),
          )
          .where((own) =>
            own.or([
              own.exists(
                own
                  .selectFrom('section_instructors as teaches')
                  .whereRef('teaches.section_id', '=', 'line.section_id')
                  .where('teaches.person_id', '=', actor.id)
                  .select('teaches.person_id'),
              ),
              own.exists(
                own
                  .selectFrom('section_students as seat')
                  .whereRef('seat.section_id', '=', 'line.section_id')
                  .where('seat.person_id', '=', actor.id)
                  .select('seat.person_id'),
              ),
            ]),
          )
          .select('line.section_id'),
      ),
    ]),
  );
  if (id !== undefined) query = query.where('lesson.id', '=', id);
  return (await query.orderBy('lesson.id').execute()).map(toOwnLesson);
}

/** Begins a lesson of the actor's own with its first version; gives its number. */
export async function addOwnLesson(
  trx: Transaction<Database>,
  actor: Actor,
  basedOn: string | null,
  text: OwnText,
  at: string,
): Promise<number> {
  const { id } = await trx
    .insertInto('own_lessons')
    .values({ made_by: actor.id, based_on: basedOn, at })
    .returning('id')
    .executeTakeFirstOrThrow();
  await addVersion(trx, actor, id, text, at);
  return id;
}

/** Adds a version of one of the actor's own lessons. Throws NotFound for anybody else's. */
export async function addVersion(
  trx: Transaction<Database>,
  actor: Actor,
  id: number,
  { cautions, ...text }: OwnText,
  at: string,
): Promise<void> {
  const own = await trx
    .selectFrom('own_lessons')
    .where('id', '=', id)
    .where('made_by', '=', actor.id)
    .select('id')
    .executeTakeFirst();
  if (!own) throw new NotFound();
  await trx
    .insertInto('own_lesson_versions')
    .values({ own_lesson_id: id, ...text, cautions: cautions ? 1 : 0, at })
    .execute();
}

/** A picture of an own lesson, for whoever may meet that lesson. Throws NotFound. */
export async function getImage(db: Kysely<Database>, actor: Actor, imageId: string) {
  const image = await db
    .selectFrom('lesson_images')
    .where('id', '=', imageId)
    .select(['own_lesson_id', 'type', 'bytes'])
    .executeTakeFirst();
  if (!image || (await listMetOwnLessons(db, actor, image.own_lesson_id)).length === 0) throw new NotFound();
  return image;
}

/** The pictures of an own lesson, oldest first. The caller has made sure that the lesson is the actor's. */
export function listImages(db: Kysely<Database>, ownLessonId: number) {
  return db
    .selectFrom('lesson_images')
    .where('own_lesson_id', '=', ownLessonId)
    .select(['id', 'name'])
    .orderBy('at')
    .orderBy('id')
    .execute();
}
