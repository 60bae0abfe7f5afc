import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type TestApp, testApp } from '../../support/build.ts';
import { givenAttempt } from '../../support/given-attempt.ts';
import { givenShopItem, givenSignOff } from '../../support/given-shop-work.ts';
import { sessionFor } from '../../support/session.ts';

describe("a student's own copy", () => {
  let built: TestApp;
  beforeAll(async () => {
    built = await testApp();
    const { store } = built;
    const shopItem = await givenShopItem(store);
    const own = { signInName: '003201', sectionId: 1 };
    await givenAttempt(store, { ...own, id: 'own-graded', itemId: 3, seed: 'copy-graded' });
    await givenAttempt(store, { ...own, id: 'own-open', itemId: 2, seed: 'copy-open-secret', open: true });
    await givenAttempt(store, { ...own, signInName: '003202', id: 'another', itemId: 3, seed: 'copy-other' });
    await givenSignOff(store, {
      ...own,
      id: 'own-sign-off',
      itemId: shopItem,
      at: '2026-09-11T10:00:00.000Z',
    });
    const coordinator = await sessionFor(built, 'vossberg');
    await coordinator.post('/people/4/transcript', { recipient: 'Northgate Diesel', purpose: 'hiring' });
    await coordinator.get('/people/4');
  });
  afterAll(() => built.close());

  it('holds all of theirs: each attempt with every action, sign-offs, what left the house, who looked', async () => {
    const { body, headers } = await (await sessionFor(built, '003201')).get('/record/copy');
    expect(headers['content-disposition']).toContain('attachment');
    const copy = JSON.parse(body);
    expect(copy.attempts.map(({ id }: { id: string }) => id).sort()).toEqual(['own-graded', 'own-open']);
    for (const { id, actions } of copy.attempts) {
      const { count } = await built.store.db
        .selectFrom('attempt_actions')
        .where('attempt_id', '=', id)
        .select((eb) => eb.fn.countAll<number>().as('count'))
        .executeTakeFirstOrThrow();
      expect(actions).toHaveLength(count);
    }
    expect(copy.signOffs).toMatchObject([{ id: 'own-sign-off' }]);
    expect(copy.leftTheHouse).toMatchObject([{ what: 'Transcript', recipient: 'Northgate Diesel' }]);
    expect(copy.lookedAt).toMatchObject([{ what: 'the whole record' }]);
    expect(copy.transcripts).toHaveLength(1);
  });

  it('holds nothing of others, no password, and nothing of a bench that is not graded', async () => {
    const { body } = await (await sessionFor(built, '003201')).get('/record/copy');
    for (const not of ['another', '003202', 'copy-open-secret', 'copy-other', 'argon2', 'password'])
      expect(body).not.toContain(not);
    const open = JSON.parse(body).attempts.find(({ id }: { id: string }) => id === 'own-open');
    expect(open.grades).toEqual([]);
  });
});
