import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Agent } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { sessionFor } from '../../support/session.ts';

const TEXT = {
  title: 'Our own shop',
  minutes: '15',
  aims: 'Find the fire blanket\nName who bars',
  body: '## Where things are\n\nThe fire blanket hangs by the door. {{reading turns=2 pointer=14 dial=inch-0.001-1}} is a reading.\n\n{{figure lean}}\n',
  sources: 'common practice, no source',
};
const SHIPPED = 'measuring-injection-cam-lift';
/** The first bytes of a PNG; what follows does not matter to whoever looks at them only. */
const PNG = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 1, 2, 3]);

let built: TestApp;
let instructor: Agent;
beforeAll(async () => {
  built = await testApp();
  instructor = await sessionFor(built, 'marchbanks');
});
afterAll(() => built.close());

const versions = () =>
  built.store.db.selectFrom('own_lesson_versions').select(['own_lesson_id', 'body']).execute();
const as = (name: string) => sessionFor(built, name);

describe('a lesson of an instructor’s own', () => {
  it('is looked at before it is kept, with numbers worked out and figures drawn', async () => {
    const { statusCode, body } = await instructor.post('/own-lessons', { ...TEXT, do: 'look' });
    expect(statusCode).toBe(200);
    expect(body).toMatch(/door\. 0\.214 in is a/);
    expect(body).toContain('data-figure="lean"');
    expect(await versions()).toEqual([]);
  });

  it('says beside the box what cannot be shown, and keeps what was typed', async () => {
    const wrong = { ...TEXT, body: 'Words {{redaing turns=2}}', do: 'keep' };
    const { statusCode, body } = await instructor.post('/own-lessons', wrong);
    expect(statusCode).toBe(422);
    expect(body).toContain('{{redaing turns=2}}</textarea>');
    expect(body).toMatch(
      /field-problem" id="f-body-problem">The text holds \{\{redaing\}\}, which is not known\.</,
    );
    const empty = await instructor.post('/own-lessons', { ...TEXT, title: ' ', minutes: 'some', do: 'keep' });
    expect(empty.body).toContain('Give the lesson a title.');
    expect(empty.body).toContain('in whole numbers, like 20.');
    expect(await versions()).toEqual([]);
  });

  it('is kept, and nobody else sees it until it is in a section’s plan', async () => {
    const kept = await instructor.post('/own-lessons', { ...TEXT, do: 'keep' });
    expect([kept.statusCode, kept.headers.location]).toEqual([303, '/own-lessons/1?said=lesson-kept']);
    expect((await instructor.get('/own-lessons/1?said=lesson-kept')).body).toContain('The lesson is kept.');
    expect((await instructor.get('/lessons/own-1')).body).toContain('fire blanket');
    for (const other of ['003201', 'duenas', 'vossberg'])
      expect((await (await as(other)).get('/lessons/own-1')).statusCode, other).toBe(404);
    expect((await (await as('duenas')).get('/own-lessons/1')).statusCode).toBe(404);
    expect((await (await as('003201')).get('/lessons')).body).not.toContain('Our own shop');
  });

  it('comes to the section it is added to, in the place it was moved to, and to no other', async () => {
    const order = `${SHIPPED}`;
    const shown = { [`shown-${SHIPPED}`]: 'on', 'shown-own-1': 'on' };
    await instructor.post('/sections/1/lessons', { order, ...shown, do: 'add own-1' });
    await instructor.post('/sections/1/lessons', { order: `${SHIPPED},own-1`, ...shown, do: 'up own-1' });
    const student = await as('003201');
    const { body } = await student.get('/lessons');
    expect(body.indexOf('Our own shop')).toBeLessThan(body.indexOf(`/lessons/${SHIPPED}`));
    expect((await student.get('/lessons/own-1')).statusCode).toBe(200);
    expect((await student.get('/lessons/search?q=blanket')).body).toContain(
      'href="/lessons/own-1#where-things-are"',
    );
    expect((await (await as('003204')).get('/lessons/own-1')).statusCode).toBe(404);
    expect((await (await as('003204')).get('/lessons/search?q=blanket')).body).toContain('Nothing holds all');
  });

  it('keeps every version and shows the last', async () => {
    await instructor.post('/own-lessons/1', {
      ...TEXT,
      body: '## New\n\nIt hangs by the window.',
      do: 'keep',
    });
    expect((await (await as('003201')).get('/lessons/own-1')).body).toContain('by the window');
    expect((await versions()).map(({ own_lesson_id }) => own_lesson_id)).toEqual([1, 1]);
    const other = await (await as('duenas')).post('/own-lessons/1', { ...TEXT, do: 'keep' });
    expect(other.statusCode).toBe(404);
    expect((await versions()).length).toBe(2);
  });

  it('may be a version of one of ours, which stays as it is', async () => {
    const { body } = await instructor.get(`/own-lessons/new?from=${SHIPPED}`);
    expect(body).toContain('A version of “Measuring injection-cam lift”');
    expect(body).toContain('{{figure lift}}');
    await instructor.post('/own-lessons', { ...TEXT, basedOn: SHIPPED, do: 'keep' });
    const version = (await instructor.get('/lessons/own-2')).body;
    expect(version).toContain('Question 1');
    expect(version).toContain('fire blanket');
    expect((await instructor.get(`/lessons/${SHIPPED}`)).body).not.toContain('fire blanket');
    await instructor.post('/sections/1/lessons', {
      order: SHIPPED,
      [`shown-${SHIPPED}`]: 'on',
      do: 'add own-2',
    });
    const list = (await (await as('003201')).get('/lessons')).body;
    expect(list).toContain('href="/lessons/own-2"');
    expect(list).not.toContain(`href="/lessons/${SHIPPED}"`);
    await instructor.post('/sections/1/lessons', {
      order: `${SHIPPED},own-1`,
      [`shown-${SHIPPED}`]: 'on',
      'shown-own-1': 'on',
    });
  });

  it('shows pictures that were uploaded, to those who may read it', async () => {
    const upload = (imageName: string, file: Buffer) =>
      instructor.postFile(
        '/own-lessons/1/images',
        { field: 'file', name: 'a.png', body: file },
        { ...TEXT, body: 'Typed, and not kept yet', imageName },
      );
    expect((await upload('A door', Buffer.from('<svg onload=alert(1)>'))).body).toContain(
      'PNG, JPEG or WebP',
    );
    expect((await upload(' ', PNG)).statusCode).toBe(422);
    const kept = await upload('A door', PNG);
    expect([kept.statusCode, kept.body]).toEqual([200, expect.stringContaining('Typed, and not kept yet')]);
    expect(kept.body).toContain('The picture is kept');
    expect((await instructor.get('/own-lessons/1')).body).not.toContain('Typed, and not kept yet');
    const { id } = await built.store.db.selectFrom('lesson_images').select('id').executeTakeFirstOrThrow();
    const picture = await (await as('003201')).get(`/lesson-images/${id}`);
    expect([picture.statusCode, picture.headers['content-type']]).toEqual([200, 'image/png']);
    expect(picture.rawPayload.equals(PNG)).toBe(true);
    expect((await (await as('003204')).get(`/lesson-images/${id}`)).statusCode).toBe(404);
    await instructor.post('/own-lessons/1', { ...TEXT, body: `![A door](/lesson-images/${id})`, do: 'keep' });
    expect((await instructor.get('/lessons/own-1')).body).toContain(
      `src="/lesson-images/${id}" alt="A door"`,
    );
  });
});
