import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { AppError } from './errors.ts';

/** Counts a try. Throws AppError, with when to come again, once there were too many. */
export async function limit(
  request: FastifyRequest,
  reply: FastifyReply,
  limiter: ReturnType<FastifyInstance['createRateLimit']>,
): Promise<void> {
  const state = await limiter(request);
  if (state.isAllowed || !state.isExceeded) return;
  reply.header('retry-after', state.ttlInSeconds);
  const minutes = Math.max(1, Math.ceil(state.ttlInSeconds / 60));
  throw new AppError('too-many', `There have been too many tries. Wait ${minutes} min, then try again.`);
}
