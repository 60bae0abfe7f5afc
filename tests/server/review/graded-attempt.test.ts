import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadGradedAttempt } from '../../../server/review/index.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { type GivenAttempt, givenAttempt } from '../../support/given-attempt.ts';
import { type SeenReading, writeWhatIsSeen } from '../../support/observer.ts';
import { sessionFor } from '../../support/session.ts';

const missesATurn = (seen: SeenReading) => {
  const written = writeWhatIsSeen(seen);
  return { ...written, turns: seen.turns - 1, lift: (written.lift ?? 0) - seen.rangePerTurn };
};

describe('a graded attempt', () => {
  let built: TestApp;
  let sound: GivenAttempt;
  let missed: GivenAttempt;
  let skipped: GivenAttempt;
  beforeAll(async () => {
    built = await testApp();
    const mine = { signInName: '003201', sectionId: 1, itemId: 3 };
    sound = await givenAttempt(built.store, { ...mine, id: 'sound', seed: 'graded-1' });
    missed = await givenAttempt(built.store, {
      ...mine,
      id: 'missed',
      seed: 'graded-2',
      tryNumber: 2,
      habits: { write: missesATurn },
    });
    skipped = await givenAttempt(built.store, {
      ...mine,
      id: 'skipped',
      seed: 'graded-3',
      tryNumber: 3,
      habits: { skip: () => true },
    });
    await givenAttempt(built.store, { ...mine, id: 'open', seed: 'graded-4', itemId: 2, open: true });
  });
  afterAll(() => built.close());

  const load = (id: string) => loadGradedAttempt(built.store.db, id);

  it('carries the stored grade, point by point, and every stop, remark and mistake of it', async () => {
    for (const { id, grade } of [sound, missed, skipped]) {
      const graded = await load(id);
      expect(graded.points.total).toBe(grade.total);
      expect(Object.fromEntries(graded.points.rows.map((row) => [row.criterion, row.points]))).toEqual(
        grade.points,
      );
      expect(graded.stops).toHaveLength(grade.stops.length);
      const shown = graded.lobes.flatMap((lobe) => lobe.remarks).length + graded.general.length;
      expect(shown).toBe(grade.remarks.length);
      expect(graded.lobes.flatMap((lobe) => lobe.mistakes)).toHaveLength(grade.mistakes.length);
      const lost = graded.lobes.reduce((sum, lobe) => sum + lobe.lost, 0);
      expect(lost).toBeCloseTo(100 - grade.total, 0);
      expect(graded.regraded).toBeNull();
    }
  });

  it('names a missed turn with both lengths and ties it to the moment the gauge stood highest', async () => {
    const [lobe] = (await load('missed')).lobes;
    const [mistake] = lobe?.mistakes ?? [];
    expect(mistake?.seen).toMatch(/^It looks as if one turn of the pointer was not counted: /);
    expect(mistake?.place).toBe('Reading 1');
    const { replay } = await load('missed');
    expect(mistake?.moment?.frame).toBeGreaterThan(0);
    expect(mistake?.moment?.frame).toBeLessThanOrEqual(replay?.last ?? 0);
  });

  it('says that nothing was measured where nothing was, and points nowhere', async () => {
    const graded = await load('skipped');
    expect(graded.stops.map(({ seen }) => seen).join(' ')).toContain('nothing was measured');
    expect(graded.lobes[0]?.shown).toEqual(['nothing measured', 'nothing measured']);
    expect(graded.lobes[0]?.plots).toEqual([]);
    expect(graded.stops[0]?.moment).toBeNull();
  });

  it('is not found before it is handed in, nor when there is none', async () => {
    await expect(load('open')).rejects.toMatchObject({ code: 'not-found' });
    await expect(load('no-such')).rejects.toMatchObject({ code: 'not-found' });
  });

  it('gives its own student the whole page, with drawings named once each', async () => {
    const page = await (await sessionFor(built, '003201')).get('/attempts/missed/result');
    expect(page.statusCode).toBe(200);
    expect(page.body).toContain('this run does not count for the record');
    expect(page.body).toContain('True lift');
    const ids = [...page.body.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
    expect(ids.filter((id, index) => ids.indexOf(id) !== index)).toEqual([]);
    const hrefs = [...page.body.matchAll(/href="#([^"]+)"/g)].map(([, id]) => id);
    expect(hrefs.filter((id) => !ids.includes(id ?? ''))).toEqual([]);
    const main = page.body.slice(page.body.indexOf('<main'), page.body.indexOf('</main>'));
    expect(main.match(/ style="|undefined|NaN/g)).toBeNull();
  });

  it('cannot be read by another student', async () => {
    const page = await (await sessionFor(built, '003202')).get('/attempts/missed/result');
    expect(page.statusCode).toBe(404);
  });

  it('says so when a newer grade of the same work gives something else, and the newest grade counts', async () => {
    const { grade } = missed;
    const other = {
      ...grade,
      engineVersion: '0.9.0',
      points: { ...grade.points, setUp: 11 },
      total: grade.total - grade.points.setUp + 11,
    };
    await built.store.db
      .insertInto('grades')
      .values({
        attempt_id: 'missed',
        engine_version: '0.9.0',
        points: other.total,
        stops: grade.stops.length,
        grade: JSON.stringify(other),
        at: '2026-09-11T00:00:00.000Z',
      })
      .execute();
    const graded = await load('missed');
    expect(graded.points.total).toBe(other.total);
    expect(graded.regraded).toContain('version 0.9.0');
    expect(graded.regraded).toContain(`would give ${grade.total} points`);
  });
});
