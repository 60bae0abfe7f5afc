import type { FastifyInstance } from 'fastify';
import { credentialsRoutes } from './routes.ts';

export { type IssuerProfile, issuerProfile, keyAddress } from './issuer.ts';
export { type SigningKey, type SigningKeys, signingKeys } from './keys.ts';

/** The keys that sign credentials, and what is published so that others can check them. */
export async function credentials(app: FastifyInstance): Promise<void> {
  credentialsRoutes(app);
}
