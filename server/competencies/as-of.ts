import type { FastifyRequest } from 'fastify';
import { dayWords } from '../web/words/index.ts';

/** As of when a page is asked for. */
export interface AsOf {
  /** The last instant that counts; ISO 8601 in UTC. */
  readonly at: string;
  /** The day as it was asked for; blank for now. */
  readonly day: string;
  /** `today` or `31 Dec 2026`. */
  readonly words: string;
}

/** `?asOf=2026-12-31` is the end of that day, in UTC; anything else, and any day from today on, is now. */
export function asOfAsked(request: FastifyRequest, now: Date): AsOf {
  const { asOf } = (request.query ?? {}) as { asOf?: unknown };
  const end = typeof asOf === 'string' ? endOfDay(asOf, now) : null;
  return end === null || typeof asOf !== 'string'
    ? { at: now.toISOString(), day: '', words: 'today' }
    : { at: end, day: asOf, words: dayWords(asOf) };
}

/** The last instant of a day like `2026-12-31`, in UTC; null for what is no day, and for a day that is not over. */
export function endOfDay(day: string, now: Date): string | null {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(day)) return null;
  const end = new Date(`${day}T23:59:59.999Z`);
  if (Number.isNaN(end.getTime()) || end >= now || !end.toISOString().startsWith(day)) return null;
  return end.toISOString();
}
