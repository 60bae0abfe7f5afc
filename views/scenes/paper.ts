import { escapeText, num } from '../drawing/svg.ts';

/** Lines the scenes share, in the drawing convention of the trade. */

/** A pattern of section lines, at an angle from upright. Each part of an assembly is lined its own way. */
export function sectionLines(id: string, deg: number, apart = 6): string {
  return (
    `<defs><pattern id="${escapeText(id)}" width="${apart}" height="${apart}" patternUnits="userSpaceOnUse" patternTransform="rotate(${deg})">` +
    `<path class="section-lines" d="M0 0V${apart}"/></pattern></defs>`
  );
}

/** Metal that is cut through: outlined, with the section lines of a pattern. */
export function cut(d: string, pattern: string): string {
  return `<path class="part" d="${d}"/><path fill="url(#${escapeText(pattern)})" d="${d}"/>`;
}

/** Metal that is not cut. */
export function part(d: string): string {
  return `<path class="part" d="${d}"/>`;
}

export function line(d: string): string {
  return `<path class="line" d="${d}"/>`;
}

export function centreLine(d: string): string {
  return `<path class="centre-line" d="${d}"/>`;
}

/** A word on the drawing. */
export function word(
  x: number,
  y: number,
  text: string,
  anchor: 'start' | 'middle' | 'end' = 'start',
): string {
  const where = anchor === 'start' ? '' : ` text-anchor="${anchor}"`;
  return `<text class="scene-word" x="${num(x)}" y="${num(y)}"${where}>${escapeText(text)}</text>`;
}

/** A line from a word to what it names, with a dot where it ends inside the part. */
export function leader(fromX: number, fromY: number, toX: number, toY: number): string {
  return `<path class="scene-leader" d="M${num(fromX)} ${num(fromY)}L${num(toX)} ${num(toY)}"/><circle class="part-ink" cx="${num(toX)}" cy="${num(toY)}" r="1.8"/>`;
}

/** A filled arrow head with its point there, pointing `deg` clockwise from upwards. */
export function arrowHead(x: number, y: number, deg: number): string {
  return `<path class="part-ink" d="M0 0L-3.6 9H3.6Z" transform="translate(${num(x)} ${num(y)}) rotate(${num(deg)})"/>`;
}

/** The bench or the floor: a line with short strokes under it. */
export function ground(from: number, to: number, y: number): string {
  let strokes = '';
  for (let x = from + 6; x <= to; x += 10) strokes += `M${x} ${y}l-6 6`;
  return `<path class="line-heavy" d="M${from} ${y}H${to}"/><path class="section-lines" d="${strokes}"/>`;
}
