import type { BriefOf, ViewOf } from '../../server/engine/index.ts';
import { drawing, escapeText, num } from '../drawing/svg.ts';
import { heldBarrel } from './gauge-stem.ts';
import { arrowHead, centreLine, cut, line, part, sectionLines, word } from './paper.ts';
import type { Scene } from './types.ts';

type Brief = BriefOf<'bore-gauge'>;
type View = ViewOf<'bore-gauge'>;

const WIDTH = 320;
const HEIGHT = 306;
/** The cylinder: deck, foot, middle, half its bore and how thick its walls are drawn. */
const DECK = 84;
const FOOT = 282;
const MIDDLE = 111;
const HALF = 45;
const WALL = 22;
/** What the ridge stands out by: far more than it is, so that it is seen. */
const RIDGE = 3;
/** The setting ring beside it. */
const RING = { x: 258, top: 248, bottom: 284, wall: 12 } as const;
/** The clamp at the top of the handle stands here, whatever the depth: the handle is drawn broken. */
const HANDLE_TOP = { cylinder: 40, ring: 126 } as const;

const AXIS_WORDS = { along: 'along the crank', across: 'across the crank' } as const;

/** A cylinder in section, its bore gauge in it or in the setting ring, and from above which way the gauge lies. */
export const boreScene: Scene<Brief, View> = {
  draw: (brief, view, names) => {
    const id = escapeText(names.id);
    const perMm = scaleOf(brief);
    const body =
      sectionLines(`${id}-block`, 45) +
      sectionLines(`${id}-ring`, -45) +
      cylinder(brief, perMm, `${id}-block`) +
      depthRule(brief, perMm) +
      ringTravel(brief, perMm) +
      plan(view.spot) +
      ring(brief, `${id}-ring`) +
      placedGauge(brief, perMm, view);
    return drawing(
      { ...names, description: names.description ?? inWords(brief, view) },
      { width: WIDTH, height: HEIGHT },
      'scene-drawing',
      body,
    );
  },
  // Of a handle that is tilted an eye gets where it came to stand.
  move: (_, view) => (view.spot === null ? {} : { slant: { transform: `rotate(${num(view.slantDeg)})` } }),
  describe: inWords,
};

function inWords({ travel, ring: size, dial }: Brief, { spot, slantDeg, indicator }: View): string {
  const place =
    spot === null
      ? 'in the hand'
      : spot.in === 'ring'
        ? 'in the setting ring'
        : `in the cylinder, ${num(spot.depthMm)} mm below the deck, ${AXIS_WORDS[spot.axis]}`;
  const gauge =
    indicator === 'on'
      ? `The tips of the bore gauge are ${place}`
      : `The bore gauge is ${place}, its indicator has not been set in it`;
  const slant =
    spot === null
      ? ''
      : slantDeg === 0
        ? '; its handle stands about square'
        : `; its handle slants about ${Math.abs(slantDeg)}° ${slantDeg > 0 ? 'forward' : 'back'}`;
  return `A cylinder cut open, its rings travelling from ${travel.fromMm} to ${travel.toMm} mm below the deck under a ridge, and a setting ring marked ${size} ${dial.unit}. ${gauge}${slant}.`;
}

/** Units of the drawing for a millimetre of depth. */
function scaleOf({ travel }: Brief): number {
  return (FOOT - DECK) / (travel.toMm + 46);
}

/** Both walls, worn where the rings travel; below they are broken off. */
function cylinder({ travel }: Brief, perMm: number, pattern: string): string {
  const [from, to] = [DECK + travel.fromMm * perMm, DECK + travel.toMm * perMm];
  const wall = (way: 1 | -1) => {
    const x = (off: number) => num(MIDDLE + way * off);
    const outer = HALF + WALL;
    return (
      `M${x(outer)} ${DECK}H${x(HALF - RIDGE)}V${num(from - 1)}L${x(HALF)} ${num(from + 2)}V${num(to - 8)}L${x(HALF - RIDGE)} ${num(to)}` +
      `V${FOOT}Q${x(HALF + 4)} ${FOOT + 7} ${x(HALF + WALL / 2)} ${FOOT}T${x(outer)} ${FOOT}Z`
    );
  };
  return cut(wall(-1), pattern) + cut(wall(1), pattern) + centreLine(`M${MIDDLE} ${DECK - 14}V${FOOT + 14}`);
}

/** A steel rule down from the deck. */
function depthRule({ travel }: Brief, perMm: number): string {
  const [left, right] = [27, 38];
  let ticks = '';
  let figures = '';
  for (let mm = 10; mm <= travel.toMm + 44; mm += 10) {
    const y = DECK + mm * perMm;
    ticks += `M${right} ${num(y)}H${mm % 50 === 0 ? left : right - 5}`;
    if (mm % 50 === 0) figures += word(left - 2, y + 4.5, String(mm), 'end');
  }
  return (
    part(`M${left} ${DECK}H${right}V${FOOT}H${left}Z`) +
    line(ticks) +
    figures +
    word(right, DECK - 6, 'mm', 'end')
  );
}

/** Where the rings travel, dimensioned as on a print. */
function ringTravel({ travel }: Brief, perMm: number): string {
  const [from, to] = [DECK + travel.fromMm * perMm, DECK + travel.toMm * perMm];
  const edge = MIDDLE + HALF + WALL;
  const x = edge + 10;
  return (
    line(`M${edge + 2} ${num(from)}H${x + 5}M${edge + 2} ${num(to)}H${x + 5}M${x} ${num(from)}V${num(to)}`) +
    arrowHead(x, from, 0) +
    arrowHead(x, to, 180) +
    word(x + 8, from + 4.5, num(travel.fromMm)) +
    word(x + 8, to + 4.5, num(travel.toMm)) +
    word(x + 6, (from + to) / 2, 'ring') +
    word(x + 6, (from + to) / 2 + 14, 'travel')
  );
}

/** The bore from above: the crank's centre line, and the gauge's contacts across it or along it. */
function plan(spot: View['spot']): string {
  const [x, y, radius] = [276, 40, 27];
  const bar =
    spot?.in === 'cylinder'
      ? `<path class="line-heavy" d="${spot.axis === 'along' ? `M${x - radius + 3} ${y}H${x + radius - 3}` : `M${x} ${y - radius + 3}V${y + radius - 3}`}"/>` +
        `<circle class="part" cx="${x}" cy="${y}" r="6"/>`
      : '';
  const said = spot?.in === 'cylinder' ? word(WIDTH - 6, y + radius + 18, AXIS_WORDS[spot.axis], 'end') : '';
  return (
    `<circle class="part" cx="${x}" cy="${y}" r="${radius + 5}"/><circle class="part" cx="${x}" cy="${y}" r="${radius}"/>` +
    centreLine(`M${x - radius - 12} ${y}H${x + radius + 12}`) +
    word(x - radius - 14, y + 4, 'crank', 'end') +
    bar +
    said
  );
}

function ring({ ring: size, dial }: Brief, pattern: string): string {
  const { x, top, bottom, wall } = RING;
  const side = (way: 1 | -1) => {
    const [inner, outer] = [x + way * HALF, x + way * (HALF + wall)];
    return `M${inner} ${top}H${outer}V${bottom}H${inner}Z`;
  };
  return (
    line(`M${x - HALF} ${top}H${x + HALF}M${x - HALF} ${bottom}H${x + HALF}`) +
    cut(side(-1), pattern) +
    cut(side(1), pattern) +
    centreLine(`M${x} ${top - 8}V${bottom + 5}`) +
    word(x, bottom + 16, `ring ${size} ${dial.unit}`, 'middle')
  );
}

/** The gauge where it is: in the cylinder, in the ring, or in the hand over it. */
function placedGauge({ travel }: Brief, perMm: number, view: View): string {
  const { spot } = view;
  const ringTop = HANDLE_TOP.ring;
  if (spot === null) return gauge(RING.x, RING.top - 22, ringTop, HALF, view);
  if (spot.in === 'ring') return gauge(RING.x, (RING.top + RING.bottom) / 2, ringTop, HALF, view);
  const isWorn = spot.depthMm >= travel.fromMm && spot.depthMm <= travel.toMm;
  const half = isWorn ? HALF : HALF - RIDGE;
  return gauge(MIDDLE, DECK + spot.depthMm * perMm, HANDLE_TOP.cylinder, half, view);
}

/** The gauge with its contacts at `y`, its handle up to `top`, slanting about its contacts. */
function gauge(x: number, y: number, top: number, half: number, view: View): string {
  const slant = view.spot === null ? 0 : view.slantDeg;
  const length = y - top;
  // Slanted, the contacts stand further apart: they follow the walls.
  const reach = half / Math.cos((slant * Math.PI) / 180);
  const broken = -length + 34;
  return (
    `<g transform="translate(${num(x)} ${num(y)})"><g data-part="slant" transform="rotate(${num(slant)})">` +
    `<path class="part" d="M-4 -8V${num(-length)}H4V-8Z"/>` +
    (view.indicator === 'on' ? heldBarrel(0, -length - 26, -length + 6) : '') +
    `<path class="part" d="M-8 ${num(-length)}H8V${num(-length + 14)}H-8Z"/><circle class="part-ink" cx="11" cy="${num(-length + 7)}" r="3"/>` +
    `<path class="line" d="M-8 ${num(broken + 2)}L0 ${num(broken - 2)}L0 ${num(broken + 4)}L8 ${num(broken)}"/>` +
    `<path class="line-heavy" d="M${num(-reach)} 0H${num(reach)}"/>` +
    `<path class="part" d="M-14 -9H14V9H-14Z"/><path class="part" d="M${num(-half + 12)} -6V6M${num(half - 12)} -6V6"/></g></g>`
  );
}
