import Database from 'better-sqlite3';
import type { Course, Lesson } from './load.ts';

/** A lesson as it is searched: `key` is what its address ends with. */
export interface SearchedLesson {
  readonly key: string;
  readonly title: string;
  readonly aims: readonly string[];
  readonly html: string;
}

/** A place where the words were found. */
export interface Found {
  /** The lesson's key; null for a word of the glossary. */
  readonly key: string | null;
  readonly title: string;
  /** The part of the lesson, and its place on the page. */
  readonly part: string;
  readonly anchor: string;
  /** Text around the words, in pieces: those that match and those between. */
  readonly excerpt: readonly { readonly text: string; readonly match: boolean }[];
}

/** Around a match in an excerpt; from Unicode's private use area, so no text holds them by chance. */
const [OPEN, CLOSE] = ['\uE001', '\uE002'];
const MOST = 30;

/**
 * Lessons and glossary by their words, in SQLite's FTS5, in memory: what is searched is read from files and versions at the start, so nothing of
 * it needs keeping. Words are cut to their stems, accents do not matter, the last letters of a word may be missing.
 */
export class CourseSearch {
  readonly #db = new Database(':memory:');
  /** The text that is searched, by key. */
  readonly #known = new Map<string, string>();

  constructor({ lessons, glossary }: Course) {
    this.#db.exec(
      `CREATE VIRTUAL TABLE parts USING fts5(key UNINDEXED, anchor UNINDEXED, title, part, text, tokenize = "porter unicode61 remove_diacritics 2")`,
    );
    for (const lesson of lessons) this.put(searched(lesson));
    const term = this.#db.prepare('INSERT INTO parts VALUES (NULL, ?, ?, ?, ?)');
    for (const { id, term: word, spanish, means } of glossary.terms) term.run(id, word, spanish, means);
  }

  /** Puts in what instructors have written or changed since: a lesson whose text is not the one known. */
  keepUp(lessons: readonly Lesson[]): void {
    for (const lesson of lessons)
      if (this.#known.get(lesson.slug) !== lesson.html) this.put(searched(lesson));
  }

  /** Adds a lesson, or puts its new text in the place of the old. */
  put({ key, title, aims, html }: SearchedLesson): void {
    this.#known.set(key, html);
    this.#db.prepare('DELETE FROM parts WHERE key = ?').run(key);
    const add = this.#db.prepare('INSERT INTO parts VALUES (?, ?, ?, ?, ?)');
    add.run(key, '', title, 'Aims', aims.join(' '));
    for (const { id, heading, text } of partsOf(html)) add.run(key, id, title, heading, text);
  }

  /** The best places first; nothing for a question without a word. `mayRead` leaves out lessons by their keys. */
  find(question: string, mayRead: (key: string) => boolean): readonly Found[] {
    const words = question.match(/[\p{L}\p{N}]+/gu) ?? [];
    if (words.length === 0) return [];
    // Quoted, so that nothing typed is an operator of FTS5.
    const query = words
      .slice(0, 12)
      .map((word) => `"${word}"*`)
      .join(' ');
    const rows = this.#db
      .prepare(
        `SELECT key, anchor, title, part, snippet(parts, 4, '${OPEN}', '${CLOSE}', '…', 24) AS excerpt
         FROM parts WHERE parts MATCH ? ORDER BY bm25(parts, 0, 0, 8, 4, 1) LIMIT 200`,
      )
      .all(query) as { key: string | null; anchor: string; title: string; part: string; excerpt: string }[];
    return rows
      .filter(({ key }) => key === null || mayRead(key))
      .slice(0, MOST)
      .map(({ excerpt, ...row }) => ({ ...row, excerpt: piecesOf(excerpt) }));
  }
}

const searched = ({ slug, head, html }: Lesson): SearchedLesson => ({
  key: slug,
  title: head.title,
  aims: head.aims,
  html,
});

function piecesOf(excerpt: string): Found['excerpt'] {
  return excerpt
    .split(new RegExp(`(${OPEN}[^${CLOSE}]*${CLOSE})`))
    .filter((text) => text !== '')
    .map((text) =>
      text.startsWith(OPEN) ? { text: text.slice(1, -1), match: true } : { text, match: false },
    );
}

/** The words of a lesson, by its headings of the second level. Figures are left out: their words are not the lesson's. */
function partsOf(html: string): { id: string; heading: string; text: string }[] {
  const words = html.replace(/<figure[\s\S]*?<\/figure>/g, ' ');
  return words.split(/(?=<h2 id=")/).map((part) => {
    const head = /^<h2 id="([^"]+)">([\s\S]*?)<\/h2>/.exec(part);
    return {
      id: head?.[1] ?? '',
      heading: plain(head?.[2] ?? ''),
      text: plain(part.slice(head?.[0].length ?? 0)),
    };
  });
}

function plain(html: string): string {
  return html
    .replace(/<[^>]*>/g, ' ')
    .replace(/&lt;/g, '<')
    .replace(/&gt;/g, '>')
    .replace(/&quot;/g, '"')
    .replace(/&amp;/g, '&')
    .replace(/\s+/g, ' ')
    .trim();
}
