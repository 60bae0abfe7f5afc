import type { BriefOf, KindName, SheetOf } from '../../server/engine/index.ts';
import { type Boxes, boxesOf, type Desk, type Typed } from '../../server/kinds/index.ts';

/** Which box of a desk's form each place of its sheet is read from; found by asking for the sheet with boxes that hold their own names. */
function placesOf<K extends KindName>(desk: Desk<K>, brief: BriefOf<K>): Map<string, string> {
  const names = boxesOf(desk.form(brief)).map(({ name }) => name);
  // Numbers that no sheet holds by itself.
  const number = (name: string) => 7_000_000 + names.indexOf(name);
  const boxes: Boxes = {
    number: (name) => (names.includes(name) ? number(name) : null),
    choice: (name) => `box ${name}` as never,
    list: (name) => [number(name)],
  };
  const places = new Map<string, string>();
  walk(desk.sheet(brief, boxes), '', (path, value) => {
    const named = typeof value === 'string' && value.startsWith('box ') ? value.slice(4) : undefined;
    const name = named ?? (typeof value === 'number' ? names[value - 7_000_000] : undefined);
    if (name !== undefined) places.set(path, name);
  });
  return places;
}

/** A sheet as a student would type it into the boxes of its form. */
export function typedFrom<K extends KindName>(desk: Desk<K>, brief: BriefOf<K>, sheet: SheetOf<K>): Typed {
  const typed: Record<string, string> = {};
  const places = placesOf(desk, brief);
  const lists = new Set(boxesOf(desk.form(brief)).flatMap(({ box, name }) => (box === 'list' ? [name] : [])));
  walk(sheet, '', (path, value) => {
    const name = places.get(path) ?? places.get(path.replace(/\.\d+$/, '.0'));
    if (name === undefined || value === null) return;
    const text = typeof value === 'number' ? String(Number(value.toFixed(6))) : String(value);
    typed[name] = lists.has(name) && typed[name] !== undefined ? `${typed[name]} ${text}` : text;
  });
  return typed;
}

function walk(value: unknown, path: string, visit: (path: string, leaf: unknown) => void): void {
  if (value !== null && typeof value === 'object')
    for (const [key, inner] of Object.entries(value))
      walk(inner, path === '' ? key : `${path}.${key}`, visit);
  else visit(path, value);
}
