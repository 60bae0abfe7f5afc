import type { RunOutBrief, RunOutView } from '../../server/engine/index.ts';
import { type DrawingNames, drawing, num, onCircle, radial } from '../drawing/svg.ts';
import { type Stem, stemMoves, stemSvg } from './gauge-stem.ts';
import { arrowHead, centreLine, cut, ground, leader, line, part, sectionLines, word } from './paper.ts';
import type { Moves, Scene, SceneMoment } from './types.ts';

const SIZE = { width: 320, height: 272 } as const;
const SHAFT = { x: 106, y: 152, radius: 62 } as const;
const HOUSING = { x: 112, y: 140, outer: 106, face: 83, bore: 70, flange: 25 } as const;

const ON_SHAFT: Stem = { free: 34, barrel: 90, arm: '<path class="part" d="M-11 -18H64V-8H-11Z"/>' };
const IN_BORE: Stem = { free: 20, barrel: 14 };

/**
 * A shaft on V-blocks from its front end, its degrees chalked on the end face and turning with it; or a flywheel housing from the
 * flywheel's side, where the gauge turns with the crankshaft and the degrees stand. Front and rear see the running direction opposite ways.
 */
export const runOutScene: Scene<RunOutBrief, RunOutView> = {
  draw(brief, view, names) {
    const described = { ...names, description: names.description ?? inWords(brief, view) };
    const body = brief.subject === 'shaft' ? shaft(brief, view) : housing(brief, view, names);
    return drawing(described, SIZE, 'scene-drawing', body);
  },
  move,
  describe: inWords,
};

function move(brief: RunOutBrief, view: RunOutView, moment: SceneMoment): Moves {
  const turn = { turn: { transform: turned(brief, moment.deg ?? degOf(view)) } };
  const stem = stemOf(brief, view);
  if (stem === null) return turn;
  return { ...turn, ...stemMoves(stem, brief.dial, view.sample.plungerMm, moment.plungerMm) };
}

/** The stem that is seen from the side; on a face the gauge points away from whoever looks. */
function stemOf({ subject }: RunOutBrief, { indicator, place }: RunOutView): Stem | null {
  if (indicator === 'off' || place !== 'rim') return null;
  return subject === 'shaft' ? ON_SHAFT : IN_BORE;
}

const degOf = (view: RunOutView) => view.sample.workDeg ?? 0;

const turned = ({ subject }: RunOutBrief, deg: number) => `rotate(${num(subject === 'shaft' ? deg : -deg)})`;

/** Degrees that rise anticlockwise, so that they rise under a tip in the running direction. Ticks from one radius to another. */
function degrees(from: number, to: number, figures: number, upright = false): string {
  let fine = '';
  let coarse = '';
  let words = '';
  for (let deg = 0; deg < 360; deg += 10) {
    if (deg % 30 === 0) coarse += radial(-deg, from - 3, to);
    else fine += radial(-deg, from, to);
    if (deg % 90 !== 0) continue;
    const [x, y] = onCircle(figures, -deg);
    words += `<text class="scene-degree" transform="translate(${num(x)} ${num(y)}) rotate(${upright ? 0 : -deg})" y="5">${deg}</text>`;
  }
  return `${line(fine)}<path class="line-heavy" d="${coarse}"/>${words}`;
}

function shaft(brief: RunOutBrief, view: RunOutView): string {
  const { x, y, radius } = SHAFT;
  const stem = stemOf(brief, view);
  const touch = radius / Math.SQRT2;
  const top = 18;
  const foot = 104;
  const wall = num(2 * touch - top);
  const block = `M-76 ${top}H-${wall}L-6 ${num(2 * touch - 6)}V${num(2 * touch + 4)}H6V${num(2 * touch - 6)}L${wall} ${top}H76V${foot}H-76Z`;
  return (
    `<g transform="translate(${x} ${y})">${part(block)}<g data-part="turn" transform="${turned(brief, degOf(view))}">` +
    `<circle class="part" r="${radius}"/><circle class="line" r="${radius - 4}"/><path class="scene-blued" d="M-4 -${radius - 4}H4V-${radius - 14}H-4Z"/>` +
    `${degrees(radius - 9, radius - 4, 40)}<circle class="line" r="9"/><circle class="line" r="4"/></g>` +
    `${centreLine(`M-${radius + 14} 0H${radius + 14}`)}${runs(radius + 9, -66, -36)}` +
    `${stem === null ? '' : `<g transform="translate(0 -${radius})">${stemSvg(stem, brief.dial, view.sample.plungerMm)}</g>`}</g>` +
    `${stem === null ? '' : post(166, y + foot)}${ground(8, 312, y + foot)}${word(4, 88, 'forward')}${shaftFromTheSide(view, y + foot)}`
  );
}

/** The post the arm slides on, off the drawing at its top. */
function post(x: number, foot: number): string {
  return `${part(`M${x - 4} -4H${x + 4}V${foot - 12}H${x - 4}Z`)}${part(`M${x - 14} ${foot - 12}H${x + 16}V${foot}H${x - 14}Z`)}`;
}

/** The running direction: an arrow round part of a circle about the origin, clockwise from one degree to another. */
function runs(radius: number, fromDeg: number, toDeg: number): string {
  const [x1, y1] = onCircle(radius, fromDeg);
  const [x2, y2] = onCircle(radius, toDeg);
  const sweep = toDeg > fromDeg ? 1 : 0;
  return (
    line(`M${num(x1)} ${num(y1)}A${radius} ${radius} 0 0 ${sweep} ${num(x2)} ${num(y2)}`) +
    arrowHead(x2, y2, toDeg + (sweep === 1 ? 96 : -96))
  );
}

/** The same shaft, small, along its length: which journal it is. */
function shaftFromTheSide(view: RunOutView, foot: number): string {
  const axis = foot - 44;
  const at = (x: number, width: number, up: number, down: number) =>
    part(`M${x} ${axis - up}h${width}V${axis + down}h-${width}Z`);
  const block = (x: number) => part(`M${x - 2} ${axis + 4}h24V${foot}h-24Z`);
  const place =
    view.place === null
      ? ''
      : `<path class="${view.indicator === 'on' ? 'part-ink' : 'scene-to-come'}" d="M258 ${axis - 9}l-6 -14h12Z"/>`;
  return (
    at(202, 20, 8, 8) +
    at(222, 6, 26, 12) +
    at(228, 14, 26, -12) +
    at(242, 6, 26, 12) +
    at(248, 20, 8, 8) +
    at(268, 6, 12, 26) +
    at(274, 14, -12, 26) +
    at(288, 6, 12, 26) +
    at(294, 20, 8, 8) +
    block(202) +
    block(294) +
    centreLine(`M194 ${axis}H320`) +
    place
  );
}

function housing(brief: RunOutBrief, view: RunOutView, names: DrawingNames): string {
  const { x, y, outer, face, bore, flange } = HOUSING;
  let holes = '';
  for (let deg = 22.5; deg < 360; deg += 45) {
    const [cx, cy] = onCircle(95, deg);
    holes += `<circle class="line" cx="${num(cx)}" cy="${num(cy)}" r="4.5"/>`;
  }
  let bolts = '';
  for (let deg = 30; deg < 360; deg += 60) {
    const [cx, cy] = onCircle(flange - 8, deg);
    bolts += `<circle class="line" cx="${num(cx)}" cy="${num(cy)}" r="2.6"/>`;
  }
  return (
    `<g transform="translate(${x} ${y})"><circle class="part" r="${outer}"/>${holes}<circle class="line" r="${face}"/>` +
    `<circle class="part" r="${bore}"/>${degrees(face + 4, face, 95, true)}` +
    `${centreLine(`M-${bore + 8} 0H${bore + 8}M0 -${bore + 8}V${bore + 8}`)}` +
    `<g data-part="turn" transform="${turned(brief, degOf(view))}"><circle class="part" r="${flange}"/>${bolts}` +
    `<path class="scene-scribed" d="M0 -${flange - 1}V-${flange - 9}"/>${gaugeOnFlange(brief, view)}</g>${runs(40, -125, -165)}</g>` +
    `${word(58, 266, 'from the flywheel end')}${housingCut(view, names)}`
  );
}

/** The gauge on the crankshaft's flange: out to the bore, or with its back to whoever looks on the face. */
function gaugeOnFlange(brief: RunOutBrief, view: RunOutView): string {
  if (view.indicator === 'off' || view.place === null) return '';
  const { bore, face, flange } = HOUSING;
  const base = part(`M-10 -${flange + 10}H10V-${flange - 14}H-10Z`);
  if (view.place === 'rim')
    return `<g transform="translate(0 -${bore}) rotate(180)">${stemSvg(IN_BORE, brief.dial, view.sample.plungerMm)}</g>${base}`;
  const at = (bore + face) / 2;
  return `${part(`M-4 -${flange}V-${at}H4V-${flange}Z`)}${base}<circle class="part" cy="-${at}" r="8"/><circle class="line" cy="-${at}" r="3"/>`;
}

/** A cut through the housing at the tip: the bore looks to the axis, the face to the flywheel. */
function housingCut(view: RunOutView, { id }: DrawingNames): string {
  const wall = 'M252 52H276V128H268V136H252Q240 128 246 108T244 76Q242 62 252 52Z';
  const axis = 214;
  const mark = view.indicator === 'on' ? 'part-ink' : 'scene-to-come';
  const tip =
    view.place === null
      ? ''
      : `<path class="${mark}" d="${view.place === 'rim' ? 'M260 137l-6 14h12Z' : 'M277 118l14 -6v12Z'}"/>`;
  return (
    sectionLines(`${id}-housing`, 45) +
    cut(wall, `${id}-housing`) +
    part(`M244 ${axis - 22}H262V${axis + 22}H244Z`) +
    centreLine(`M232 ${axis}H316`) +
    tip +
    `${word(282, 76, 'face')}${leader(284, 80, 277, 92)}${word(280, 158, 'bore')}${leader(279, 152, 264, 136)}`
  );
}

function inWords({ subject }: RunOutBrief, view: RunOutView): string {
  const deg = Math.round(degOf(view)) % 360;
  const place = subject === 'shaft' ? 'the middle journal' : view.place === 'face' ? 'the face' : 'the bore';
  const tip =
    view.place === null
      ? 'The indicator is off the work and no place has been chosen.'
      : view.indicator === 'off'
        ? `The stand is at ${place}; the indicator has not been set down.`
        : `The indicator's tip stands on ${place}.`;
  return subject === 'shaft'
    ? `A crankshaft on two V-blocks, seen from its front end, with degrees chalked on it; it runs clockwise. ${deg}° is uppermost. ${tip}`
    : `A flywheel housing seen from the flywheel end, its degrees rising anticlockwise from the top. The gauge turns with the crankshaft and is at ${deg}°. ${tip}`;
}
