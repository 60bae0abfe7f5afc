import MarkdownIt from 'markdown-it';
import { type Glossary, NO_TERMS } from './glossary.ts';
import { linkTerms, type Token } from './link-terms.ts';

/** Markdown as HTML, with its headings of the second level and the places its links go to. */
export interface Rendered {
  readonly html: string;
  readonly contents: readonly { readonly id: string; readonly text: string }[];
  readonly ids: ReadonlySet<string>;
  readonly links: readonly string[];
}

/**
 * HTML in the text is shown as text; links to scripts are refused by the library. Pictures are not read: figures of the course are drawn here.
 */
const reader = new MarkdownIt({ html: false, linkify: false, typographer: false }).disable('image');

/** The same for what instructors write, who may put in the pictures they uploaded and no others: nothing is fetched from elsewhere. */
const readerWithImages = new MarkdownIt({ html: false, linkify: false, typographer: false });
const IMAGE = /^\/lesson-images\/[0-9a-f-]{36}$/;
readerWithImages.renderer.rules.image = (tokens, index) => {
  const token = tokens[index];
  const address = String(token?.attrGet('src') ?? '');
  const words = readerWithImages.utils.escapeHtml(token?.content ?? '');
  return IMAGE.test(address)
    ? `<img class="lesson-image" src="${address}" alt="${words}" loading="lazy">`
    : `<span class="quiet">[picture from elsewhere left out: ${words}]</span>`;
};

/** Last of all, when the text has been taken apart; whoever parses says which terms there are. */
for (const one of [reader, readerWithImages]) {
  const { validateLink } = one;
  // The library refuses scripts and lets pictures through as data; here a link leads to a page and nowhere else.
  one.validateLink = (address) => validateLink(address) && !/^\s*(data|blob|file):/i.test(address);
  one.core.ruler.push('link-terms', ({ tokens, env, Token }) =>
    linkTerms(
      tokens,
      (env as { glossary?: Glossary }).glossary ?? NO_TERMS,
      (...parts) => new Token(...parts),
    ),
  );
}

/** What stands in a cell is one thing, words and links together: on a phone it stands as a whole beside its column's name. */
for (const { renderer } of [reader, readerWithImages]) {
  renderer.rules.td_open = (tokens, index, options) =>
    `${renderer.renderToken(tokens, index, options)}<span>`;
  renderer.rules.td_close = (tokens, index, options) =>
    `</span>${renderer.renderToken(tokens, index, options)}`;
}

/** Are uploaded pictures shown? */
export type Images = 'with-images' | 'without-images';

export function renderMarkdown(
  text: string,
  glossary: Glossary = NO_TERMS,
  images: Images = 'without-images',
): Rendered {
  const markdown = images === 'with-images' ? readerWithImages : reader;
  const tokens = markdown.parse(text, { glossary });
  const contents: { id: string; text: string }[] = [];
  const ids = new Set<string>();
  tokens.forEach((token, index) => {
    if (token.type !== 'heading_open') return;
    const words = tokens[index + 1]?.content ?? '';
    const id = freeId(words, ids);
    ids.add(id);
    token.attrSet('id', id);
    if (token.tag === 'h2') contents.push({ id, text: words });
  });
  dressTables(tokens);
  const links = tokens.flatMap((token) =>
    (token.children ?? []).filter((child) => child.type === 'link_open' && child.attrGet('class') !== 'term'),
  );
  return {
    html: markdown.renderer.render(tokens, markdown.options, {}),
    contents,
    ids,
    links: links.map((link) => String(link.attrGet('href') ?? '')),
  };
}

/** A sentence or two of Markdown inside other text: a question, a choice, feedback. */
export function renderInline(text: string): string {
  return reader.renderInline(text);
}

function freeId(words: string, taken: ReadonlySet<string>): string {
  const plain =
    words
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-|-$/g, '') || 'part';
  let id = plain;
  for (let more = 2; taken.has(id); more += 1) id = `${plain}-${more}`;
  return id;
}

/** On a phone a row becomes a card: its first cell is the heading, each other cell says which column it is of. */
function dressTables(tokens: readonly Token[]): void {
  let heads: string[] = [];
  let column = 0;
  let first: Token | undefined;
  tokens.forEach((token, index) => {
    if (token.type === 'table_open') {
      token.attrSet('class', 'ruled stacks');
      heads = [];
    }
    if (token.type === 'tr_open') column = 0;
    if (token.type === 'th_open') {
      token.attrSet('scope', 'col');
      heads.push(tokens[index + 1]?.content ?? '');
    }
    if (token.type === 'td_open') {
      if (column === 0) {
        token.tag = 'th';
        token.attrSet('scope', 'row');
        first = token;
      } else token.attrSet('data-label', heads[column] ?? '');
      column += 1;
    }
    if (token.type === 'td_close' && first) {
      token.tag = 'th';
      first = undefined;
    }
  });
}
