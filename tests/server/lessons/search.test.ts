import { describe, expect, it } from 'vitest';
import { readGlossary } from '../../../server/lessons/glossary.ts';
import { CourseSearch } from '../../../server/lessons/search.ts';
import { HEAD, loadSample } from './support.ts';

const glossary = readGlossary(
  '- { term: lobe, spanish: leva, also: [], means: "The raised part of a camshaft." }',
);
const body =
  'Opening words on safety.\n\n## Backlash\n\nRock the gear and read the pointer.\n\n## Torque\n\nTighten the nuts evenly.\n';
const lesson = loadSample({ head: HEAD.replace('A lesson', 'Two jobs'), body });
const search = new CourseSearch({ lessons: [lesson], glossary, competencies: new Map() });
const find = (question: string) =>
  search.find(question, () => true).map(({ key, part, anchor }) => `${key}/${part}#${anchor}`);

describe('searching the course', () => {
  it('finds the part of a lesson, by stems and by the beginning of words', () => {
    expect(find('gears')).toEqual(['sample/Backlash#backlash']);
    expect(find('tighten nut')).toEqual(['sample/Torque#torque']);
    expect(find('backl')).toEqual(['sample/Backlash#backlash']);
    expect(find('safety')).toEqual(['sample/#']);
  });

  it('finds a word of the glossary, by its Spanish too', () => {
    expect(find('leva')).toEqual(['null/leva#lobe']);
    expect(find('camshaft')).toEqual(['null/leva#lobe']);
  });

  it('puts a title before a mention', () => {
    expect(find('torque')[0]).toBe('sample/Torque#torque');
  });

  it('takes nothing typed for an operator', () => {
    for (const odd of [
      '"',
      'NEAR(',
      'a AND',
      '*',
      'title:x',
      "'; DROP TABLE parts; --",
      '   ',
      '^',
      '(',
      'NOT',
    ])
      expect(() => find(odd), odd).not.toThrow();
    expect(find('gear OR nuts')).toEqual([]);
  });

  it('leaves out what may not be read', () => {
    expect(search.find('gear', (key) => key !== 'sample')).toEqual([]);
  });

  it('says which words matched, and keeps up with what changes', () => {
    const [found] = search.find('gear', () => true);
    expect(found?.excerpt.filter(({ match }) => match).map(({ text }) => text)).toEqual(['gear']);
    search.keepUp([{ ...lesson, html: '<h2 id="a">A</h2><p>Nothing but priming.</p>' }]);
    expect([find('gear'), find('priming')]).toEqual([[], ['sample/A#a']]);
  });
});
