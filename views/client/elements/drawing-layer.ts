import { setChanged } from './set-changed.ts';

/** Moves one part of a drawing. */
export type MovePart = (transform: string) => void;

/** A part that is moved by its `transform`, in the drawing it stands in. */
export function movedInPlace(part: Element | null): MovePart {
  return (transform) => setChanged(part, 'transform', transform);
}

/**
 * Lifts a part off its drawing onto a drawing of its own over it, or under it, and moves that as a whole: the browser then neither
 * lays out nor paints anything while the part moves, where a changed `transform` inside a drawing costs both at every frame.
 * The part must stand in groups that are only shifted, and turn about their origin or be shifted itself. The drawing's place on the
 * page must hold drawings over one another (`.layered`).
 */
export function liftedPart(part: SVGGElement, under = false): MovePart {
  const base = part.ownerSVGElement;
  if (base === null) return movedInPlace(part);
  const { width, height } = base.viewBox.baseVal;
  const layer = base.cloneNode(false) as SVGSVGElement;
  for (const { name } of [...layer.attributes])
    if (!['class', 'viewBox', 'xmlns'].includes(name)) layer.removeAttribute(name);
  layer.classList.add('drawing-layer', ...(under ? ['drawing-layer-under'] : []));
  layer.setAttribute('aria-hidden', 'true');
  layer.setAttribute('focusable', 'false');
  const stands = part.getAttribute('transform') ?? '';
  const { origin, groups } = around(part, base);
  part.removeAttribute('transform');
  const innermost = groups.reduce<Element>((outer, group) => outer.appendChild(group), layer);
  innermost.append(part);
  base.parentElement?.append(layer);
  layer.style.transformOrigin = `${(100 * origin.x) / width}% ${(100 * origin.y) / height}%`;
  const move: MovePart = (transform) => {
    const moved = cssOf(transform, width, height);
    if (layer.style.transform !== moved) layer.style.transform = moved;
  };
  move(stands);
  return move;
}

/** The groups a part stands in, from the outermost, empty; and where their origin lies in the drawing. */
function around(part: Element, base: Element): { origin: { x: number; y: number }; groups: Element[] } {
  const groups: Element[] = [];
  const origin = { x: 0, y: 0 };
  for (let group = part.parentElement; group !== null && group !== base; group = group.parentElement) {
    const [x = 0, y = 0] = numbersIn(group.getAttribute('transform') ?? '');
    origin.x += x;
    origin.y += y;
    groups.unshift(group.cloneNode(false) as Element);
  }
  return { origin, groups };
}

/** A shift or a turn of a drawing's part as one of the whole drawing, whatever the size it is shown at. */
function cssOf(transform: string, width: number, height: number): string {
  const [first = 0, second = 0] = numbersIn(transform);
  return transform.startsWith('rotate')
    ? `rotate(${first}deg)`
    : `translate(${(100 * first) / width}%, ${(100 * second) / height}%)`;
}

const numbersIn = (text: string) => (text.match(/-?\d+(\.\d+)?/g) ?? []).map(Number);
