import MarkdownIt from 'markdown-it';

/** Markdown as HTML, with its headings of the second level and the places its links go to. */
export interface Rendered {
  readonly html: string;
  readonly contents: readonly { readonly id: string; readonly text: string }[];
  readonly ids: ReadonlySet<string>;
  readonly links: readonly string[];
}

/**
 * One reader for everything a lesson holds. HTML in the text is shown as text; pictures from elsewhere are not read at all, since
 * figures are drawn here; links to scripts are refused by the library.
 */
const reader = new MarkdownIt({ html: false, linkify: false, typographer: false }).disable('image');

type Token = ReturnType<typeof reader.parse>[number];

export function renderMarkdown(text: string): Rendered {
  const tokens = reader.parse(text, {});
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
    (token.children ?? []).filter((child) => child.type === 'link_open'),
  );
  return {
    html: reader.renderer.render(tokens, reader.options, {}),
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
