import { checkPin, PIN_LOCK_MINUTES } from '../accounts/index.ts';
import type { Store } from '../database/open.ts';
import { writeTransaction } from '../database/transaction.ts';
import type { Actor } from '../web/actor.ts';
import { BadRequest } from '../web/errors.ts';
import { getSignOff, type SignOff } from './queries.ts';
import type { Entry } from './schema.ts';
import type { SigningRole } from './tables.ts';
import { putReading, putTicks, type Sent, sign } from './write.ts';

/** A PIN that does not sign, with why in words. */
export class PinProblem extends BadRequest {}

/** Puts down what a phone sent, in its order, each once. What comes before something that is refused stays. */
export async function putEntries(
  store: Store,
  actor: Actor,
  signOff: SignOff,
  entries: readonly Entry[],
  at: string,
): Promise<void> {
  for (const entry of entries) {
    if (entry.kind === 'signature') {
      await signWithPin(store, actor, signOff.id, { ...entry, sent: entry }, at);
      continue;
    }
    await writeTransaction(store, async (trx) => {
      if (entry.kind === 'reading') return putReading(trx, actor, signOff.id, entry.typed, entry, at);
      if (entry.step >= signOff.steps.length) throw new BadRequest('There is no such step.');
      return putTicks(trx, actor, signOff.id, [entry], at);
    });
  }
}

/**
 * Signs for the student of a sign-off, or for whoever assesses, with that person's own PIN. An assessor signs for what stands there now.
 * @throws PinProblem for a PIN that is wrong, locked or not set, each said in words.
 */
export async function signWithPin(
  store: Store,
  actor: Actor,
  signOffId: string,
  given: { readonly role: SigningRole; readonly pin: string; readonly sent: Sent },
  at: string,
): Promise<void> {
  const now = await getSignOff(store.db, signOffId);
  const who = given.role === 'student' ? now.student : { id: actor.id, name: 'you' };
  const answer = await checkPin(store, who.id, given.pin, at);
  if (answer !== 'right')
    throw new PinProblem(PIN_WORDS[answer](given.role === 'student' ? now.student.name : null));
  await writeTransaction(store, async (trx) => {
    const outcome = given.role === 'student' ? null : (await getSignOff(trx, signOffId)).outcome;
    await sign(trx, signOffId, {
      role: given.role,
      personId: who.id,
      outcome,
      sent: given.sent,
      arrivedAt: at,
    });
  });
}

const PIN_WORDS = {
  wrong: (name: string | null) =>
    `This is not ${name === null ? 'your PIN' : `the PIN of ${name}`}. Type it again.`,
  none: (name: string | null) =>
    name === null
      ? 'You have no PIN yet. Set one under Sections, Signing PIN.'
      : `${name} has no PIN yet. It is set under Lab sheets, Signing PIN.`,
  locked: () => `Too many tries. Wait ${PIN_LOCK_MINUTES} min, then try again.`,
};
