import type { FastifyInstance, FastifyReply } from 'fastify';
import { z } from 'zod';
import { actorOf } from '../web/access.ts';
import { type Problems, readForm } from '../web/forms.ts';
import { passwordMatches } from './passwords.ts';
import { hasPin, isPinLocked, notePinMiss, PIN_LOCK_MINUTES, PIN_SHAPE, setPin } from './pins.ts';
import { findCredentials } from './queries.ts';

const SIGNED_IN = { config: { access: ['student', 'instructor'], substitutes: true } } as const;

const pinForm = z.object({
  password: z.string().min(1, 'Write your password.').max(200),
  pin: z.string().trim().regex(PIN_SHAPE, 'Write 4 to 8 figures.'),
});

/** Where somebody sets the PIN they sign with. */
export function pinRoutes(app: FastifyInstance): void {
  const { store } = app;
  const now = () => app.clock().toISOString();

  app.get('/pin', SIGNED_IN, async (request, reply) =>
    pinPage(reply, await hasPin(store, actorOf(request).id), {}),
  );

  app.post('/pin', SIGNED_IN, async (request, reply) => {
    const actor = actorOf(request);
    const has = await hasPin(store, actor.id);
    const form = readForm(pinForm, request.body, ['password', 'pin']);
    if (!form.ok) return pinPage(reply.code(422), has, form.problems);
    if (await isPinLocked(store, actor.id, now()))
      return pinPage(reply.code(422), has, {
        password: `Too many tries. Wait ${PIN_LOCK_MINUTES} min, then try again.`,
      });
    const credentials = await findCredentials(store.db, actor.signInName);
    if (!(await passwordMatches(form.value.password, credentials?.password_hash))) {
      await notePinMiss(store, actor.id, now());
      return pinPage(reply.code(422), has, { password: 'This is not your password. Type it again.' });
    }
    await setPin(store, actor.id, form.value.pin, now());
    return reply.redirect('/pin?said=pin-set', 303);
  });
}

function pinPage(reply: FastifyReply, has: boolean, problems: Problems): FastifyReply {
  return reply.page('accounts/pin', { title: 'Signing PIN', has, problems });
}
