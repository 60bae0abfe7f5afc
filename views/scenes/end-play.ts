import type { EndPlayBrief, EndPlayView } from '../../server/engine/index.ts';
import { drawing, escapeText } from '../drawing/svg.ts';
import { type Stem, stemMoves, stemSvg } from './gauge-stem.ts';
import { arrowHead, centreLine, cut, leader, line, part, sectionLines, word } from './paper.ts';
import type { Scene } from './types.ts';

const SIZE = { width: 320, height: 252 } as const;
const AXIS = 126;

const AT_NOSE: Stem = { free: 28, barrel: 60, arm: '<path class="part" d="M-11 -22H11V-12H-11Z"/>' };
const AT_HUB: Stem = { free: 30, barrel: 80, arm: '<path class="part" d="M11 -26H-11V-14H11Z"/>' };
/** Where the tip meets the front of the shaft, and of the hub. */
const NOSE = { x: 72, y: AXIS } as const;
const HUB_FACE = { x: 104, y: AXIS - 50 } as const;

/**
 * A crankshaft in its bearings, or a hub on its spindle, cut along the axis with the front to the left. What it can move is far too
 * little to be drawn to scale: the clearance drawn is always the same and only says where it is.
 */
export const endPlayScene: Scene<EndPlayBrief, EndPlayView> = {
  draw(brief, view, names) {
    const described = { ...names, description: names.description ?? inWords(brief, view) };
    const id = escapeText(names.id);
    const body = brief.subject === 'crankshaft' ? crankshaft(id) : hub(id);
    return drawing(described, SIZE, 'scene-drawing', body + gauge(brief, view) + ways());
  },
  move: (brief, view, moment) =>
    view.indicator === 'off'
      ? {}
      : stemMoves(stemOf(brief), brief.dial, view.sample.plungerMm, moment.plungerMm),
  describe: inWords,
};

const stemOf = ({ subject }: EndPlayBrief) => (subject === 'crankshaft' ? AT_NOSE : AT_HUB);

/** The gauge lies along the axis, its tip on the front. */
function gauge(brief: EndPlayBrief, view: EndPlayView): string {
  if (view.indicator === 'off') return '';
  const { x, y } = brief.subject === 'crankshaft' ? NOSE : HUB_FACE;
  const stand =
    brief.subject === 'crankshaft'
      ? // Off the front of the block.
        part('M26 42H104V50H34V118H26Z')
      : // A magnet on the end of the spindle.
        part(`M50 ${y - 2}H58V${AXIS - 14}H84V${AXIS + 14}H50Z`);
  return `${stand}<g transform="translate(${x} ${y}) rotate(-90)">${stemSvg(stemOf(brief), brief.dial, view.sample.plungerMm)}</g>`;
}

/** Which way is which. */
function ways(): string {
  const y = SIZE.height - 10;
  return (
    line(`M58 ${y - 4}H16`) +
    arrowHead(10, y - 4, -90) +
    word(64, y, 'front') +
    line(`M${SIZE.width - 58} ${y - 4}H${SIZE.width - 16}`) +
    arrowHead(SIZE.width - 10, y - 4, 90) +
    word(SIZE.width - 64, y, 'rear', 'end')
  );
}

function crankshaft(id: string): string {
  const block = `${id}-block`;
  const shell = `${id}-shell`;
  // A web of the block above the shaft and its cap below.
  const wall = (from: number, to: number, sign: 1 | -1) =>
    cut(
      `M${from} ${AXIS - sign * 20}V${AXIS - sign * 88}Q${(from + to) / 2} ${AXIS - sign * 98} ${to} ${AXIS - sign * 88}V${AXIS - sign * 20}Z`,
      block,
    );
  const thrust = (x: number, sign: 1 | -1) =>
    cut(`M${x} ${AXIS - sign * 16}h6V${AXIS - sign * 36}h-6Z`, shell);
  const shells = (from: number, to: number, sign: 1 | -1) =>
    cut(`M${from} ${AXIS - sign * 16}H${to}V${AXIS - sign * 20}H${from}Z`, shell);
  const upright = (from: number, to: number, top: number, foot: number) =>
    part(`M${from} ${top}H${to}V${foot}H${from}Z`);
  const both = [1, -1] as const;
  return (
    sectionLines(block, 45) +
    sectionLines(shell, -45, 4) +
    both.map((sign) => wall(104, 134, sign) + wall(226, 262, sign)).join('') +
    both
      .map((sign) => shells(104, 134, sign) + shells(220, 268, sign) + thrust(220, sign) + thrust(262, sign))
      .join('') +
    upright(NOSE.x, 98, AXIS - 12, AXIS + 12) +
    upright(98, 140, AXIS - 16, AXIS + 16) +
    upright(162, 196, 58, 88) +
    upright(140, 162, 50, 196) +
    upright(196, 217, 50, 196) +
    upright(217, 271, AXIS - 16, AXIS + 16) +
    upright(271, 286, AXIS - 52, AXIS + 52) +
    centreLine(`M${NOSE.x - 6} ${AXIS}H312`) +
    // A pry bar stands between a web of the crank and the block.
    part('M134 182L140 180L176 246L168 250Z') +
    word(184, 226, 'pry bar') +
    leader(183, 220, 166, 232) +
    word(166, 22, 'thrust bearing') +
    leader(196, 28, 223, 96)
  );
}

function hub(id: string): string {
  const body = `${id}-hub`;
  const race = `${id}-race`;
  const half = (sign: 1 | -1) => {
    const y = (up: number) => AXIS - sign * up;
    const metal =
      `M${HUB_FACE.x} ${y(40)}H150V${y(32)}H222V${y(52)}H268V${y(68)}H206L196 ${y(74)}V${y(104)}H180V${y(74)}` +
      `L170 ${y(62)}H${HUB_FACE.x}Z`;
    const bearing = (from: number, to: number, cone: number, cup: number, toward: 1 | -1) => {
      const [small, large] = toward === 1 ? [from + 4, to - 4] : [to - 4, from + 4];
      const [inner, outer] = [cone + 6, cup - 6];
      return (
        cut(`M${from} ${y(cup)}H${to}V${y(outer)}L${from} ${y(outer)}Z`, race) +
        cut(`M${from} ${y(cone)}H${to}V${y(inner)}H${from}Z`, race) +
        part(`M${small} ${y(inner + 1)}L${large} ${y(inner)}V${y(outer)}L${small} ${y(outer - 3)}Z`)
      );
    };
    return cut(metal, body) + bearing(116, 146, 16, 40, -1) + bearing(230, 262, 24, 52, 1);
  };
  const spindle = `M84 ${AXIS - 12}H114V${AXIS - 16}H152L224 ${AXIS - 24}H266V${AXIS - 34}H282V${AXIS - 46}H304V${AXIS + 46}H282V${AXIS + 34}H266V${AXIS + 24}H224L152 ${AXIS + 16}H114V${AXIS + 12}H84Z`;
  return (
    sectionLines(body, 45) +
    sectionLines(race, -45, 4) +
    half(1) +
    half(-1) +
    part(spindle) +
    part(`M108 ${AXIS - 26}H114V${AXIS + 26}H108Z`) +
    part(`M92 ${AXIS - 22}H108V${AXIS + 22}H92Z`) +
    line(`M92 ${AXIS - 9}H108M92 ${AXIS + 9}H108`) +
    centreLine(`M70 ${AXIS}H316`) +
    word(48, 204, 'nut') +
    leader(66, 194, 99, AXIS + 16) +
    word(272, 210, 'bearing') +
    leader(270, 205, 246, AXIS + 40) +
    word(216, 28, 'hub') +
    leader(214, 28, 188, 38)
  );
}

function inWords({ subject }: EndPlayBrief, { indicator }: EndPlayView): string {
  const on = indicator === 'on';
  return subject === 'crankshaft'
    ? `A crankshaft in its main bearings, the front to the left; a pry bar stands between a web and the block. ${on ? "The indicator's tip stands on the front of the crankshaft, along its axis." : 'The indicator is off the work.'}`
    : `A wheel hub on its spindle between two tapered roller bearings, the outer end to the left. ${on ? "The indicator's tip stands on the outer face of the hub; its base holds to the end of the spindle." : 'The indicator is off the work.'}`;
}
