import { type DrawingNames, drawing, num, onCircle, radial } from './svg.ts';

const SIZE = 192;
const DAMPER = 56;

/** Where the chalk mark stands: `transform` of `data-part="mark"`. Degrees clockwise facing the front, any finite number. */
export function crankTransform(crankDeg: number): string {
  return `rotate(${num(((crankDeg % 360) + 360) % 360)})`;
}

/**
 * The crank's damper from the front, with a chalk mark on it and a ring of degrees behind. `crankDeg` 0 to 360, clockwise.
 * The figure in the middle is `data-part="degrees"`.
 */
export function crankSvg(shown: { readonly crankDeg: number }, names: DrawingNames): string {
  let fine = '';
  let coarse = '';
  let words = '';
  for (let deg = 0; deg < 360; deg += 10) {
    if (deg % 30 === 0) coarse += radial(deg, 59, 68);
    else fine += radial(deg, 59, 64);
    if (deg % 90 !== 0) continue;
    const [x, y] = onCircle(deg % 180 === 0 ? 78 : 82, deg);
    words += `<text class="crank-small" x="${num(x)}" y="${num(y + 5.5)}">${deg}</text>`;
  }
  const body =
    `<g transform="translate(${SIZE / 2} ${SIZE / 2})"><path class="line" d="${fine}"/><path class="line-heavy" d="${coarse}"/>${words}` +
    `<circle class="crank-damper" r="${DAMPER}"/>` +
    `<g data-part="mark" transform="${crankTransform(shown.crankDeg)}"><path class="crank-chalk" d="M0 -${DAMPER - 4}V-${DAMPER - 14}"/></g>` +
    `<text class="crank-reading" y="11" data-part="degrees">${Math.round(((shown.crankDeg % 360) + 360) % 360) % 360}°</text></g>`;
  return drawing(names, { width: SIZE, height: SIZE }, 'crank-drawing', body);
}

const EFFORT_LEFT = 12;
const EFFORT_RIGHT = 130;

/** Where the effort's marker stands: `transform` of `data-part="effort"`. 0 to 1; outside is held to the ends. */
export function effortTransform(effort: number): string {
  return `translate(${num(EFFORT_LEFT + Math.min(Math.max(effort, 0), 1) * (EFFORT_RIGHT - EFFORT_LEFT))} 0)`;
}

/** The effort in a word, so that its place on the scale isn't all there is. */
export function effortWord(effort: number): string {
  if (effort < 0.05) return 'No pull';
  if (effort < 0.35) return 'Light pull';
  if (effort < 0.65) return 'Steady pull';
  if (effort < 0.9) return 'Hard pull';
  return 'All you can do';
}

/** How hard the bar pulls: a ruled scale that thickens to the right, a marker and a word (`data-part="effort-word"`). */
export function effortSvg(shown: { readonly effort: number }, names: DrawingNames): string {
  let ticks = '';
  for (let k = 0; k <= 10; k += 1) {
    const x = EFFORT_LEFT + (k / 10) * (EFFORT_RIGHT - EFFORT_LEFT);
    ticks += `M${num(x)} 50V${k % 5 === 0 ? 60 : 55}`;
  }
  const body =
    `<text class="effort-word" x="${EFFORT_LEFT}" y="16" data-part="effort-word">${effortWord(shown.effort)}</text>` +
    `<path class="part" d="M${EFFORT_LEFT} 49L${EFFORT_RIGHT} 38V49Z"/><path class="line" d="${ticks}"/>` +
    `<g data-part="effort" transform="${effortTransform(shown.effort)}"><path class="part-ink" d="M-7 22H7L0 36Z"/><path class="line-heavy" d="M0 34V50"/></g>`;
  return drawing(names, { width: 142, height: 68 }, 'effort-drawing', body);
}
