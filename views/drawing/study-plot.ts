import { type DrawingNames, drawing, escapeText, num } from './svg.ts';

/** Values of a study by part and person: one dot a value. */
export interface StudyPlotValue {
  /** Places in the lists, from 0. */
  readonly part: number;
  readonly person: number;
  readonly value: number;
}

export interface StudyPlot {
  readonly parts: readonly string[];
  readonly people: readonly string[];
  readonly values: readonly StudyPlotValue[];
  /** A rule across, with its name, such as the limit of ranges; null for none. */
  readonly rule: { readonly value: number; readonly name: string } | null;
  /** Join the means of each person by a thin line? */
  readonly joined: boolean;
  readonly axis: string;
}

const SIZE = { width: 720, height: 320, left: 66, right: 14, top: 40, bottom: 46 } as const;
/** Each person has a shape of their own; after six they begin again. */
const SHAPES = [
  'M-4 0A4 4 0 1 0 4 0A4 4 0 1 0 -4 0Z',
  'M-4 -4H4V4H-4Z',
  'M0 -5L5 4H-5Z',
  'M0 -5L5 0L0 5L-5 0Z',
  'M-5 -1.5H-1.5V-5H1.5V-1.5H5V1.5H1.5V5H-1.5V1.5H-5Z',
  'M0 5L5 -4H-5Z',
] as const;

/** Readings, or ranges, of a gauge study by part, each person's side by side in a shape of their own. Never throws. */
export function studyPlotSvg(plot: StudyPlot, names: DrawingNames): string {
  const { parts, people, values } = plot;
  // What is not joined is a size, and sizes begin at zero.
  const all = [
    ...values.map(({ value }) => value),
    ...(plot.rule === null ? [] : [plot.rule.value]),
    ...(plot.joined ? [] : [0]),
  ];
  const low = Math.min(...all);
  const high = Math.max(...all);
  const margin = (high - low || Math.abs(high) || 1) * 0.08;
  const [from, to] = [plot.joined ? low - margin : 0, high + margin];
  const right = SIZE.width - SIZE.right;
  const bottom = SIZE.height - SIZE.bottom;
  const y = (value: number) => SIZE.top + ((to - value) / (to - from)) * (bottom - SIZE.top);
  const width = (right - SIZE.left) / parts.length;
  const x = (part: number, person: number) => SIZE.left + (part + (person + 1) / (people.length + 1)) * width;
  let body = '';
  for (let step = 0; step <= 4; step += 1) {
    const value = from + ((to - from) * step) / 4;
    body += `<path class="plot-rule plot-faint" d="M${SIZE.left} ${num(y(value))}H${right}"/>`;
    body += `<text class="plot-figure" x="${SIZE.left - 6}" y="${num(y(value) + 5)}" text-anchor="end">${Number(value.toPrecision(3))}</text>`;
  }
  parts.forEach((part, index) => {
    if (index > 0)
      body += `<path class="plot-rule plot-faint" d="M${num(SIZE.left + index * width)} ${SIZE.top}V${bottom}"/>`;
    if (width > 18 || index % 2 === 0)
      body += `<text class="plot-figure" x="${num(SIZE.left + (index + 0.5) * width)}" y="${bottom + 18}" text-anchor="middle">${escapeText(shortened(part, width))}</text>`;
  });
  if (plot.rule !== null) {
    body += `<path class="plot-rule" d="M${SIZE.left} ${num(y(plot.rule.value))}H${right}"/>`;
    body += `<text class="plot-name" x="${right}" y="${num(y(plot.rule.value) - 4)}" text-anchor="end">${escapeText(plot.rule.name)}</text>`;
  }
  people.forEach((_, person) => {
    const own = values.filter((one) => one.person === person);
    if (plot.joined) {
      const means = parts.flatMap((__, part) => {
        const cell = own.filter((one) => one.part === part).map(({ value }) => value);
        if (cell.length === 0) return [];
        const mean = cell.reduce((sum, value) => sum + value, 0) / cell.length;
        return `${num(x(part, person))} ${num(y(mean))}`;
      });
      if (means.length > 1) body += `<path class="plot-line plot-thin" d="M${means.join('L')}"/>`;
    }
    for (const { part, value } of own)
      body += `<path class="plot-mark" transform="translate(${num(x(part, person))} ${num(y(value))})" d="${SHAPES[person % SHAPES.length]}"/>`;
  });
  let at = SIZE.left;
  people.forEach((name, person) => {
    const text = shortened(name, 110);
    body += `<path class="plot-mark" transform="translate(${num(at + 6)} 26)" d="${SHAPES[person % SHAPES.length]}"/>`;
    body += `<text class="plot-name" x="${num(at + 16)}" y="31">${escapeText(text)}</text>`;
    at += 30 + text.length * 7;
  });
  body += `<text class="plot-name" x="4" y="12">${escapeText(plot.axis)}</text>`;
  body += `<path class="plot-axis" d="M${SIZE.left} ${SIZE.top}V${bottom}H${right}"/>`;
  return drawing(names, SIZE, 'plot-drawing plot-wide', body);
}

/** A name as far as its place goes, about 7 px a letter. */
function shortened(name: string, width: number): string {
  const letters = Math.max(1, Math.floor(width / 7));
  return name.length <= letters ? name : `${name.slice(0, Math.max(1, letters - 1))}…`;
}
