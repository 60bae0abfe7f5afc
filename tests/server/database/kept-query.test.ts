import { describe, expect, it } from 'vitest';
import { keptQuery } from '../../../server/database/kept-query.ts';
import { migrate } from '../../../server/database/migrate.ts';
import { openStore } from '../../../server/database/open.ts';

describe('a query written once', () => {
  it('takes other arguments each time, in any order and as often as they stand in it', async () => {
    const store = openStore(':memory:');
    migrate(store.raw);
    const both = keptQuery((db, { one, other }: { one: string; other: string }) =>
      db.selectNoFrom((eb) => [
        eb.val(other).as('first'),
        eb.val(one).as('second'),
        eb.val('fixed').as('third'),
        eb.val(other).as('fourth'),
      ]),
    );
    expect(await both(store.db, { one: 'a', other: 'b' })).toEqual([
      { first: 'b', second: 'a', third: 'fixed', fourth: 'b' },
    ]);
    expect(await both(store.db, { one: 'c', other: 'd' })).toEqual([
      { first: 'd', second: 'c', third: 'fixed', fourth: 'd' },
    ]);
    await store.close();
  });

  it('says which argument is missing instead of asking without it', async () => {
    const store = openStore(':memory:');
    const one = keptQuery((db, { name }: { name: string }) =>
      db.selectNoFrom((eb) => eb.val(name).as('name')),
    );
    await expect(one(store.db, {} as { name: string })).rejects.toThrow('the query needs name');
    await store.close();
  });
});
