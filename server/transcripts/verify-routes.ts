import type { FastifyInstance } from 'fastify';
import type { Values } from '../web/forms.ts';
import { limit } from '../web/limit.ts';
import { codeWords, readCode } from '../web/short-code.ts';
import { CODE_LETTERS, findTranscript } from './queries.ts';
import { shownTranscript } from './shown.ts';

/** A room of people behind one address may look up their papers; whoever guesses would need longer than there is. */
const LOOKS = { max: 60, timeWindow: '10 minutes' };

/** Whether a transcript is genuine, for anybody who holds its code. They see what the transcript says and nothing more. */
export function verifyRoutes(app: FastifyInstance): void {
  const { store } = app;
  const looks = app.createRateLimit(LOOKS);

  app.get('/verify', { config: { access: 'public' } }, async (request, reply) => {
    const { code: typed } = (request.query ?? {}) as Values;
    if (typeof typed !== 'string' || typed.trim() === '')
      return reply.page('transcripts/verify', {
        title: 'Is a transcript genuine?',
        values: {},
        problems: {},
      });
    await limit(request, reply, looks);
    const code = readCode(typed.slice(0, 60), CODE_LETTERS);
    const transcript = code === null ? null : await findTranscript(store.db, code);
    if (transcript === null) {
      const problems = {
        code:
          code === null
            ? 'This is no code. It has twelve letters and figures, the last of them a check: look for one that is mistyped.'
            : 'No transcript has this code. If it is on a paper, the paper did not come from here.',
      };
      return reply
        .code(code === null ? 422 : 404)
        .page('transcripts/verify', { title: 'Is a transcript genuine?', values: { code: typed }, problems });
    }
    return reply.page('transcripts/genuine', {
      title: 'A genuine transcript',
      codeShown: codeWords(transcript.code),
      shown: shownTranscript(transcript),
    });
  });
}
