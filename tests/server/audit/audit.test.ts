import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Agent } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { givenAttempt } from '../../support/given-attempt.ts';
import { sessionFor } from '../../support/session.ts';

describe('the audit log', () => {
  let built: TestApp;
  let coordinator: Agent;
  beforeAll(async () => {
    built = await testApp();
    const about = { signInName: '003201', sectionId: 1, itemId: 3, at: '2026-09-10T10:00:00.000Z' };
    await givenAttempt(built.store, { ...about, id: 'the-run', seed: 'audit-1' });
    const { id: by } = await built.store.db
      .selectFrom('people')
      .where('sign_in_name', '=', 'marchbanks')
      .select('id')
      .executeTakeFirstOrThrow();
    await built.store.db
      .insertInto('grade_changes')
      .values({
        ...{ attempt_id: 'the-run', set_up: 20, procedure: 20, reading: 30, verdict: 20, changed_by: by },
        ...{ reason: '100 % of it was seen at the bench', at: '2026-09-11T10:00:00.000Z' },
      })
      .execute();
    coordinator = await sessionFor(built, 'vossberg');
    await coordinator.post('/people/4/transcript', { recipient: 'Northgate Diesel', purpose: 'hiring' });
    await coordinator.post('/competencies/1/people/5', { word: 'granted', reason: 'Seen <b>abroad</b>.' });
    await coordinator.get('/people/6');
    await coordinator.get('/people/6');
  });
  afterAll(() => built.close());

  const found = async (query: string) => {
    const { body } = await coordinator.get(`/audit?${query}`);
    return [...body.matchAll(/<tr>\s*<th scope="row">[\s\S]*?<\/tr>/g)].map(([row]) =>
      row
        .replaceAll(/<[^>]+>/g, ' ')
        .replaceAll(/\s+/g, ' ')
        .trim(),
    );
  };

  it('holds what was done with who, about whom and why, and finds it by words, kind and day', async () => {
    const [word] = await found('kind=word');
    expect(word).toContain('IC-LIFT granted by word');
    expect(word).toContain('Seen &lt;b&gt;abroad&lt;/b&gt;.');
    expect(await found('q=northgate+transcript')).toHaveLength(1);
    expect(await found('q=northgate+nothing-like-it')).toEqual([]);
    const [points] = await found('kind=points&from=2026-09-11&to=2026-09-11');
    expect(points).toContain('Odell Marchbanks');
    expect(points).toContain('changed to 90');
    expect(await found('kind=points&from=2026-09-12')).toEqual([]);
    expect((await found('')).length).toBeGreaterThan(5);
  });

  it('takes percent signs and underscores as they are', async () => {
    expect(await found('q=100+%25')).toHaveLength(1);
    expect(await found('q=_____')).toEqual([]);
    expect(await found('q=%27%3B')).toEqual([]);
  });

  it('holds who looked at whose record, once an hour', async () => {
    expect(await found('kind=look&q=003203')).toHaveLength(1);
    built.clock.moveHours(0.3);
    await coordinator.get('/people/6');
    expect(await found('kind=look&q=003203')).toHaveLength(1);
  });

  it('has a line for each row of the tables it reads', async () => {
    const tables = {
      ...{ exports: 1, grade_changes: 1, competency_words: 1, record_looks: 1 },
    };
    for (const table of Object.keys(tables) as (keyof typeof tables)[]) {
      const { count } = await built.store.db
        .selectFrom(table)
        .select((eb) => eb.fn.countAll<number>().as('count'))
        .executeTakeFirstOrThrow();
      const kind = {
        exports: 'export',
        grade_changes: 'points',
        competency_words: 'word',
        record_looks: 'look',
      };
      expect(await found(`kind=${kind[table]}`), table).toHaveLength(count);
    }
  });
});
