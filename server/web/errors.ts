import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import fp from 'fastify-plugin';

/** Every way a request can go wrong that a person is told about, and the status it is answered with. */
export const ERROR_STATUS = {
  'bad-request': 400,
  'not-signed-in': 401,
  forbidden: 403,
  'not-found': 404,
  conflict: 409,
  'too-large': 413,
  'too-many': 429,
  internal: 500,
} as const;

export type ErrorCode = keyof typeof ERROR_STATUS;

const TITLES: Record<ErrorCode, string> = {
  'bad-request': 'That could not be read',
  'not-signed-in': 'Sign in first',
  forbidden: 'Not for you',
  'not-found': 'Not found',
  conflict: 'That cannot be done now',
  'too-large': 'Too large',
  'too-many': 'Too many tries',
  internal: 'Something went wrong here',
};

/** An error a person may be told about: `message` is a sentence for the screen. */
export class AppError extends Error {
  readonly code: ErrorCode;

  constructor(code: ErrorCode, message: string) {
    super(message);
    this.code = code;
  }
}

/** Also for what exists but isn't yours: nobody learns that it exists. */
export class NotFound extends AppError {
  constructor(message = 'There is no such page, or it is not yours to see.') {
    super('not-found', message);
  }
}

export class Forbidden extends AppError {
  constructor(message = 'This page is for another role. Go back, or sign in as somebody else.') {
    super('forbidden', message);
  }
}

export class BadRequest extends AppError {
  constructor(message = 'What was sent could not be read. Go back, reload the page and try again.') {
    super('bad-request', message);
  }
}

export class Conflict extends AppError {
  constructor(message: string) {
    super('conflict', message);
  }
}

/** Does this client want JSON rather than a page? */
export function wantsJson(request: FastifyRequest): boolean {
  const accept = request.headers.accept ?? '';
  if (accept.includes('text/html')) return false;
  return (
    accept.includes('application/json') ||
    (request.headers['content-type'] ?? '').startsWith('application/json')
  );
}

/** Answers with one error, as a page or as `{ error: { code, message } }`. */
export async function sendError(
  request: FastifyRequest,
  reply: FastifyReply,
  code: ErrorCode,
  message: string,
) {
  reply.code(ERROR_STATUS[code]);
  if (wantsJson(request)) return reply.send({ error: { code, message } });
  return reply.page('errors/error', { title: TITLES[code], message });
}

/** The unknown is logged whole and shown as one calm sentence. */
export const errors = fp(async (app: FastifyInstance) => {
  app.setErrorHandler(async (error, request, reply) => {
    const { code, message } = readError(error);
    if (code === 'internal') request.log.error({ err: error }, 'a request failed');
    try {
      return await sendError(request, reply, code, message);
    } catch (second) {
      // The error page itself cannot be drawn: words alone still help.
      request.log.error({ err: second }, 'the error page failed');
      return reply.type('text/plain; charset=utf-8').send(message);
    }
  });
  app.setNotFoundHandler((request, reply) => sendError(request, reply, 'not-found', new NotFound().message));
});

function readError(error: unknown): { code: ErrorCode; message: string } {
  if (error instanceof AppError) return { code: error.code, message: error.message };
  const { statusCode = 500, code = '' } = (error ?? {}) as { statusCode?: number; code?: string };
  if (code.startsWith('FST_CSRF_')) {
    return {
      code: 'forbidden',
      message:
        'This page had been open too long, so nothing was saved. Go back, reload the page and send it again.',
    };
  }
  if (statusCode === 413) {
    return { code: 'too-large', message: 'What was sent is too large: 1 MB is the most. Nothing was saved.' };
  }
  if (statusCode >= 400 && statusCode < 500)
    return { code: 'bad-request', message: new BadRequest().message };
  return {
    code: 'internal',
    message:
      'The server met a fault. It has been written down. Try again; if it stays, tell whoever runs this server.',
  };
}
