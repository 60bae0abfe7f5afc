import type { FastifyInstance } from 'fastify';
import { addressOf, getProgram } from '../program/index.ts';
import { NotFound } from '../web/errors.ts';
import { issuerProfile } from './issuer.ts';

const PUBLIC = { config: { access: 'public' } } as const;

/** What whoever holds a credential needs to check it: who signed, with which keys. Nothing of any person is here. */
export function credentialsRoutes(app: FastifyInstance): void {
  const { store, signingKeys } = app;

  app.get('/issuer', PUBLIC, async (request, reply) => {
    const program = await getProgram(store.db);
    return reply.header('cache-control', 'public, max-age=300').send({
      '@context': [
        'https://www.w3.org/ns/credentials/v2',
        'https://purl.imsglobal.org/spec/ob/v3p0/context-3.0.3.json',
      ],
      ...issuerProfile(program, addressOf(program, request)),
    });
  });

  app.get('/keys', PUBLIC, async (_request, reply) => {
    const keys = await signingKeys.list();
    return reply
      .type('application/jwk-set+json')
      .header('cache-control', 'public, max-age=300')
      .send(JSON.stringify({ keys: keys.map(({ id, publicJwk }) => ({ ...publicJwk, kid: id })) }));
  });

  app.get<{ Params: { keyId: string } }>('/keys/:keyId', PUBLIC, async (request, reply) => {
    const key = (await signingKeys.list()).find(({ id }) => id === request.params.keyId);
    if (key === undefined) throw new NotFound();
    return reply
      .type('application/jwk+json')
      .header('cache-control', 'public, max-age=300')
      .send(JSON.stringify({ ...key.publicJwk, kid: key.id }));
  });

  app.post('/program/keys', { config: { access: 'coordinator' } }, async (_request, reply) => {
    await signingKeys.rotate();
    return reply.redirect('/program?said=key-rotated', 303);
  });
}
