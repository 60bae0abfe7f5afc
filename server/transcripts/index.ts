import type { FastifyInstance } from 'fastify';
import { transcriptsRoutes } from './routes.ts';
import { verifyRoutes } from './verify-routes.ts';

export { type TranscriptContent, transcriptContent } from './content.ts';
export { listTranscripts, type TranscriptGiven } from './queries.ts';
export { shownTranscript } from './shown.ts';

/** Transcripts of one student, as they were given out, and whether one is genuine. */
export async function transcripts(app: FastifyInstance): Promise<void> {
  transcriptsRoutes(app);
  verifyRoutes(app);
}
