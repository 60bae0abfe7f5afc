import type { Socket } from 'node:net';
import type { FastifyInstance } from 'fastify';
import fp from 'fastify-plugin';

/** How long a request that has begun may still take when the server is told to stop. */
export const FAREWELL_MS = 5_000;

/**
 * Ends the connections that would keep the server from stopping. Requests that have begun are
 * answered, within `FAREWELL_MS`; a connection on which nothing was ever asked is ended at once.
 * Browsers open such connections ahead of need, and Node takes them for busy ones for a minute.
 */
export const closing = fp(async (app: FastifyInstance, options: { farewellMs?: number }) => {
  const open = new Set<Socket>();
  app.server.on('connection', (socket: Socket) => {
    open.add(socket);
    socket.once('close', () => open.delete(socket));
  });
  let limit: NodeJS.Timeout | undefined;
  // Answered after the server began to stop, a connection would wait for a request that may not come.
  app.addHook('onResponse', async (request) => {
    if (limit) request.raw.socket.end();
  });
  app.addHook('preClose', async () => {
    for (const socket of open) if (socket.bytesRead === 0) socket.destroy();
    limit = setTimeout(() => {
      for (const socket of open) socket.destroy();
    }, options.farewellMs ?? FAREWELL_MS);
  });
  app.addHook('onClose', async () => clearTimeout(limit));
});
