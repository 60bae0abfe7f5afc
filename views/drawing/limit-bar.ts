import { type DrawingNames, drawing, escapeText, num } from './svg.ts';

/** The four verdicts as they are written. */
export type VerdictWord = 'inside' | 'below' | 'above' | 'too close to call';

/** A reading against its limits, all in one unit; an open side is null. */
export interface LimitBar {
  readonly lower: number | null;
  readonly upper: number | null;
  readonly value: number;
  readonly unit: string;
  readonly word: VerdictWord;
  /** Expanded uncertainty: half the length of the bar across a limit. */
  readonly uncertainty?: number;
  /** Decimals shown. Default: 3 in inches, 2 in millimetres. */
  readonly decimals?: number;
}

const WIDTH = 360;
const HEIGHT = 104;
const LEFT = 26;
const RIGHT = WIDTH - 26;
const LINE = 58;
const FIGURE_WIDTH = 12;
const LETTER_WIDTH = 8.5;

/**
 * A short ruled scale with the limits as two ticks and the reading as a scribed line. The place and the shape carry the meaning, so it
 * reads in black and white: a dot inside, an open triangle past the tick, or a bar lying across it. A reading too far off to scale
 * stands beyond a break in the line.
 */
export function limitBarSvg(bar: LimitBar, names: DrawingNames): string {
  const digits = bar.decimals ?? (bar.unit === 'mm' ? 2 : 3);
  const write = (value: number) => value.toFixed(digits);
  const [from, to] = domain(bar);
  const place = (value: number) => LEFT + 30 + ((value - from) / (to - from)) * (RIGHT - LEFT - 60);
  const far = bar.value < from ? 'low' : bar.value > to ? 'high' : null;
  const x = far === 'low' ? LEFT + 8 : far === 'high' ? RIGHT - 8 : place(bar.value);

  const middle = WIDTH / 2;
  let body = baseLine(LEFT, middle, bar.lower === null, far === 'low' ? LEFT + 24 : null);
  body += baseLine(middle, RIGHT, bar.upper === null, far === 'high' ? RIGHT - 24 : null);
  const both = bar.lower !== null && bar.upper !== null;
  if (both)
    body += `<path class="bar-between" d="M${num(place(bar.lower))} ${LINE}H${num(place(bar.upper))}"/>`;
  for (const [limit, name] of [
    [bar.lower, 'lower'],
    [bar.upper, 'upper'],
  ] as const) {
    if (limit === null) {
      const end = name === 'lower' ? LEFT : RIGHT;
      body += `<text class="bar-word" x="${end}" y="${LINE + 38}" text-anchor="${name === 'lower' ? 'start' : 'end'}">no ${name} limit</text>`;
      continue;
    }
    const tick = place(limit);
    body += `<path class="bar-tick" d="M${num(tick)} ${LINE - 13}V${LINE + 13}"/>`;
    body += `<text class="bar-figure" x="${num(tick)}" y="${LINE + 30}">${write(limit)}</text>`;
  }
  body += mark(bar, x, place);
  const half =
    ((write(bar.value).length + bar.unit.length + 1) * FIGURE_WIDTH + (bar.word.length + 1) * LETTER_WIDTH) /
    2;
  const anchor = Math.min(Math.max(x, half), WIDTH - half);
  body +=
    `<text class="bar-value" x="${num(anchor)}" y="20">${write(bar.value)} ${escapeText(bar.unit)}` +
    `<tspan class="bar-verdict" dx="8">${bar.word}</tspan></text>`;
  return drawing(
    { ...names, description: names.description ?? sentence(bar, write) },
    { width: WIDTH, height: HEIGHT },
    'limit-bar',
    body,
  );
}

/** The stretch of the scale that is drawn to scale: the limits, with room beside them. */
function domain(bar: LimitBar): readonly [number, number] {
  const reach = (bar.uncertainty ?? 0) * 1.2;
  const { lower, upper, value } = bar;
  if (lower !== null && upper !== null) {
    const span = Math.max(upper - lower, Number.EPSILON);
    const room = Math.max(span * 0.75, reach);
    return [lower - room, upper + room];
  }
  const limit = lower ?? upper ?? value;
  const span = Math.max(Math.abs(value - limit) * 1.5, reach, Math.abs(limit) * 0.01, 1e-6);
  if (lower !== null) return [limit - span, limit + span * 1.5];
  return [limit - span * 1.5, limit + span];
}

function mark(bar: LimitBar, x: number, place: (value: number) => number): string {
  const scribed = `<path class="bar-scribe" d="M${num(x)} 27V${LINE + 8}"/>`;
  if (bar.word === 'inside') return `${scribed}<circle class="bar-dot" cx="${num(x)}" cy="${LINE}" r="5"/>`;
  if (bar.word === 'too close to call') {
    const half =
      bar.uncertainty === undefined ? 18 : Math.max(place(bar.value + bar.uncertainty) - place(bar.value), 6);
    return (
      `<path class="bar-across" d="M${num(x - half)} ${LINE - 7}H${num(x + half)}V${LINE + 7}H${num(x - half)}Z"/>` +
      scribed
    );
  }
  const way = bar.word === 'below' ? -1 : 1;
  return (
    scribed +
    `<path class="bar-triangle" d="M${num(x)} ${LINE - 8}V${LINE + 8}L${num(x + way * 14)} ${LINE}Z"/>`
  );
}

/** Half of the line: dashed where its side is open, and with two slanting strokes where it is broken and not to scale. */
function baseLine(from: number, to: number, open: boolean, brokenAt: number | null): string {
  const line = `bar-line${open ? ' bar-open' : ''}`;
  if (brokenAt === null) return `<path class="${line}" d="M${from} ${LINE}H${to}"/>`;
  const [left, right] = [brokenAt - 4, brokenAt + 4];
  return (
    `<path class="${line}" d="M${from} ${LINE}H${left}M${right} ${LINE}H${to}"/>` +
    `<path class="bar-line" d="M${left - 3} ${LINE + 8}L${left + 3} ${LINE - 8}M${right - 3} ${LINE + 8}L${right + 3} ${LINE - 8}"/>`
  );
}

function sentence(bar: LimitBar, write: (value: number) => string): string {
  const low = bar.lower === null ? 'no lower limit' : `lower limit ${write(bar.lower)}`;
  const high = bar.upper === null ? 'no upper limit' : `upper limit ${write(bar.upper)}`;
  return `${write(bar.value)} ${bar.unit}: ${bar.word}. ${low}, ${high}.`;
}
