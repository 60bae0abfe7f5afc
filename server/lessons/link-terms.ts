import type MarkdownIt from 'markdown-it';
import { type Glossary, keyOf } from './glossary.ts';

export type Token = ReturnType<InstanceType<typeof MarkdownIt>['parse']>[number];
/** Makes a token of the Markdown library. */
export type MakeToken = (type: string, tag: string, nesting: -1 | 0 | 1) => Token;

/**
 * Links the first use of each term to the glossary. Headings, links and code are left as they are.
 */
export function linkTerms(tokens: readonly Token[], { pattern, byForm }: Glossary, make: MakeToken): void {
  if (pattern === null) return;
  const linked = new Set<string>();
  let inHeading = false;
  for (const token of tokens) {
    if (token.type === 'heading_open' || token.type === 'th_open') inHeading = true;
    if (token.type === 'heading_close' || token.type === 'th_close') inHeading = false;
    if (token.type !== 'inline' || inHeading || token.children === null) continue;
    let inside = 0;
    token.children = token.children.flatMap((child) => {
      if (child.type === 'link_open') inside += 1;
      if (child.type === 'link_close') inside -= 1;
      return child.type === 'text' && inside === 0 ? withLinks(child) : [child];
    });
  }

  function withLinks(text: Token): Token[] {
    const parts: Token[] = [];
    let from = 0;
    for (const found of text.content.matchAll(pattern as RegExp)) {
      const term = byForm.get(keyOf(found[0]));
      if (term === undefined || linked.has(term.id)) continue;
      linked.add(term.id);
      parts.push(words(text.content.slice(from, found.index)), ...link(found[0], term.id));
      from = found.index + found[0].length;
    }
    return from === 0 ? [text] : [...parts, words(text.content.slice(from))];
  }

  function words(content: string): Token {
    const token = make('text', '', 0);
    token.content = content;
    return token;
  }

  function link(form: string, id: string): Token[] {
    const open = make('link_open', 'a', 1);
    open.attrSet('class', 'term');
    open.attrSet('href', `/glossary#${id}`);
    return [open, words(form), make('link_close', 'a', -1)];
  }
}
