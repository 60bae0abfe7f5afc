import type { Kysely } from 'kysely';
import type { Database } from '../database/tables.ts';
import { type QueueRow, queueOf } from './queue.ts';
import { listGradedInSection } from './summaries.ts';

/** What of a section wants a person, settled or not. The caller has made sure that the section is theirs. */
export async function listQueue(db: Kysely<Database>, sectionId: number): Promise<readonly QueueRow[]> {
  return queueOf(await listGradedInSection(db, sectionId));
}

/** How much of it waits. */
export async function countWaiting(db: Kysely<Database>, sectionId: number): Promise<number> {
  return (await listQueue(db, sectionId)).filter(({ settled }) => !settled).length;
}
