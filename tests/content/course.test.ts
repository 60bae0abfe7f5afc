import { readFileSync } from 'node:fs';
import { fleschKincaid } from 'flesch-kincaid';
import { syllable } from 'syllable';
import { describe, expect, it } from 'vitest';
import { readDemoProgram } from '../../server/commands/load-program.ts';
import { KIND_NAMES } from '../../server/engine/index.ts';
import { loadCourse } from '../../server/lessons/load.ts';
import { fromRoot } from '../../server/root.ts';

/** Loading resolves every link, figure, term, number, need and competency, or says which does not. */
const course = loadCourse(fromRoot('lessons'));

/** What a unit on measuring with a dial indicator in a diesel shop has to teach; each by the lesson that teaches it. */
const TAUGHT = {
  'shop safety and isolating a fuel system': 'making-the-shop-safe',
  'the dial indicator and its parts': 'the-dial-indicator',
  'graduations, turns and the revolution counter': 'graduations-and-turns',
  'holding and setting up, preload, cosine error': 'holding-and-setting-up',
  'checking an indicator before trusting it': 'checking-an-indicator',
  'the four-stroke cycle and the cam at half speed': 'the-four-stroke-cycle',
  'cam lobes: base circle, ramps, nose, motion laws': 'cam-lobes',
  'finding the base circle, and which lobe comes next': 'finding-the-base-circle',
  'unit-pump injection': 'unit-pump-injection',
  'taking out and laying out, rollers': 'taking-out-and-laying-out',
  'measuring lift on every lobe': 'measuring-injection-cam-lift',
  'when a reading won’t repeat': 'when-a-reading-does-not-repeat',
  'the right row of a specification': 'reading-a-specification',
  'judging a reading': 'judging-a-reading',
  'dirt, caps, seals, priming, the leak check': 'dirt-seals-and-priming',
  'putting it together': 'putting-it-together',
  'run-out': 'run-out',
  'end play': 'end-play',
  backlash: 'backlash',
  liners: 'liner-protrusion',
  bores: 'measuring-bores',
  'valve lift': 'valve-lift',
  'a report a customer can read': 'writing-a-report',
} as const;

const folder = (slug: string, file: string) => readFileSync(fromRoot('lessons', slug, file), 'utf8');

/** The text of one part of the second level. */
const part = (body: string, heading: string) =>
  body.split(/^## /m).find((one) => one.startsWith(`${heading}\n`)) ?? '';

it('teaches the whole of it', () => {
  const slugs = course.lessons.map(({ slug }) => slug);
  for (const [what, slug] of Object.entries(TAUGHT)) expect(slugs, what).toContain(slug);
  expect(course.lessons.length).toBeGreaterThanOrEqual(18);
  const orders = course.lessons.map(({ head }) => head.order);
  expect(new Set(orders).size, 'places in the course').toBe(orders.length);
});

it('has an exercise to do next for every kind there is', () => {
  const practised = new Set<string>(course.lessons.map(({ head }) => head.practise));
  const missing = KIND_NAMES.filter((kind) => !practised.has(kind));
  // Reading dials is practised in the drills.
  expect(missing).toEqual(['dial-reading']);
});

it('knows every competency of the demo program', () => {
  for (const { code, title } of readDemoProgram().competencies)
    expect(course.competencies.get(code), code).toBe(title);
  const used = new Set(course.lessons.flatMap(({ head }) => head.competencies));
  expect(
    [...course.competencies.keys()].filter((code) => !used.has(code)),
    'taught nowhere',
  ).toEqual([]);
});

it('has a Spanish word beside each English one, and uses each of its words', () => {
  const html = course.lessons.map((lesson) => lesson.html).join('\n');
  const unused = course.glossary.terms.filter(
    ({ id, linked }) => linked && !html.includes(`href="/glossary#${id}"`),
  );
  expect(
    unused.map(({ term }) => term),
    'linked from no lesson',
  ).toEqual([]);
  for (const { term, spanish, means } of course.glossary.terms) {
    expect(spanish.toLowerCase(), term).not.toBe('');
    expect(means, term).toMatch(/\.$/);
  }
});

describe.each(course.lessons.map((lesson) => [lesson.slug, lesson] as const))(
  'the lesson %s',
  (slug, lesson) => {
    const { head, body, html, questions } = lesson;

    it('has aims, time, sources, and cautions where it touches an engine', () => {
      expect(head.aims.length).toBeGreaterThanOrEqual(3);
      expect(head.aims.length).toBeLessThanOrEqual(6);
      expect(head.sources.length).toBeGreaterThanOrEqual(3);
      expect(head.competencies.length).toBeGreaterThanOrEqual(1);
      for (const { from } of head.sources) expect(from.length, from).toBeGreaterThan(5);
      // Real work: something is opened, barred, pried, lifted or tightened.
      if (/^\d+\. .*\b(bar|pry|open|loosen|tighten|lift it)\b/im.test(body))
        expect(head.cautions, 'steps of real work without cautions').toBe(true);
    });

    it('has a live figure with words before it', () => {
      expect(lesson.live).toBe(true);
      for (const before of body.split(/^\{\{figure [^\n]*\}\}$/m).slice(0, -1))
        expect(before.trim().split('\n\n').at(-1)?.length, 'words before a figure').toBeGreaterThan(20);
    });

    it('has worked examples whose numbers are all computed', () => {
      const examples = part(body, 'Worked examples');
      expect((examples.match(/^\*\*[^*]+\*\*/gm) ?? []).length).toBeGreaterThanOrEqual(3);
      expect((examples.match(/\{\{/g) ?? []).length).toBeGreaterThanOrEqual(3);
      // A result stands after an equals sign: never a number that was typed.
      expect(examples.replace(/\{\{[^}]*\}\}/g, 'N')).not.toMatch(/=\s*\**[\d.]/);
    });

    it('shows common mistakes and how they are found', () => {
      const rows = part(body, 'Common mistakes')
        .split('\n')
        .filter((line) => line.startsWith('|'));
      expect(rows.length - 2).toBeGreaterThanOrEqual(5);
    });

    it('asks at least six questions, with feedback for every wrong answer and numbers drawn anew', () => {
      expect(questions.length).toBeGreaterThanOrEqual(6);
      expect(questions.filter(({ draw }) => draw !== undefined).length).toBeGreaterThanOrEqual(2);
      for (const question of questions) {
        if (!('choices' in question)) continue;
        expect(question.choices.length, question.id).toBeGreaterThanOrEqual(3);
        const said = question.choices.map(({ feedback }) => feedback);
        expect(new Set(said).size, question.id).toBe(said.length);
        for (const feedback of said)
          expect(feedback.length, `${question.id}: ${feedback}`).toBeGreaterThan(10);
      }
    });

    it('speaks of itself alone and uses its own words', () => {
      const all = `${folder(slug, 'lesson.md')}\n${folder(slug, 'questions.yaml')}`;
      expect(all).not.toMatch(/\bdemonstration video|this session|localhost|TODO|lorem/i);
      expect(all).not.toMatch(/\bmarks\b(?! of)/i);
      expect(html).not.toMatch(/\{\{|\}\}/);
    });
  },
);

/** Text as it is read: no calls, tables, figures or signs of Markdown. */
function readText(body: string): string {
  return body
    .replace(/^\|.*$/gm, '')
    .replace(/^\{\{figure.*$/gm, '')
    .replace(/\{\{[^}]*\}\}/g, 'ten')
    .replace(/^#+ .*$/gm, '')
    .replace(/\[([^\]]*)\]\([^)]*\)/g, '$1')
    .replace(/^\s*(\d+\.|-) /gm, '')
    .replace(/[*`]/g, '');
}

/** School year for which a text is fit. Source: Kincaid and others, 1975. */
function readingLevel(body: string): number {
  const text = readText(body);
  const sentences = text.split(/[.!?]+[”*)]*\s|\n\n/).filter((one) => /[a-z]/i.test(one));
  const words = text.match(/[A-Za-z’'-]+/g) ?? [];
  const syllables = words.reduce((sum, word) => sum + syllable(word), 0);
  return fleschKincaid({ sentence: sentences.length, word: words.length, syllable: syllables });
}

it('can be read in the tenth school year, and says how hard each lesson is', () => {
  const levels = course.lessons.map(({ slug, body }) => [slug, readingLevel(body)] as const);
  const lines = levels.map(([slug, level]) => `  ${level.toFixed(1).padStart(5)}  ${slug}`);
  console.info(`Reading level of the lessons, school year (Flesch-Kincaid):\n${lines.join('\n')}`);
  for (const [slug, level] of levels) {
    expect(level, slug).toBeLessThan(10);
    expect(level, slug).toBeGreaterThan(0);
  }
});
