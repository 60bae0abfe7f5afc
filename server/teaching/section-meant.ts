import type { FastifyRequest } from 'fastify';

/** The section whose page led here, from `?section=`; null for none. Whether it is the caller's is for the caller to see. */
export function sectionMeant(request: Pick<FastifyRequest, 'query'>): number | null {
  const { section } = (request.query ?? {}) as { section?: unknown };
  return typeof section === 'string' && /^[1-9]\d{0,14}$/.test(section) ? Number(section) : null;
}
