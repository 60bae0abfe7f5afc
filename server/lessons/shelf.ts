import type { Kysely } from 'kysely';
import type { Database } from '../database/tables.ts';
import type { Actor } from '../web/actor.ts';
import { NotFound } from '../web/errors.ts';
import type { Course, Lesson } from './load.ts';
import { listMetOwnLessons, type OwnLesson } from './own-queries.ts';
import { renderOwn } from './own-render.ts';
import { dayOf, type Planned, planned, together } from './plan.ts';
import { listOwnPlans } from './reading.ts';

/** A lesson on somebody's list. */
export interface Shelved {
  readonly lesson: Lesson;
  readonly open: boolean;
  /** The day it opens, where it is not open yet. */
  readonly releaseOn: string | null;
}

/** Instructors' lessons rendered and kept; the longest unused forgotten first. */
const KEPT = 60;

/** Every lesson there is, and who sees which: the course as it ships, and what instructors have written and put before their sections. */
export class Shelf {
  readonly course: Course;
  readonly #shipped: ReadonlyMap<string, Lesson>;
  readonly #rendered = new Map<number, Lesson>();

  constructor(course: Course) {
    this.course = course;
    this.#shipped = new Map(course.lessons.map((lesson) => [lesson.slug, lesson]));
  }

  shipped(key: string): Lesson | undefined {
    return this.#shipped.get(key);
  }

  /** An instructor's lesson as it is shown. Versions are never changed, so one rendered is good for ever. */
  own(lesson: OwnLesson): Lesson {
    const found =
      this.#rendered.get(lesson.versionId) ?? renderOwn(lesson, this.course, this.#baseOf(lesson));
    this.#rendered.delete(lesson.versionId);
    this.#rendered.set(lesson.versionId, found);
    const [oldest] = this.#rendered.keys();
    if (this.#rendered.size > KEPT && oldest !== undefined) this.#rendered.delete(oldest);
    return found;
  }

  #baseOf({ basedOn }: OwnLesson): Lesson | undefined {
    return basedOn === null ? undefined : this.#shipped.get(basedOn);
  }

  /** What the actor's list holds, in order: a student's by the plans of their sections, everybody else's whole. */
  async listFor(db: Kysely<Database>, actor: Actor, now: Date): Promise<readonly Shelved[]> {
    const own = (await listMetOwnLessons(db, actor)).map((lesson) => this.own(lesson));
    const there = new Map([...this.#shipped, ...own.map((lesson) => [lesson.slug, lesson] as const)]);
    if (actor.role !== 'student')
      return [...there.values()].map((lesson) => ({ lesson, open: true, releaseOn: null }));
    return this.#plannedFor([...there.keys()], await listOwnPlans(db, actor), now).flatMap(
      ({ key, open, releaseOn }) => {
        const lesson = there.get(key);
        return lesson === undefined ? [] : [{ lesson, open, releaseOn: open ? null : releaseOn }];
      },
    );
  }

  /** One lesson, if the actor may read it today. Throws NotFound. */
  async get(db: Kysely<Database>, actor: Actor, key: string, now: Date): Promise<Lesson> {
    const lesson = this.#shipped.get(key) ?? (await this.#metOwn(db, actor, key));
    if (lesson === undefined) throw new NotFound();
    if (actor.role !== 'student') return lesson;
    const [plan] = this.#plannedFor([key], await listOwnPlans(db, actor), now);
    if (!plan?.open) throw new NotFound();
    return lesson;
  }

  async #metOwn(db: Kysely<Database>, actor: Actor, key: string): Promise<Lesson | undefined> {
    const id = /^own-([1-9]\d{0,14})$/.exec(key)?.[1];
    if (id === undefined) return undefined;
    const [lesson] = await listMetOwnLessons(db, actor, Number(id));
    return lesson === undefined ? undefined : this.own(lesson);
  }

  /** A student in no section has the course as it ships. */
  #plannedFor(
    keys: readonly string[],
    plans: Awaited<ReturnType<typeof listOwnPlans>>,
    now: Date,
  ): readonly Planned[] {
    if (plans.length === 0) return planned(keys, [], '');
    return together(plans.map(({ rows, timeZone }) => planned(keys, rows, dayOf(now, timeZone))));
  }
}
