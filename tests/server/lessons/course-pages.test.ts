import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type TestApp, testApp } from '../../support/build.ts';
import { sessionFor } from '../../support/session.ts';

const SHIPPED = 'measuring-injection-cam-lift';
let built: TestApp;
beforeAll(async () => {
  built = await testApp();
});
afterAll(() => built.close());
const as = (name: string) => sessionFor(built, name);

describe('what a section reads', () => {
  it('opens a lesson on its day, for its own students alone', async () => {
    const instructor = await as('marchbanks');
    const later = {
      order: SHIPPED,
      [`shown-${SHIPPED}`]: 'on',
      [`release-${SHIPPED}`]: '2999-01-01',
      do: 'keep',
    };
    expect((await instructor.post('/sections/1/lessons', later)).statusCode).toBe(303);
    const student = await as('003201');
    expect((await student.get(`/lessons/${SHIPPED}`)).statusCode).toBe(404);
    expect((await student.get(`/lessons/${SHIPPED}/slides`)).statusCode).toBe(404);
    expect((await student.post(`/lessons/${SHIPPED}/read`)).statusCode).toBe(404);
    expect(
      (await student.post(`/lessons/${SHIPPED}/answers`, { question: 'x', tries: '0' })).statusCode,
    ).toBe(404);
    expect((await student.get('/lessons')).body).toContain('opens 1 Jan 2999');
    expect((await instructor.get('/sections/1/lessons?said=plan-kept')).body).toContain('The plan is kept.');
    expect((await student.get('/lessons/search?q=preload')).body).not.toContain(`/lessons/${SHIPPED}#`);
    expect((await (await as('003204')).get(`/lessons/${SHIPPED}`)).statusCode).toBe(200);
    expect((await instructor.get(`/lessons/${SHIPPED}`)).statusCode).toBe(200);
    await instructor.post('/sections/1/lessons', { do: 'reset' });
    expect((await student.get(`/lessons/${SHIPPED}`)).statusCode).toBe(200);
  });

  it('begins a day by the clock of the section', async () => {
    // It is 14 September, 08:00 UTC; in Denver six hours less.
    const apart = await testApp();
    apart.store.raw.exec("UPDATE sections SET time_zone = 'America/Denver' WHERE id = 1");
    const instructor = await sessionFor(apart, 'marchbanks');
    await instructor.post('/sections/1/lessons', {
      ...{ order: SHIPPED, [`shown-${SHIPPED}`]: 'on', [`release-${SHIPPED}`]: '2026-09-15', do: 'keep' },
    });
    const status = async () =>
      (await (await sessionFor(apart, '003201')).get(`/lessons/${SHIPPED}`)).statusCode;
    apart.clock.moveHours(21); // 15 September, 05:00 UTC: still the 14th there.
    expect(await status()).toBe(404);
    apart.clock.moveHours(2);
    expect(await status()).toBe(200);
    await apart.close();
  });

  it('says beside the box what is no day, keeps it and saves nothing', async () => {
    const instructor = await as('marchbanks');
    const wrong = { order: SHIPPED, [`shown-${SHIPPED}`]: 'on', [`release-${SHIPPED}`]: 'soon', do: 'keep' };
    const { statusCode, body } = await instructor.post('/sections/1/lessons', wrong);
    expect(statusCode).toBe(422);
    expect(body).toContain(`id="f-release-${SHIPPED}-problem"`);
    expect(body).toContain('value="soon"');
    expect(await built.store.db.selectFrom('section_lessons').selectAll().execute()).toEqual([]);
  });

  it('shows how far each student is, of this section and no other', async () => {
    const [mine, other, instructor] = [await as('003202'), await as('003204'), await as('marchbanks')];
    await mine.get(`/lessons/${SHIPPED}`);
    await mine.post(`/lessons/${SHIPPED}/read`);
    await other.get(`/lessons/${SHIPPED}`);
    const { body } = await instructor.get('/sections/1/reading');
    const lesson = new RegExp(`<a href="/lessons/${SHIPPED}">[\\s\\S]*?</tr>`).exec(body)?.[0] ?? '';
    const { n } = await built.store.db
      .selectFrom('section_students')
      .where('section_id', '=', 1)
      .select((eb) => eb.fn.countAll<number>().as('n'))
      .executeTakeFirstOrThrow();
    // 003201 opened it in the first test; 003204 sits in another section.
    expect(lesson).toContain(`2 of ${n}`);
    expect(lesson).toMatch(/data-label="Read" class="figure">1</);
    expect((await mine.get(`/lessons/${SHIPPED}`)).body).toMatch(/You read this lesson on \d/);
    expect((await other.get(`/lessons/${SHIPPED}`)).body).not.toContain('You read this lesson');
  });
});

describe('a lesson in other forms', () => {
  it('in slides holds every heading and figure of the lesson once', async () => {
    const student = await as('003201');
    const [page, slides] = [
      await student.get(`/lessons/${SHIPPED}`),
      await student.get(`/lessons/${SHIPPED}/slides`),
    ];
    const text =
      /<div class="prose lesson-text">([\s\S]*?)<section class="stack lesson-questions"/.exec(
        page.body,
      )?.[1] ?? '';
    const headings = [...text.matchAll(/<h[23] id="[^"]+">([^<]*)</g)].map(([, heading]) => heading ?? '');
    expect(headings.length).toBeGreaterThan(8);
    for (const heading of headings) expect(slides.body).toContain(`<h2>${heading}</h2>`);
    expect(slides.body).toContain('Before you touch a real engine');
    const count = (body: string) => [...body.matchAll(/<figure/g)].length;
    expect(count(slides.body)).toBe(count(page.body));
    expect(slides.body).not.toContain('masthead-nav');
  });

  it('leads to the reader’s own exercise', async () => {
    const { body } = await (await as('003201')).get(`/lessons/${SHIPPED}`);
    const href = /href="(\/#item-1-\d+)"/.exec(body)?.[1] ?? '';
    expect((await (await as('003201')).get('/')).body).toContain(`id="${href.slice(2)}"`);
    expect((await (await as('vossberg')).get(`/lessons/${SHIPPED}`)).body).toContain('Exercise to assign');
  });

  it('has its words in the glossary', async () => {
    const student = await as('003201');
    const { body } = await student.get(`/lessons/${SHIPPED}`);
    const words = [...body.matchAll(/class="term" href="\/glossary#([^"]+)"/g)].map(([, id]) => id);
    expect(words.length).toBeGreaterThan(5);
    const glossary = (await student.get('/glossary')).body;
    for (const id of words) expect(glossary).toContain(`<div id="${id}"`);
  });
});
