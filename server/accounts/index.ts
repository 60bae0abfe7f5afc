import type { FastifyInstance } from 'fastify';
import { warmUp } from './passwords.ts';
import { pinRoutes } from './pin-routes.ts';
import { accountsRoutes } from './routes.ts';

export { displayName, listName } from './names.ts';
export { generatePassword, hashPassword } from './passwords.ts';
export { checkPin, hasPin, PIN_LOCK_MINUTES, type PinAnswer, setPin } from './pins.ts';
export { findActor, listDemoPeople, setPassword } from './queries.ts';

/** Who may sign in, and their passwords. */
export async function accounts(app: FastifyInstance): Promise<void> {
  await warmUp();
  accountsRoutes(app);
  pinRoutes(app);
}
