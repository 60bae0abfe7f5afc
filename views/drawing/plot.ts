import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import type { Dial } from '../../server/engine/dial/dial.ts';
import type { TraceMark, TraceRun } from '../../server/engine/grading/types.ts';
import { type DrawingNames, drawing, escapeText, num } from './svg.ts';

/** How the plot is to be laid out: `narrow` for a phone and a column of print, `wide` for a page. */
export interface PlotNames extends DrawingNames {
  readonly size: 'narrow' | 'wide';
  /** What was turned, as the axis says it. Default the crank, barred. */
  readonly turned?: string;
  /** A second, thin line: the same work done cleanly. Degrees as those of the run. */
  readonly clean?: CleanLine;
}

/** Travel against degrees, as it would have been. */
export interface CleanLine {
  readonly crankDeg: readonly number[];
  readonly travel: readonly number[];
}

const SIZES = {
  narrow: { width: 360, height: 320, left: 56, right: 14, top: 40, bottom: 46 },
  wide: { width: 720, height: 380, left: 66, right: 20, top: 44, bottom: 48 },
} as const;

const WORDS: Readonly<Record<TraceMark['what'], string>> = {
  zero: 'zero',
  high: 'highest',
  return: 'return',
  note: 'written',
  press: 'rod pressed',
  'rolled-back': 'rolled back',
  'missed-high': 'high point missed',
};

/** Each mark has a shape of its own, about the point. */
const SHAPES: Readonly<Record<TraceMark['what'], string>> = {
  zero: 'M-6 0H6M0 -6V6',
  high: 'M-7 -9H7M0 -9V-3',
  return: 'M-5 -5H5V5H-5Z',
  note: 'M0 -6L6 0L0 6L-6 0Z',
  press: 'M-5 -10L0 -1L5 -10Z',
  'rolled-back': 'M5 -6L-5 0L5 6Z',
  'missed-high': 'M-5 -5L5 5M-5 5L5 -5',
};

const LETTER = 6.4;
const LABEL_HEIGHT = 14;

type Point = readonly [x: number, y: number];
/** `y` is the lower edge, as a word's baseline is. */
type Box = { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
type Area = { readonly left: number; readonly right: number; readonly top: number; readonly bottom: number };

/** Was anything turned in this run? Where nothing was, its points lie one after another. */
export function hasDegrees({ crankDeg }: Pick<TraceRun, 'crankDeg'>): boolean {
  return crankDeg.some((deg) => deg !== crankDeg[0]);
}

/**
 * The gauge's travel for one set-up, against degrees barred or, where nothing turns, against the order of what was done. Rules across
 * stand one turn of the pointer apart, so that turns can be counted. An empty run gives the axes and says that nothing was barred.
 */
export function plotSvg(run: TraceRun, dial: Dial, names: PlotNames): string {
  const size = SIZES[names.size];
  const start = run.crankDeg[0] ?? 0;
  const turned = run.travel.length < 2 || hasDegrees(run);
  const degrees = turned ? run.crankDeg.map((deg) => deg - start) : run.crankDeg.map((_, index) => index);
  const clean = turned ? (names.clean ?? null) : null;
  const inner = { right: size.width - size.right, bottom: size.height - size.bottom };
  const turn = dial.rangePerTurn;
  const lowest = Math.min(0, ...run.travel);
  const highest = Math.max(turn, ...run.travel, ...(clean?.travel ?? []));
  const x = scaleLinear()
    .domain([Math.min(0, ...degrees), Math.max(turned ? 90 : 4, ...degrees)])
    .range([size.left, inner.right]);
  const y = scaleLinear()
    .domain([
      lowest < -turn * 0.02 ? lowest - turn * 0.1 : lowest,
      highest + Math.max(turn * 0.3, (highest - lowest) * 0.18),
    ])
    .range([inner.bottom, size.top]);

  const curve = run.travel.map((travel, index): Point => [x(degrees[index] ?? 0), y(travel)]);
  const path =
    line<Point>(
      ([px]) => hundredths(px),
      ([, py]) => hundredths(py),
    )([...curve]) ?? '';
  const body =
    turnRules(dial, y, size.left, inner.right) +
    (turned ? degreeTicks(x, size.top, inner.bottom, names.size) : '') +
    `<path class="plot-axis" d="M${size.left} ${size.top}V${inner.bottom}H${inner.right}"/>` +
    (clean === null ? '' : cleanPath(clean, (deg) => x(deg - start), y)) +
    `<path class="plot-line" d="${path}"/>` +
    (run.travel.length === 0
      ? `<text x="${size.left + 12}" y="${size.top + 24}">Nothing was barred.</text>`
      : '') +
    marks(run.marks, (mark) => [x(turned ? mark.crankDeg - start : mark.index), y(mark.travel)], curve, {
      left: size.left,
      right: inner.right,
      top: size.top,
      bottom: inner.bottom,
    }) +
    `<text class="plot-name" x="4" y="16">travel, ${escapeText(dial.unit)}. From rule to rule is one turn.</text>` +
    `<text class="plot-name" x="${inner.right}" y="${size.height - 6}" text-anchor="end">${turned ? `${escapeText(names.turned ?? 'crank barred')}, degrees` : 'what was done, in order'}</text>`;
  const description = names.description ?? inWords(run, dial, turned, clean !== null);
  return drawing({ ...names, description }, size, `plot-drawing plot-${names.size}`, body);
}

type Place = (value: number) => number;

function cleanPath(clean: CleanLine, x: Place, y: Place): string {
  const points = clean.travel.map(
    (travel, index): Point => [hundredths(x(clean.crankDeg[index] ?? 0)), hundredths(y(travel))],
  );
  return `<path class="plot-clean" d="${line<Point>()(points) ?? ''}"/>`;
}

/** Finer than a hundredth of a unit can't be seen and makes the page long. */
function hundredths(value: number): number {
  return Math.round(value * 100) / 100;
}

function turnRules(dial: Dial, y: Place & { domain(): number[] }, left: number, right: number): string {
  const [bottom = 0, top = 0] = y.domain();
  const turns = Math.max(1, Math.ceil((top - bottom) / dial.rangePerTurn / 8));
  const first = Math.ceil(bottom / dial.rangePerTurn / turns);
  const last = Math.floor(top / dial.rangePerTurn / turns);
  const decimals = dial.unit === 'in' ? (dial.rangePerTurn < 0.1 ? 2 : 1) : dial.rangePerTurn < 1 ? 1 : 0;
  let rules = '';
  for (let step = first; step <= last; step += 1) {
    const value = step * turns * dial.rangePerTurn;
    const at = num(y(value));
    rules += `<path class="${step === 0 ? 'plot-zero' : 'plot-rule'}" d="M${left} ${at}H${right}"/>`;
    rules += `<text class="plot-figure" x="${left - 8}" y="${num(y(value) + 5)}" text-anchor="end">${value.toFixed(decimals)}</text>`;
  }
  return rules;
}

function degreeTicks(
  x: Place & { domain(): number[] },
  top: number,
  bottom: number,
  size: 'narrow' | 'wide',
): string {
  const [from = 0, to = 0] = x.domain();
  const most = size === 'narrow' ? 5 : 9;
  const step = [90, 180, 360, 720, 1440].find((each) => (to - from) / each <= most) ?? 2880;
  let ticks = '';
  for (let deg = Math.ceil(from / step) * step; deg <= to; deg += step) {
    const at = num(x(deg));
    ticks += `<path class="plot-rule plot-faint" d="M${at} ${top}V${bottom}"/><path class="plot-axis" d="M${at} ${bottom}v6"/>`;
    ticks += `<text class="plot-figure" x="${at}" y="${bottom + 21}" text-anchor="middle">${deg}</text>`;
  }
  return ticks;
}

/** Shapes at their points, each with a word in a free place near it, and a leader where the word had to move away. */
function marks(
  all: readonly TraceMark[],
  at: (mark: TraceMark) => Point,
  curve: readonly Point[],
  area: Area,
): string {
  const told = distinctMarks(all, at);
  const points = told.map(({ point }) => point);
  const taken: Box[] = points.map(([x, y]) => ({ x: x - 7, y: y + 7, width: 14, height: 14 }));
  let leaders = '';
  let drawn = '';
  for (const { mark, point, times } of told) {
    const [x, y] = point;
    const word = times === 1 ? WORDS[mark.what] : `${WORDS[mark.what]} ×${times}`;
    const box = freePlace(word.length * LETTER, x, y, taken, curve, area);
    taken.push(box);
    const [endX, endY] = [
      Math.min(Math.max(x, box.x), box.x + box.width),
      box.y < y ? box.y + 3 : box.y - LABEL_HEIGHT + 2,
    ];
    if (Math.hypot(endX - x, endY - y) > 16)
      leaders += `<path class="plot-leader" d="M${num(x)} ${num(y)}L${num(endX)} ${num(endY)}"/>`;
    drawn += `<path class="plot-mark plot-mark-${mark.what}" transform="translate(${num(x)} ${num(y)})" d="${SHAPES[mark.what]}"/>`;
    drawn += `<text class="plot-word" x="${num(box.x)}" y="${num(box.y)}">${word}</text>`;
  }
  return leaders + drawn;
}

/** Nearer than this, marks of one kind lie on each other; of boxes filled in one after another, the next lies beside the last. */
const SAME_PLACE = 3;
const NEXT_BOX = 16;

/** Marks of one kind at one place are one shape and one word: a whole sheet may be written where the engine stands. */
function distinctMarks(
  all: readonly TraceMark[],
  at: (mark: TraceMark) => Point,
): readonly { readonly mark: TraceMark; readonly point: Point; readonly times: number }[] {
  const told: { mark: TraceMark; point: Point; last: Point; times: number }[] = [];
  for (const mark of all) {
    const point = at(mark);
    const reach = mark.what === 'note' ? NEXT_BOX : SAME_PLACE;
    const same = told.find(
      ({ mark: { what }, last: [x, y] }) =>
        what === mark.what && Math.hypot(x - point[0], y - point[1]) < reach,
    );
    if (same === undefined) told.push({ mark, point, last: point, times: 1 });
    else {
      same.last = point;
      same.times += 1;
    }
  }
  return told;
}

/** The nearest place for a word that is clear of the other words, of the marks and, if it can be, of the curve. */
function freePlace(
  width: number,
  x: number,
  y: number,
  taken: readonly Box[],
  curve: readonly Point[],
  area: Area,
): Box {
  let best: Box = { x, y, width, height: LABEL_HEIGHT };
  let leastCost = Number.POSITIVE_INFINITY;
  for (let up = -7; up <= 7; up += 1) {
    for (let along = -3; along <= 3; along += 1) {
      const start = Math.min(
        Math.max(x - width / 2 + along * (width / 2 + 11) * 0.5, area.left + 5),
        area.right - width,
      );
      const baseline = y + 5 + up * LABEL_HEIGHT;
      if (baseline - LABEL_HEIGHT < area.top - 12 || baseline > area.bottom - 5) continue;
      const box = { x: start, y: baseline, width, height: LABEL_HEIGHT };
      const away = Math.hypot(start + width / 2 - x, (baseline - 5 - y) * 1.5);
      const clashes = taken.filter((other) => !apart(box, other)).length;
      const crossed = curve.some((point) => covers(box, point)) ? 1 : 0;
      const cost = away + clashes * 1000 + crossed * 60;
      if (cost >= leastCost) continue;
      leastCost = cost;
      best = box;
    }
  }
  return best;
}

function apart(a: Box, b: Box): boolean {
  return (
    a.y - a.height >= b.y || b.y - b.height >= a.y || a.x + a.width + 4 <= b.x || b.x + b.width + 4 <= a.x
  );
}

function covers(box: Box, [x, y]: Point): boolean {
  return x > box.x - 2 && x < box.x + box.width + 2 && y < box.y + 3 && y > box.y - box.height;
}

function inWords(run: TraceRun, dial: Dial, turned: boolean, clean: boolean): string {
  if (run.travel.length === 0) return 'Nothing was barred.';
  const start = run.crankDeg[0] ?? 0;
  const decimals = dial.unit === 'in' ? 4 : 3;
  const said = run.marks.map((mark) => {
    const where = turned ? ` at ${Math.round(mark.crankDeg - start)}°` : '';
    return `${WORDS[mark.what]} ${mark.travel.toFixed(decimals)} ${dial.unit}${where}`;
  });
  const barred = Math.round((run.crankDeg.at(-1) ?? start) - start);
  const all = [
    ...(turned ? [`${barred}° barred.`] : []),
    ...(said.length > 0 ? [`${said.join('; ')}.`] : []),
    ...(clean ? ['A thin line shows a clean run.'] : []),
  ];
  return all.join(' ') || 'Nothing was marked.';
}
