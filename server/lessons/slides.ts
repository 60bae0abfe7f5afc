import type { Lesson } from './load.ts';

/** One slide: its heading, and what stands under it. */
export interface Slide {
  readonly heading: string;
  readonly html: string;
}

/**
 * A lesson in slides for a projector: one a heading of the second or third level, its text as it stands, a figure on a slide of its own
 * where text stands before it. Nothing is left out and nothing is added.
 */
export function slidesOf({ html, head }: Pick<Lesson, 'html' | 'head'>): readonly Slide[] {
  const parts = html.split(/(?=<h[23] id=")/).flatMap((part): Slide[] => {
    const found = /^<h[23] id="[^"]*">([\s\S]*?)<\/h[23]>/.exec(part);
    const heading = found?.[1] ?? head.title;
    const text = part.slice(found?.[0].length ?? 0).trim();
    return text === '' ? [] : withFiguresApart(text).map((one) => ({ heading, html: one }));
  });
  return parts;
}

function withFiguresApart(html: string): readonly string[] {
  return html
    .split(/(<figure[\s\S]*?<\/figure>)/)
    .map((part) => part.trim())
    .filter((part) => part !== '');
}
