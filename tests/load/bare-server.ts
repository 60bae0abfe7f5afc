import fastify from 'fastify';

/** A Fastify server that does nothing but answer with the page it is sent: what a reply costs before anything is asked for. */
process.once('message', async (page: string) => {
  const app = fastify();
  app.get('/', async (_request, reply) => reply.type('text/html; charset=utf-8').send(page));
  process.send?.(await app.listen({ port: 0, host: '127.0.0.1' }));
});
