import { type DrawingNames, drawing, num } from '../drawing/svg.ts';

/** A lobe's lift over a turn of the cam, and where the roller is on it. */
export interface LobeCurve {
  /** Degrees from the middle of the nose, −180 to 180, and height or slope there. */
  readonly made: readonly (readonly [deg: number, height: number])[];
  readonly now: readonly (readonly [deg: number, height: number])[];
  readonly at: readonly [deg: number, height: number];
  /** What the heights are, with their unit. */
  readonly upright: string;
  readonly lowest: number;
  readonly highest: number;
}

const WIDTH = 360;
const HEIGHT = 210;
const LEFT = 40;
const RIGHT = WIDTH - 10;
const TOP = 26;
const FOOT = HEIGHT - 38;

/** The lobe as made in a thin line, as it is in a heavy one, and a ring where the roller stands. */
export function lobeCurveSvg(
  { made, now, at, upright, lowest, highest }: LobeCurve,
  names: DrawingNames,
): string {
  const x = (deg: number) => LEFT + ((deg + 180) / 360) * (RIGHT - LEFT);
  const y = (height: number) => FOOT - ((height - lowest) / (highest - lowest)) * (FOOT - TOP);
  const path = (points: LobeCurve['now']) =>
    points
      .map(([deg, height], index) => `${index === 0 ? 'M' : 'L'}${num(x(deg))} ${num(y(height))}`)
      .join('');
  let rules = '';
  let words = '';
  for (let deg = -180; deg <= 180; deg += 90) {
    rules += `M${num(x(deg))} ${FOOT}V${FOOT + 5}`;
    const end = deg === -180 ? 'start' : deg === 180 ? 'end' : 'middle';
    words += `<text class="plot-figure" x="${num(x(deg))}" y="${FOOT + 18}" text-anchor="${end}">${String(deg).replace('-', '−')}°</text>`;
  }
  for (const value of [lowest, 0, highest]) {
    if (value !== 0 && value === lowest && lowest === 0) continue;
    words += `<text class="plot-figure" x="${LEFT - 5}" y="${num(y(value) + 4)}" text-anchor="end">${num(value).replace('-', '−')}</text>`;
  }
  const body =
    `<path class="plot-rule plot-faint" d="M${LEFT} ${num(y(highest))}H${RIGHT}"/>` +
    `<path class="plot-axis" d="M${LEFT} ${TOP}V${FOOT}M${LEFT} ${num(y(0))}H${RIGHT}${rules}"/>${words}` +
    `<text class="plot-name" x="${LEFT}" y="14">${upright}</text>` +
    `<text class="plot-name" x="${RIGHT}" y="${HEIGHT - 4}" text-anchor="end">cam, from the middle of the nose</text>` +
    `<path class="plot-clean" stroke-dasharray="5 3" d="${path(made)}"/><path class="plot-line" d="${path(now)}"/>` +
    `<circle class="plot-cursor" r="6" cx="${num(x(at[0]))}" cy="${num(y(at[1]))}"/>`;
  return drawing(names, { width: WIDTH, height: HEIGHT }, 'plot-drawing figure-curve', body);
}
