import { describe, expect, it } from 'vitest';
import { LessonProblem } from '../../../server/lessons/index.ts';
import { askQuestion } from '../../../server/lessons/questions.ts';
import { HEAD, loadSample, QUESTIONS } from './support.ts';

describe('a lesson that cannot be shown stops the start with a sentence naming file and field', () => {
  const cases: readonly (readonly [string, Parameters<typeof loadSample>[0], RegExp])[] = [
    [
      'an unknown field',
      { head: `${HEAD}colour: blue\n` },
      /^lessons\/sample\/lesson\.md: the front matter .*colour/,
    ],
    ['minutes in words', { head: HEAD.replace('5', 'five') }, /^lessons\/sample\/lesson\.md: minutes /],
    ['no aims', { head: HEAD.replace('[Read a dial]', '[]') }, /lesson\.md: aims .*at least one aim/],
    ['YAML that is none', { head: 'title: [\n' }, /lesson\.md: the YAML cannot be read/],
    [
      'an unknown name',
      { body: '{{lift turns=2}}\n' },
      /lesson\.md: the text holds \{\{lift\}\}, which is not known/,
    ],
    [
      'an unknown dial',
      { body: '{{reading turns=2 pointer=1 dial=big}}\n' },
      /dial must be one of inch-0\.001-1/,
    ],
    [
      'a missing value',
      { body: '{{reading turns=2 dial=inch-0.001-1}}\n' },
      /the text holds \{\{reading\}\} without pointer/,
    ],
    ['braces left open', { body: 'The lift is {{reading\n' }, /never closed/],
    [
      'a reading past the travel',
      { body: '{{reading turns=2 pointer=60 dial=inch-0.001-0.25}}\n' },
      /past the gauge's travel/,
    ],
    ['an unknown figure', { body: '{{figure cat}}\n' }, /\{\{figure cat\}\}, which is not known/],
    ['a figure in a sentence', { body: 'See {{figure lift}} here.\n' }, /line of its own/],
    ['a link to nowhere', { body: '[there](#nowhere)\n' }, /links to #nowhere/],
    [
      'a right answer that is none',
      { questions: QUESTIONS.replace('right: "yes"', 'right: perhaps') },
      /questions\.yaml: question one is right at "perhaps"/,
    ],
    [
      'a number nobody draws',
      { questions: QUESTIONS.replace('One?', '"Is it {{lift}}?"') },
      /question one holds \{\{lift\}\}/,
    ],
    [
      'a draw that is not known',
      { questions: QUESTIONS.replace('  ask', '  draw: dice\n  ask') },
      /question one is "dice"/,
    ],
    ['one question twice', { questions: QUESTIONS + QUESTIONS }, /questions\.yaml: one stands there twice/],
  ];
  for (const [what, parts, sentence] of cases) {
    it(what, () => {
      expect(() => loadSample(parts)).toThrow(LessonProblem);
      expect(() => loadSample(parts)).toThrow(sentence);
    });
  }

  it('and one without a fault is loaded', () => {
    const lesson = loadSample({
      body: '## Part\n\nSee [it](#part): {{reading turns=2 pointer=14 dial=inch-0.001-1}}.\n',
    });
    expect(lesson.contents).toEqual([{ id: 'part', text: 'Part' }]);
    expect(lesson.html).toContain('<a href="#part">it</a>: 0.214 in.');
  });
});

describe('hostile Markdown', () => {
  it('shows HTML as text', () => {
    const { html } = loadSample({
      body: '<script>alert(1)</script>\n\nA <img src=x onerror=alert(1)> word.\n',
    });
    expect(html).not.toMatch(/<script|<img/);
    expect(html).toContain('&lt;script&gt;');
  });

  it('makes no link to a script', () => {
    const { html } = loadSample({
      body: '[a](javascript:alert(1)) [b](JaVaScRiPt:alert(1)) [c](data:text/html,x) [d](&#106;avascript:alert(1))\n',
    });
    expect(html).not.toContain('<a ');
  });

  it('loads no picture from anywhere', () => {
    expect(loadSample({ body: '![x](https://example.invalid/x.png)\n' }).html).not.toContain('<img');
  });

  it('puts no markup in through a caption', () => {
    const { html } = loadSample({
      body: '{{figure dials turns=1 pointer=2 dial=inch-0.001-1 caption="<b onclick=x>Look</b>"}}\n',
    });
    expect(html).not.toContain('<b');
    expect(html).toContain('Look');
  });

  it('is harmless in questions too', () => {
    const { questions } = loadSample({ questions: QUESTIONS.replace('text: Yes', 'text: "<i>Yes</i>"') });
    const asked = questions.map((one) => askQuestion(one, { slug: 'sample', personId: 1, tries: 0 }));
    expect(asked[0]?.choices?.map(({ html }) => html)).toContain('&lt;i&gt;Yes&lt;/i&gt;');
  });
});
