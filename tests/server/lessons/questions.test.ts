import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { DIALS, readDial } from '../../../server/engine/index.ts';
import { drawNumbers } from '../../../server/lessons/draws.ts';
import { loadLessons } from '../../../server/lessons/load.ts';
import { askQuestion, gradeAnswer } from '../../../server/lessons/questions.ts';
import type { Question } from '../../../server/lessons/schema.ts';
import { fromRoot } from '../../../server/root.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { sessionFor } from '../../support/session.ts';

const SLUG = 'measuring-injection-cam-lift';
const URL = `/lessons/${SLUG}`;
const lesson = loadLessons(fromRoot('lessons')).find(({ slug }) => slug === SLUG);
if (!lesson) throw new Error(`there is no lesson ${SLUG}`);

const question = (id: string): Question => {
  const found = lesson.questions.find((one) => one.id === id);
  if (!found) throw new Error(`there is no question ${id}`);
  return found;
};
const askedOf = (personId: number, tries = 0) => ({ slug: SLUG, personId, tries });
/** What the gauge showed, which no page says. */
const shownTo = (id: string, personId: number, tries = 0) => {
  const drawn = drawNumbers(question(id).draw, `${personId}/${SLUG}/${id}/${tries}`);
  if (!drawn.reading) throw new Error(`${id} asks for no reading`);
  return drawn.reading.shown;
};
const grade = (id: string, answer: string, personId = 4, tries = 0) =>
  gradeAnswer(question(id), askedOf(personId, tries), answer);

describe('questions with numbers', () => {
  const { high } = shownTo('small-hand', 4);
  const thou = Math.round(high * 1000);

  it('take the right lift however it is written', () => {
    const written = high.toFixed(3);
    for (const answer of [
      written,
      written.slice(1),
      `${thou} thou`,
      `${written} in`,
      written.replace('.', ','),
    ])
      expect(grade('small-hand', answer), answer).toMatchObject({ ok: true, correct: true });
  });

  it('ask about a bare number of thousandths, and say what is no length', () => {
    expect(grade('small-hand', String(thou))).toEqual({
      ok: false,
      problem: `Do you mean ${high.toFixed(3)} in? Write it so.`,
    });
    expect(grade('small-hand', 'a lot')).toMatchObject({
      ok: false,
      problem: expect.stringContaining('not a length'),
    });
    expect(grade('small-hand', '  ')).toEqual({ ok: false, problem: 'Write the lift.' });
  });

  it('name the mistake that a wrong number looks like', () => {
    const said = (answer: number) => {
      const graded = grade('small-hand', answer.toFixed(3));
      return graded.ok && !graded.correct ? graded.feedbackHtml : 'not wrong';
    };
    expect(said(high - 0.1)).toContain('one turn of the pointer was not counted');
    expect(said(high % 0.1)).toContain('without its whole turns');
    expect(said(high / 10)).toContain('decimal point');
    expect(said(high + 0.037)).toMatch(/37 graduations too high; no one mistake explains it/);
    // The question says where the high point was, so nobody stopped short of it.
    expect(said(high - 0.03)).toMatch(/30 graduations too low; no one mistake explains it/);
    expect(said(high - 0.1)).toContain(`= ${high.toFixed(3)} in`);
  });

  it('name a small hand that was read from zero', () => {
    const personId =
      [...Array(50).keys()].find((id) => (shownTo('small-hand', id).counterAtZero ?? 0) >= 1.5) ?? -1;
    const shown = shownTo('small-hand', personId);
    const asRead = Math.floor((shown.counterAtZero ?? 0) + shown.high / 0.1) * 0.1 + (shown.high % 0.1);
    const graded = grade('small-hand', asRead.toFixed(3), personId);
    expect(graded).toMatchObject({
      ok: true,
      correct: false,
      feedbackHtml: expect.stringContaining('read from zero'),
    });
  });

  it('show what the engine’s dial would show', () => {
    for (let personId = 1; personId <= 30; personId += 1) {
      for (const [id, name] of [
        ['small-hand', 'inch-0.001-1'],
        ['near-a-turn', 'metric-0.01-10'],
      ] as const) {
        const shown = shownTo(id, personId);
        const set = {
          ...DIALS[name],
          plungerAtZero: shown.preload ?? 0,
          counterAtZero: shown.counterAtZero ?? 0,
        };
        const at = readDial(set, shown.high);
        const { askHtml } = askQuestion(question(id), askedOf(personId));
        expect(askHtml).toContain(`<strong>${at.pointer}</strong>`);
        expect(askHtml).toContain(`<strong>${at.counter?.toFixed(1)}</strong>`);
        // The turns can be told from the small hand's difference to a tenth, the pointer being known.
        const difference = Number(at.counter?.toFixed(1)) - (shown.counterAtZero ?? 0);
        expect(Math.abs(difference - at.turns - at.pointer / 100)).toBeLessThan(0.06);
      }
    }
  });

  it('are drawn afresh for each person and each try, and the same again for the same', () => {
    const asks = [askedOf(4), askedOf(5), askedOf(4, 1)].map(
      (one) => askQuestion(question('small-hand'), one).askHtml,
    );
    expect(new Set(asks).size).toBe(3);
    expect(askQuestion(question('small-hand'), askedOf(4)).askHtml).toBe(asks[0]);
  });
});

describe('questions with choices', () => {
  for (const one of lesson.questions) {
    if (!('choices' in one)) continue;
    it(`${one.id}: takes one answer as right and gives each its own feedback`, () => {
      const graded = one.choices.map(({ key }) => gradeAnswer(one, askedOf(4), key));
      expect(graded.filter((result) => result.ok && result.correct)).toHaveLength(1);
      const feedback = graded.map((result) => (result.ok ? result.feedbackHtml : ''));
      expect(new Set(feedback).size).toBe(one.choices.length);
      expect(gradeAnswer(one, askedOf(4), 'nothing-of-the-kind')).toMatchObject({ ok: false });
    });
  }

  it('against-limits meets every verdict, and the limits decide it', () => {
    const seen = new Set<string>();
    for (let tries = 0; tries < 40; tries += 1) {
      const { values } = drawNumbers('against-limits', `x/${tries}`);
      const [lift, lower, upper] = [Number(values.lift), Number(values.lower), Number(values.upper)];
      expect(values.verdict).toBe(lift < lower ? 'below' : lift > upper ? 'above' : 'inside');
      seen.add(values.verdict ?? '');
    }
    expect([...seen].sort()).toEqual(['above', 'below', 'inside']);
  });
});

describe('answering on the page', () => {
  let built: TestApp;
  beforeAll(async () => {
    built = await testApp();
  });
  afterAll(() => built.close());

  const idOf = async (name: string) =>
    (
      await built.store.db
        .selectFrom('people')
        .select('id')
        .where('sign_in_name', '=', name)
        .executeTakeFirstOrThrow()
    ).id;
  const part = (body: string, id: string) =>
    new RegExp(`<section class="question" id="q-${id}"[\\s\\S]*?</section>`).exec(body)?.[0] ?? '';

  it('holds no right answer and no feedback before it is given', async () => {
    const agent = await sessionFor(built, '003202');
    const { body } = await agent.get(URL);
    const id = await idOf('003202');
    for (const one of lesson.questions) {
      if ('choices' in one) {
        for (const { feedback } of one.choices) {
          const words = feedback.split(/\{\{\w+\}\}/).sort((a, b) => b.length - a.length)[0] ?? '';
          expect(words.length, feedback).toBeGreaterThan(10);
          expect(body).not.toContain(words.trim());
        }
      } else {
        const { high } = shownTo(one.id, id);
        expect(part(body, one.id)).not.toContain(high.toFixed(2));
      }
    }
    expect(body).not.toContain('answer-right');
  });

  it('keeps what was typed and says beside the box what to write', async () => {
    const agent = await sessionFor(built, '003202');
    const thou = String(Math.round(shownTo('small-hand', await idOf('003202')).high * 1000));
    const response = await agent.post(`${URL}/answers`, { question: 'small-hand', tries: '0', answer: thou });
    expect(response.statusCode).toBe(422);
    const shown = part(response.body, 'small-hand');
    expect(shown).toContain(`value="${thou}"`);
    expect(shown).toMatch(/field-problem" id="f-small-hand-problem">Do you mean 0\.\d{3} in\?/);
    expect(await built.store.db.selectFrom('lesson_answers').selectAll().execute()).toEqual([]);
  });

  it('shows what happened, draws new numbers, and keeps each answer with its time', async () => {
    const agent = await sessionFor(built, '003201');
    const id = await idOf('003201');
    const wrong = (shownTo('small-hand', id).high + 0.1).toFixed(3);
    const first = await agent.post(`${URL}/answers`, { question: 'small-hand', tries: '0', answer: wrong });
    expect([first.statusCode, first.headers.location]).toEqual([303, `${URL}#q-small-hand`]);
    const after = part((await agent.get(URL)).body, 'small-hand');
    expect(after).toContain('Not right.');
    expect(after).toMatch(/It looks as if .*(one turn too many|read from zero)/);
    expect(after).toContain(askQuestion(question('small-hand'), askedOf(id, 1)).askHtml);
    expect(after).toContain('name="tries" value="1"');

    const right = shownTo('small-hand', id, 1).high.toFixed(3);
    await agent.post(`${URL}/answers`, { question: 'small-hand', tries: '1', answer: right });
    const done = part((await agent.get(URL)).body, 'small-hand');
    expect(done).toContain('Right.');
    expect(done).not.toContain('<form');
    expect(part((await agent.get(`${URL}?again=small-hand`)).body, 'small-hand')).toContain(
      'name="tries" value="2"',
    );
    const rows = await built.store.db
      .selectFrom('lesson_answers')
      .selectAll()
      .where('person_id', '=', id)
      .execute();
    expect(rows.map(({ answer, correct, at }) => [answer, correct, at])).toEqual([
      [wrong, 0, built.clock().toISOString()],
      [right, 1, built.clock().toISOString()],
    ]);
  });

  it('does not take an answer to numbers that are no longer asked for', async () => {
    const agent = await sessionFor(built, '003201');
    const response = await agent.post(`${URL}/answers`, {
      question: 'small-hand',
      tries: '0',
      answer: '0.2',
    });
    expect(response.statusCode).toBe(422);
    expect(part(response.body, 'small-hand')).toContain('answered on another page since');
  });

  it('shows nobody another’s answers, whatever they are', async () => {
    for (const other of ['003203', '003204', 'marchbanks', 'vossberg']) {
      const { body } = await (await sessionFor(built, other)).get(URL);
      expect(body, other).not.toContain('You answered');
      expect(body, other).toContain('<dt>Questions right</dt><dd>0 of');
    }
    expect((await (await sessionFor(built, '003201')).get('/lessons')).body).toContain('right 1 of');
  });

  it('escapes what was typed', async () => {
    const agent = await sessionFor(built, '003206');
    const response = await agent.post(`${URL}/answers`, {
      question: 'near-a-turn',
      tries: '0',
      answer: '"><script>alert(1)</script>',
    });
    expect(response.body).not.toContain('<script>alert');
  });

  it('answers an unknown lesson or question as not there', async () => {
    const agent = await sessionFor(built, '003201');
    expect((await agent.get('/lessons/no-such')).statusCode).toBe(404);
    expect((await agent.post('/lessons/no-such/answers', { question: 'x', tries: '0' })).statusCode).toBe(
      404,
    );
    expect((await agent.post(`${URL}/answers`, { question: 'x', tries: '0', answer: 'y' })).statusCode).toBe(
      400,
    );
  });
});
