import type { FastifyInstance } from 'fastify';
import { canBegin } from '../kinds/index.ts';
import { definitionOf, getAssignedItem } from '../labsheets/index.ts';
import { actorOf } from '../web/access.ts';
import { NotFound } from '../web/errors.ts';
import { readId } from '../web/forms.ts';
import { Demonstrations } from './demonstration.ts';

/** The page where an exercise of a lab sheet is seen done, before it is begun or after. */
export function demonstrationRoutes(app: FastifyInstance): void {
  const known = new Demonstrations();

  app.get<{ Params: { id: string } }>(
    '/items/:id/demonstration',
    { config: { access: 'student' } },
    async (request, reply) => {
      const { item, sectionId } = await getAssignedItem(
        app.store.db,
        actorOf(request),
        readId(request.params.id),
      );
      if (item.way === null || item.definition === null) throw new NotFound();
      const definition = definitionOf(item.definition, item.way);
      if (!canBegin(definition.kind)) throw new NotFound();
      return reply.page('demonstrations/demonstration', {
        title: `Seen done: ${item.title}`,
        scripts: ['demonstration.js'],
        item: { id: item.id, title: item.title, graded: item.way === 'graded-run', sectionId },
        shown: known.of(definition),
        // Nobody disagrees with a demonstration: the parts of a graded page ask.
        graded: { disagreements: {} },
      });
    },
  );
}
