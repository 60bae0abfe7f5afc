import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { listReadingErrors, readingDays } from '../../../server/record/readings.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { givenAttempt } from '../../support/given-attempt.ts';
import { writeWhatIsSeen } from '../../support/observer.ts';
import { sessionFor } from '../../support/session.ts';
import { ONE_RUN, ruleInForce } from '../support/rule-in-force.ts';

let built: TestApp;
beforeEach(async () => {
  built = await testApp();
  await ruleInForce(built.store, 2, ONE_RUN, '2026-09-01T00:00:00.000Z');
});
afterEach(() => built.close());

const STUDENT = { signInName: '003201', sectionId: 1, itemId: 3 };

describe("a student's own record", () => {
  it('says what is missing and what is still to hand in', async () => {
    const page = await (await sessionFor(built, '003201')).get('/record');
    expect(page.body).toContain('>nothing yet</b>');
    expect(page.body).toContain(
      '1 more graded run at 80 % or more, without a stop; a sign-off on a shop engine',
    );
    expect(page.body).toContain('not begun');
    expect(page.body).toContain('No reading of yours has been held against a gauge yet.');
  });

  it('shows a run that counts with its date, never as the whole competency, and to nobody else', async () => {
    await givenAttempt(built.store, { ...STUDENT, id: 'run', seed: 'graded' });
    const own = (await (await sessionFor(built, '003201')).get('/record')).body;
    expect(own).toContain('/attempts/run/result');
    expect(own).toContain('>practice part met, since 10 Sept 2026</b>');
    expect(own).toContain('Still missing: a sign-off on a shop engine.');
    const other = (await (await sessionFor(built, '003202')).get('/record')).body;
    expect(other).not.toContain('/attempts/run/result');
    expect(other).toContain('>nothing yet</b>');
  });

  it('holds every written reading against what the gauge showed, in graduations', async () => {
    const written = { read: 0 };
    await givenAttempt(built.store, {
      ...STUDENT,
      id: 'low',
      seed: 'graded',
      habits: {
        write: (seen) => {
          written.read += 1;
          const boxes = writeWhatIsSeen(seen);
          return { ...boxes, pointer: (boxes.pointer ?? 0) - 2, lift: (boxes.lift ?? 0) - 2 * 0.001 };
        },
      },
    });
    const errors = await listReadingErrors(built.store.db, 4);
    expect(errors).toHaveLength(written.read);
    for (const { graduations, from } of errors) {
      expect(from).toBe('practice engine');
      expect(Math.abs(graduations + 2)).toBeLessThanOrEqual(0.6);
    }
    expect(await listReadingErrors(built.store.db, 5)).toEqual([]);
    const page = (await (await sessionFor(built, '003201')).get('/record')).body;
    expect(page).toContain('id="errors-wide"');
    expect(page).toMatch(/data-label="Mean">−\d\.\d</);
  });
});

describe('readings by day', () => {
  const at = (day: string, graduations: number) => ({
    at: `${day}T08:00:00.000Z`,
    from: 'drill' as const,
    graduations,
  });

  it('give mean and spread, and count apart what is off by a turn', () => {
    const days = readingDays([
      at('2026-09-01', 1),
      at('2026-09-01', -1),
      at('2026-09-01', 100),
      at('2026-09-02', -37),
    ]);
    expect(days[0]).toMatchObject({ day: '2026-09-01', readings: 3, gross: 1, bias: 0 });
    expect(days[0]?.spread).toBeCloseTo(Math.SQRT2, 9);
    expect(days[1]).toEqual({ day: '2026-09-02', readings: 1, gross: 1, bias: null, spread: null });
  });
});
