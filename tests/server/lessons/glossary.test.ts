import { describe, expect, it } from 'vitest';
import { NO_TERMS, readGlossary } from '../../../server/lessons/glossary.ts';
import { renderMarkdown } from '../../../server/lessons/markdown.ts';

const GLOSSARY = readGlossary(`
- { term: nose, spanish: cresta, also: [noses], means: "The highest part." }
- { term: lobe, spanish: leva, also: [lobes, cam lobe], means: "What lifts." }
- { term: maker’s manual, spanish: manual, also: [], means: "The book." }
`);
const html = (text: string) => renderMarkdown(text, GLOSSARY).html;
const links = (text: string) =>
  [...html(text).matchAll(/<a class="term" href="\/glossary#([^"]+)">([^<]*)<\/a>/g)].map(
    ([, id, word]) => `${id}=${word}`,
  );

describe('words of the glossary in a lesson', () => {
  it('are linked at their first use, whatever the form and the case', () => {
    expect(links('Lobes have a nose.\n\nA lobe has one nose.')).toEqual(['lobe=Lobes', 'nose=nose']);
    expect(links('The cam lobe lifts.')).toEqual(['lobe=cam lobe']);
    expect(links("Read the maker's manual.")).toEqual(["maker-s-manual=maker's manual"]);
  });

  it('are left alone in headings, links, code and parts of other words', () => {
    expect(links('## The nose\n\n[the nose](/lessons/x), `nose`, nosepiece, nose-heavy, snose')).toEqual([]);
    expect(links('| nose | lobe |\n|---|---|\n| a nose | b |')).toEqual(['nose=nose']);
  });

  it('change nothing without a glossary', () => {
    expect(renderMarkdown('A nose.', NO_TERMS).html).toBe('<p>A nose.</p>\n');
  });

  it('are sorted, and no form belongs to two', () => {
    expect(GLOSSARY.terms.map(({ term }) => term)).toEqual(['lobe', 'maker’s manual', 'nose']);
    const twice =
      '- { term: a, spanish: b, also: [c], means: d }\n- { term: C, spanish: b, also: [], means: d }';
    expect(() => readGlossary(twice)).toThrow(/another term both hold "C"/);
    expect(() => readGlossary('- { term: a }')).toThrow(/glossary.yaml: 0.spanish/);
    expect(() => readGlossary('[')).toThrow(/cannot be read/);
  });
});
