import type { Store } from '../database/open.ts';
import { writeTransaction } from '../database/transaction.ts';
import { hashPassword, passwordMatches } from './passwords.ts';

/** A PIN is 4 to 8 figures; more than this many misses in the time below lock it. */
export const PIN_SHAPE = /^\d{4,8}$/;
const MISSES = 5;
export const PIN_LOCK_MINUTES = 10;

export type PinAnswer = 'right' | 'wrong' | 'none' | 'locked';

/** Sets the PIN somebody signs with. Throws RangeError for one that is none. */
export async function setPin(store: Store, personId: number, pin: string, at: string): Promise<void> {
  if (!PIN_SHAPE.test(pin)) throw new RangeError('A PIN is 4 to 8 figures.');
  const hash = await hashPassword(pin);
  await writeTransaction(store, async (trx) => {
    await trx
      .insertInto('person_pins')
      .values({ person_id: personId, hash, set_at: at })
      .onConflict((conflict) => conflict.column('person_id').doUpdateSet({ hash, set_at: at }))
      .execute();
  });
}

export async function hasPin(store: Store, personId: number): Promise<boolean> {
  const row = await store.db
    .selectFrom('person_pins')
    .where('person_id', '=', personId)
    .select('person_id')
    .executeTakeFirst();
  return row !== undefined;
}

/** Have there been too many misses of late? */
export async function isPinLocked(store: Store, personId: number, at: string): Promise<boolean> {
  const since = new Date(Date.parse(at) - PIN_LOCK_MINUTES * 60_000).toISOString();
  const { misses } = await store.db
    .selectFrom('pin_misses')
    .where('person_id', '=', personId)
    .where('at', '>', since)
    .select((count) => count.fn.countAll<number>().as('misses'))
    .executeTakeFirstOrThrow();
  return misses >= MISSES;
}

/** Counts a miss: a wrong PIN, or a wrong password where a PIN is set, since either would give a way to sign for somebody. */
export async function notePinMiss(store: Store, personId: number, at: string): Promise<void> {
  await writeTransaction(store, async (trx) => {
    await trx.insertInto('pin_misses').values({ person_id: personId, at }).execute();
  });
}

/** Is this their PIN? A miss is counted; five in ten minutes lock it, so that nobody tries them all on a borrowed phone. */
export async function checkPin(store: Store, personId: number, pin: string, at: string): Promise<PinAnswer> {
  if (await isPinLocked(store, personId, at)) return 'locked';
  const row = await store.db
    .selectFrom('person_pins')
    .where('person_id', '=', personId)
    .select('hash')
    .executeTakeFirst();
  if (!row) return 'none';
  if (await passwordMatches(pin, row.hash)) return 'right';
  await notePinMiss(store, personId, at);
  return 'wrong';
}
