import type { Kysely } from 'kysely';
import type { Database } from '../database/tables.ts';
import { deskOf } from '../kinds/index.ts';
import { findAssignedOfKind } from '../labsheets/index.ts';
import type { Actor } from '../web/actor.ts';
import type { FrontMatter } from './schema.ts';

/** The exercise that comes after a lesson, as its page leads to it. */
export interface PractiseNext {
  readonly text: string;
  readonly href: string | null;
  readonly action: string;
}

/** Where a reader practises what a lesson taught: their own item of that kind, or whom to ask for one. */
export async function practiseNext(
  db: Kysely<Database>,
  actor: Actor,
  kind: FrontMatter['practise'],
): Promise<PractiseNext> {
  if (kind === 'drills')
    return actor.role === 'student'
      ? { text: 'Read dials until you no longer have to think.', href: '/drills', action: 'Go to the drills' }
      : { text: 'Students practise this in the drills.', href: null, action: '' };
  const { title } = deskOf(kind);
  if (actor.role !== 'student')
    return {
      text: `Exercise to assign: “${title}”, on a practice engine.`,
      href: null,
      action: '',
    };
  const item = await findAssignedOfKind(db, actor, kind);
  if (item === null)
    return {
      text: `“${title}” on a practice engine. None is assigned to you yet; ask your instructor for one.`,
      href: null,
      action: '',
    };
  return {
    text: `${item.title}: on your lab sheets.`,
    href: `/#item-${item.sectionId}-${item.id}`,
    action: 'Go to the exercise',
  };
}
