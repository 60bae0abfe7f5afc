/** Small helpers every drawing shares. Drawings are strings, so that the server and the page make the same ones. */

/** What every drawing is told about its place on the page. */
export interface DrawingNames {
  /** Unique on the page; title and description are found by it. */
  readonly id: string;
  /** What the drawing is, for a person who doesn't see it. */
  readonly title: string;
  /** More, where a title isn't enough. */
  readonly description?: string;
}

/** A number short enough for a drawing: two decimals, no trailing zeros, never -0. */
export function num(value: number): string {
  const rounded = Math.round(value * 100) / 100;
  return String(rounded === 0 ? 0 : rounded);
}

/** Text safe inside an element or a quoted attribute. */
export function escapeText(text: string): string {
  return text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;').replace(/"/g, '&quot;');
}

/** A whole drawing: named, of a given size, never focusable by itself. `attributes` go on the root. */
export function drawing(
  names: DrawingNames,
  size: { readonly width: number; readonly height: number },
  className: string,
  body: string,
  attributes = '',
): string {
  const id = escapeText(names.id);
  const description = names.description
    ? `<desc id="${id}-desc">${escapeText(names.description)}</desc>`
    : '';
  const labelled = names.description
    ? `aria-labelledby="${id}-title" aria-describedby="${id}-desc"`
    : `aria-labelledby="${id}-title"`;
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" id="${id}" class="drawing ${className}" viewBox="0 0 ${num(size.width)} ${num(size.height)}" ` +
    `role="img" ${labelled} focusable="false"${attributes ? ` ${attributes}` : ''}>` +
    `<title id="${id}-title">${escapeText(names.title)}</title>${description}${body}</svg>`
  );
}

/** A point on a circle about the origin, `deg` clockwise from twelve o'clock. */
export function onCircle(radius: number, deg: number): readonly [number, number] {
  const rad = (deg * Math.PI) / 180;
  return [radius * Math.sin(rad), -radius * Math.cos(rad)];
}

/** A radial line about the origin, as path data. A dial has hundreds of them, so each is written as short as path data allow. */
export function radial(deg: number, from: number, to: number): string {
  const [x1, y1] = onCircle(from, deg);
  const [x2, y2] = onCircle(to, deg);
  const [x, y] = [tenth(x1), tenth(y1)];
  return `M${pair(x, y)}l${pair(tenth(x2 - x), tenth(y2 - y))}`;
}

/** A line through points, as path data in steps of tenths: no step loses what the one before was rounded by. */
export function polyline(points: readonly (readonly [number, number])[]): string {
  let [atX, atY] = [0, 0];
  return points
    .map(([x, y], index) => {
      const [dx, dy] = [tenth(x - atX), tenth(y - atY)];
      [atX, atY] = [atX + dx, atY + dy];
      return `${index === 0 ? 'M' : 'l'}${pair(dx, dy)}`;
    })
    .join('');
}

const tenth = (value: number) => Math.round(value * 10) / 10;

/** Two numbers of path data: no zero before a point, and no space where a minus parts them. */
function pair(x: number, y: number): string {
  const [first, second] = [short(x), short(y)];
  return second.startsWith('-') ? `${first}${second}` : `${first} ${second}`;
}

function short(value: number): string {
  const text = (value === 0 ? 0 : value).toFixed(1).replace(/\.0$/, '');
  return text === '-0' ? '0' : text.replace(/^(-?)0\./, '$1.');
}
