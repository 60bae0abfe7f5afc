import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Kysely } from 'kysely';
import type { Database } from '../database/tables.ts';
import { getTaughtSection } from '../sections/index.ts';
import { actorOf } from '../web/access.ts';
import { type Problems, readId, type Values } from '../web/forms.ts';
import { type GradedAttempt, loadGradedAttempt } from './graded-attempt.ts';
import { requireAttemptIn } from './queries.ts';
import { placeInQueue, type QueueRow } from './queue.ts';
import { listQueue } from './queue-queries.ts';
import { currentValues, type ReviewPage, type TalkForm } from './schema.ts';

export type AttemptRequest = FastifyRequest<{ Params: { sectionId: string; attemptId: string } }>;

export interface AttemptAsked {
  readonly section: ReviewPage['section'];
  readonly graded: GradedAttempt;
  /** What of its section wants a person. */
  readonly queue: readonly QueueRow[];
}

/** The attempt in the address. Throws NotFound unless it was made in that section and the caller teaches it. */
export async function attemptAsked(db: Kysely<Database>, request: AttemptRequest): Promise<AttemptAsked> {
  const section = await getTaughtSection(db, actorOf(request), readId(request.params.sectionId));
  await requireAttemptIn(db, section.id, request.params.attemptId);
  const graded = await loadGradedAttempt(db, request.params.attemptId);
  return { section, graded, queue: await listQueue(db, section.id) };
}

/** The page of a graded attempt as its instructor has it, with what was typed into one of its forms and could not be taken. */
export function reviewPage(
  reply: FastifyReply,
  { section, graded, queue }: AttemptAsked,
  failed: {
    readonly values?: Values;
    readonly problems?: Problems;
    readonly answer?: TalkForm;
  } = {},
): FastifyReply {
  const view: ReviewPage = {
    title: `${graded.student.name}: ${graded.itemTitle}`,
    wide: true,
    scripts: ['review.js'],
    section,
    graded,
    values: { ...currentValues(graded), ...failed.values },
    problems: failed.problems ?? {},
    place: placeInQueue(queue, graded.id),
    open: Object.values(graded.disagreements)
      .flat()
      .filter(({ answers }) => answers.length === 0),
    answer: failed.answer ?? null,
  };
  return reply.page('review/attempt', view);
}
