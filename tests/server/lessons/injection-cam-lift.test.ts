import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readDemoProgram } from '../../../server/commands/load-program.ts';
import {
  convertLength,
  DIALS,
  judge,
  NM_PER_LBF_FT,
  readDial,
  shownLeaning,
  torqueSetting,
} from '../../../server/engine/index.ts';
import { loadLessons } from '../../../server/lessons/load.ts';
import { fromRoot } from '../../../server/root.ts';

const SLUG = 'measuring-injection-cam-lift';
const lesson = loadLessons(fromRoot('lessons')).find(({ slug }) => slug === SLUG);
if (!lesson) throw new Error(`there is no lesson ${SLUG}`);
const { html } = lesson;
/** The words alone, for looking for a sentence. */
const words = html
  .replace(/<svg[\s\S]*?<\/svg>/g, '')
  .replace(/<[^>]*>/g, '')
  .replace(/\s+/g, ' ');

const reads = (dial: keyof typeof DIALS, turns: number, pointer: number) => {
  const gauge = DIALS[dial];
  const travel = turns * gauge.rangePerTurn + pointer * gauge.graduation;
  return readDial({ ...gauge, plungerAtZero: 0.1 * gauge.travel, counterAtZero: 1 }, travel).reading;
};

describe('the lesson on injection-cam lift', () => {
  it('has every part a lesson must have, in order', () => {
    expect(lesson.contents.map(({ text }) => text)).toEqual([
      'Why the lift matters',
      'The indicator',
      'Open the engine',
      'Look before you measure',
      'Set up',
      'Zero on the base circle',
      'Bar, count, read',
      'Worked examples',
      'Common mistakes',
      'Verdict, and what next',
      'Back together',
    ]);
    expect(lesson.head.cautions).toBe(true);
    expect(lesson.head.aims.length).toBeGreaterThanOrEqual(4);
    expect(lesson.live).toBe(true);
    expect(lesson.questions.length).toBeGreaterThanOrEqual(6);
  });

  it('belongs to a competency that exists', () => {
    const codes = readDemoProgram().competencies.map(({ code }) => code);
    for (const code of lesson.head.competencies) expect(codes).toContain(code);
  });

  it('says where each fact comes from, or that it has no source', () => {
    for (const { what, from } of lesson.head.sources) expect(`${what}: ${from}`).toMatch(/: .{5}/);
    expect(lesson.head.sources.map(({ from }) => from)).toContain('common practice, no source');
    expect(words).toContain('only an example: common practice, no source');
  });

  it('leads every link to a place that exists', () => {
    const ids = new Set([...html.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id));
    for (const [, href] of html.matchAll(/<a href="([^"]+)"/g)) {
      expect(href).toMatch(/^#|^\/lessons/);
      if (href?.startsWith('#')) expect(ids).toContain(href.slice(1));
    }
  });

  it('gives each drawing ids of its own and leaves no template unresolved', () => {
    const ids = [...html.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
    expect([...html.matchAll(/<figure/g)]).toHaveLength(2);
    expect(html).not.toMatch(/\{\{|\}\}|\uE000|undefined|NaN/);
    expect(html).not.toMatch(/ style=| on[a-z]+=/);
  });

  it('gives each worked reading as the engine reads it', () => {
    // 0.214 in = 5.4356 mm and 4.98 mm: published-values, section 1.1 (arithmetic).
    const inch = reads('inch-0.001-1', 2, 14);
    expect(words).toContain(
      `= ${inch.toFixed(3)} in, which is ${convertLength(inch, 'in', 'mm').toFixed(4)} mm`,
    );
    expect(inch.toFixed(3)).toBe('0.214');
    expect(convertLength(inch, 'in', 'mm')).toBeCloseTo(5.4356, 10);
    expect(words).toContain(`whole turns: ${reads('inch-0.001-1', 2, 37).toFixed(3)} in`);
    expect(words).toContain(`three turns and ${reads('inch-0.001-1', 3, 37).toFixed(3)} in`);
    expect(words).toContain(`One turn forgotten gives ${reads('inch-0.001-1', 1, 37).toFixed(3)} in`);
    expect(words).toContain(`so four: ${reads('metric-0.01-10', 4, 98).toFixed(2)} mm, not 5.98 mm`);
  });

  it('gives the small hand as the engine shows it', () => {
    const counterAt = (counterAtZero: number, travel: number, dial: keyof typeof DIALS) =>
      readDial({ ...DIALS[dial], plungerAtZero: 0, counterAtZero }, travel).counter?.toFixed(1);
    expect(words).toContain(
      `It stood at 1.4 at zero. At the high point it stands at ${counterAt(1.4, 0.237, 'inch-0.001-1')}`,
    );
    expect(words).toContain(`small hand from 1.0 to ${counterAt(1, 4.98, 'metric-0.01-10')}, pointer 98`);
  });

  it('gives the verdicts as the engine judges them, on the limit too', () => {
    const limits = { lower: 0.233, upper: null };
    for (const lift of [0.232, 0.233, 0.241])
      expect(words).toContain(`${lift} in is ${judge(lift, null, limits).verdict}`);
    expect(judge(0.233, null, limits).verdict).toBe('inside');
    expect(words).toContain(`write ${((0.236 + 0.237) / 2).toFixed(4)} in`);
  });

  it('gives lean, torque and adapter as their sources do', () => {
    // The engine's own values are checked against their sources in tests/published, cosine and torque.
    const leanError = (degrees: number) => shownLeaning(0.237, degrees, 'leans-on-square-face') - 0.237;
    for (const degrees of [5, 8, 12]) expect(words).toContain(`${leanError(degrees).toFixed(4)} in`);
    expect(words).toContain(`set ${torqueSetting(35, 18, 1.25, 0).toFixed(1)} lbf·ft`);
    for (const lbfFt of [20, 35]) expect(words).toContain(`${(lbfFt * NM_PER_LBF_FT).toFixed(1)} N·m`);
  });

  it('keeps every caution on the page it is shown on', () => {
    const cautions = readFileSync(fromRoot('views', 'lessons', 'cautions.eta'), 'utf8');
    for (const said of [
      'Eye protection',
      'rings',
      'watch',
      'sleeves',
      'tagged',
      'starting disabled',
      'keys held',
      'air starter',
      'bleed the pressure',
      'goes through skin',
      'high-pressure injection',
      'wait for the answer',
      'One person gives the word',
      'finger in a tappet bore',
      'kick back',
      'run on',
      'pull, don’t lean',
      'fan or a belt',
      'not every engine turns the same way',
      'barring tool off',
      'Base circle first',
      'both bolts evenly',
      'dangerous voltage',
      'No flames',
      'spills',
      'stand’s lock',
      'hot parts',
      'maker’s manual',
      'shop’s rules',
      'local codes',
      'licensed or certified person',
    ])
      expect(cautions, said).toContain(said);
  });
});
