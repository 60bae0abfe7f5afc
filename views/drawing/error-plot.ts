import { type DrawingNames, drawing, escapeText, num } from './svg.ts';

/** The readings of one day: mean and spread of their errors, in graduations; null where there is none. */
export interface ErrorDay {
  readonly day: string;
  readonly bias: number | null;
  readonly spread: number | null;
}

export interface ErrorPlotNames extends DrawingNames {
  readonly size: 'narrow' | 'wide';
}

const SIZES = {
  narrow: { width: 360, height: 280, left: 40, right: 14, top: 34, bottom: 44 },
  wide: { width: 720, height: 300, left: 48, right: 18, top: 34, bottom: 44 },
} as const;

const MOST = { narrow: 10, wide: 24 } as const;

/**
 * Written minus shown by day: a dot at the mean, a bar as long as the spread to either side, between rules one graduation from zero. The
 * newest days that fit are drawn, evenly apart; all of them stand in the table beside it.
 */
export function errorPlotSvg(days: readonly ErrorDay[], names: ErrorPlotNames): string {
  const size = SIZES[names.size];
  const drawn = days.filter(({ bias }) => bias !== null).slice(-MOST[names.size]);
  const reach = Math.max(
    2,
    ...drawn.map(({ bias, spread }) => Math.ceil(Math.abs(bias ?? 0) + (spread ?? 0))),
  );
  const right = size.width - size.right;
  const bottom = size.height - size.bottom;
  const y = (value: number) => size.top + ((reach - value) / (2 * reach)) * (bottom - size.top);
  const x = (index: number) => size.left + ((index + 0.5) / Math.max(drawn.length, 1)) * (right - size.left);
  let body = '';
  for (let value = -reach; value <= reach; value += Math.max(1, Math.round(reach / 4))) {
    body += `<path class="plot-rule plot-faint" d="M${size.left} ${num(y(value))}H${right}"/>`;
    body += `<text class="plot-figure" x="${size.left - 8}" y="${num(y(value) + 5)}" text-anchor="end">${value > 0 ? '+' : value < 0 ? '−' : ''}${Math.abs(value)}</text>`;
  }
  for (const limit of [-1, 1])
    body += `<path class="plot-rule" d="M${size.left} ${num(y(limit))}H${right}"/>`;
  body += `<path class="plot-zero" d="M${size.left} ${num(y(0))}H${right}"/><path class="plot-axis" d="M${size.left} ${size.top}V${bottom}"/>`;
  const every = Math.ceil((drawn.length * 46) / (right - size.left));
  drawn.forEach(({ day, bias, spread }, index) => {
    const at = num(x(index));
    const mean = bias ?? 0;
    if (spread !== null && spread > 0)
      body += `<path class="plot-line" d="M${at} ${num(y(mean + spread))}V${num(y(mean - spread))}"/>`;
    body += `<circle class="plot-mark" cx="${at}" cy="${num(y(mean))}" r="5"/>`;
    if ((drawn.length - 1 - index) % every === 0)
      body += `<text class="plot-figure" x="${at}" y="${bottom + 20}" text-anchor="middle">${escapeText(day.slice(5))}</text>`;
  });
  body += `<text class="plot-name" x="4" y="16">graduations, written less shown</text>`;
  body += `<text class="plot-name" x="${right}" y="${size.height - 4}" text-anchor="end">month and day</text>`;
  return drawing(
    { ...names, description: names.description ?? inWords(drawn) },
    size,
    `plot-drawing plot-${names.size}`,
    body,
  );
}

function inWords(days: readonly ErrorDay[]): string {
  const last = days.at(-1);
  if (last === undefined) return 'No readings.';
  const spread = last.spread === null ? '' : `, spread ${last.spread.toFixed(1)}`;
  return `${days.length === 1 ? 'One day' : `${days.length} days`}. On ${last.day} the mean was ${(last.bias ?? 0).toFixed(1)} graduations${spread}. All figures stand in the table below.`;
}
