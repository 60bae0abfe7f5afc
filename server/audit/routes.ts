import type { FastifyInstance } from 'fastify';
import type { Values } from '../web/forms.ts';
import { timeWords } from '../web/words/index.ts';
import { EVENTS_ON_A_PAGE, searchAudit } from './queries.ts';
import type { AuditKind } from './tables.ts';

const KIND_WORDS: Readonly<Record<AuditKind, string>> = {
  export: 'left the house',
  points: 'points changed',
  tries: 'tries and time given',
  word: "coordinator's word",
  rule: 'rule or wording',
  signature: 'signature',
  roster: 'roster',
  gauge: 'gauge check',
  assessor: 'assessor entered',
  change: 'changed after results',
  look: 'record looked at',
};

/** Who did what to the record, when and why. */
export function auditRoutes(app: FastifyInstance): void {
  app.get('/audit', { config: { access: 'coordinator' } }, async (request, reply) => {
    const query = (request.query ?? {}) as Values;
    const text = (name: string) => (typeof query[name] === 'string' ? query[name].trim().slice(0, 100) : '');
    const day = (name: string) => (/^\d{4}-\d{2}-\d{2}$/.test(text(name)) ? text(name) : '');
    const kind = Object.hasOwn(KIND_WORDS, text('kind')) ? (text('kind') as AuditKind) : null;
    const page = Math.min(1000, Math.max(1, Math.trunc(Number(text('page'))) || 1));
    const asked = { words: text('q'), kind, from: day('from'), to: day('to'), page };
    const events = await searchAudit(app.store.db, asked);
    return reply.page('audit/audit', {
      title: 'Audit log',
      wide: true,
      ...{ asked, page, more: events.length > EVENTS_ON_A_PAGE },
      kinds: Object.entries(KIND_WORDS).map(([value, words]) => ({ value, text: words })),
      events: events.slice(0, EVENTS_ON_A_PAGE).map((one) => ({
        ...one,
        ...{ when: timeWords(one.at), kindWords: KIND_WORDS[one.kind] },
      })),
    });
  });
}
