import type { Kysely, Transaction } from 'kysely';
import type { Database } from '../database/tables.ts';
import type { DialReadingAction } from '../engine/index.ts';
import { Conflict } from '../web/errors.ts';
import { type DialRow, findAnswer, listDrillActions } from './queries.ts';

/** More than any person watches one pointer; a page gone wild must not fill the disk. */
const MOST_ACTIONS = 500;

/**
 * Adds a batch to a dial's log at the place it says, and gives the log up to its end. A batch sent twice, because the first answer was
 * lost on the way, is kept once. Throws Conflict when the log holds something else there, or when the dial has been answered.
 */
export async function appendDrillActions(
  trx: Transaction<Database>,
  dial: DialRow,
  batch: { readonly from: number; readonly actions: readonly DialReadingAction[] },
  at: string,
): Promise<readonly DialReadingAction[]> {
  const { from, actions } = batch;
  if (from + actions.length > MOST_ACTIONS)
    throw new Conflict('This pointer has been watched too often. Write what you read, and check it.');
  const log = await listDrillActions(trx as Kysely<Database>, dial);
  const held = log.slice(from, from + actions.length);
  const isSame = held.every((action, index) => JSON.stringify(action) === JSON.stringify(actions[index]));
  if (from > log.length || !isSame)
    throw new Conflict(
      'This dial has been worked at in another window. Reload the page to see how it stands.',
    );
  const fresh = actions.slice(held.length);
  if (fresh.length > 0) {
    if ((await findAnswer(trx, dial)) !== undefined)
      throw new Conflict('This dial has been answered. Go on to the next.');
    await trx
      .insertInto('drill_actions')
      .values(
        fresh.map((action, index) => ({
          round_id: dial.round_id,
          number: dial.number,
          seq: from + held.length + index,
          action: JSON.stringify(action),
          at,
        })),
      )
      .execute();
  }
  return [...log.slice(0, from), ...actions];
}
