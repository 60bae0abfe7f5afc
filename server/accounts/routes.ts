import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { writeTransaction } from '../database/transaction.ts';
import { actorOf, localPath } from '../web/access.ts';
import { type Problems, readForm, type Values } from '../web/forms.ts';
import { limit } from '../web/limit.ts';
import { startSession } from '../web/session.ts';
import { hashOfSessionId } from '../web/session-store.ts';
import { hashPassword, PASSWORD_SHORTEST, passwordMatches } from './passwords.ts';
import { findCredentials, setPassword } from './queries.ts';
import { type PasswordView, passwordForm, type SignInView, signInForm } from './schema.ts';

const TEN_MINUTES = 600_000;
/** A class signs in together through one address; one person does not need ten tries. */
const TRIES_PER_ADDRESS = 100;
const TRIES_PER_NAME = 10;

export function accountsRoutes(app: FastifyInstance): void {
  const perAddress = app.createRateLimit({ max: TRIES_PER_ADDRESS, timeWindow: TEN_MINUTES });
  const perName = app.createRateLimit({
    max: TRIES_PER_NAME,
    timeWindow: TEN_MINUTES,
    keyGenerator: (request) => nameTried(request),
  });

  app.get('/sign-in', { config: { access: 'public' } }, async (request, reply) => {
    const next = localPath((request.query as { next?: unknown }).next);
    if (request.actor) return reply.redirect(next, 303);
    return signInPage(reply, { next, values: {}, problems: {} });
  });

  app.post('/sign-in', { config: { access: 'public' } }, async (request, reply) => {
    await limit(request, reply, perAddress);
    const form = readForm(signInForm, request.body, ['password']);
    const next = localPath(form.values.next);
    if (!form.ok) return signInPage(reply.code(422), { next, values: form.values, problems: form.problems });
    await limit(request, reply, perName);

    const person = await findCredentials(app.store.db, form.value.signInName);
    const matches = await passwordMatches(form.value.password, person?.password_hash);
    const isOver = Boolean(person?.substitute_until && person.substitute_until <= app.clock().toISOString());
    if (!matches || !person || isOver) {
      const problems = {
        password: 'The sign-in name or the password is not right. Check both and type the password again.',
      };
      return signInPage(reply.code(422), { next, values: form.values, problems });
    }
    await startSession(request, reply, person.id);
    return reply.redirect(next, 303);
  });

  app.post('/sign-out', { config: { access: 'public' } }, async (request, reply) => {
    await request.session.destroy();
    return reply.clearCookie('dialbench', { path: '/' }).redirect('/sign-in?said=signed-out', 303);
  });

  app.get(
    '/password',
    { config: { access: 'signed-in', beforePasswordChange: true } },
    async (request, reply) => passwordPage(request, reply, {}),
  );

  app.post(
    '/password',
    { config: { access: 'signed-in', beforePasswordChange: true } },
    async (request, reply) => {
      await limit(request, reply, perName);
      const actor = actorOf(request);
      const form = readForm(passwordForm, request.body, ['current', 'password', 'again']);
      if (!form.ok) return passwordPage(request, reply.code(422), form.problems);

      const { current, password } = form.value;
      const credentials = await findCredentials(app.store.db, actor.signInName);
      const problems: Problems = {};
      if (!(await passwordMatches(current, credentials?.password_hash))) {
        problems.current = 'This is not the password you have now. Type it again.';
      }
      if (password.toLowerCase() === actor.signInName.toLowerCase()) {
        problems.password = 'The password must not be your sign-in name. Choose another.';
      } else if (password === current) {
        problems.password = 'This is the password you have now. Choose another.';
      }
      if (Object.keys(problems).length > 0) return passwordPage(request, reply.code(422), problems);

      const hash = await hashPassword(password);
      const keep = hashOfSessionId(request.session.sessionId);
      await writeTransaction(app.store, (trx) =>
        setPassword(trx, actor.id, { hash, mustChange: false }, keep),
      );
      return reply.redirect('/password?said=password-changed', 303);
    },
  );
}

function signInPage(reply: FastifyReply, data: Omit<SignInView, 'title'>): FastifyReply {
  const view: SignInView = { title: 'Sign in', ...data };
  return reply.page('accounts/sign-in', view);
}

function passwordPage(request: FastifyRequest, reply: FastifyReply, problems: Problems): FastifyReply {
  const forced = actorOf(request).mustChangePassword;
  const title = forced ? 'Choose your own password' : 'Change password';
  const view: PasswordView = { title, problems, forced, shortest: PASSWORD_SHORTEST };
  return reply.page('accounts/password', view);
}

/** Whose password is being tried: the signed-in person's, or the name typed. */
function nameTried(request: FastifyRequest): string {
  const typed = (request.body as Values | undefined)?.signInName ?? '';
  return request.actor ? `person ${request.actor.id}` : `name ${typed.trim().toLowerCase()}`;
}
