import type { BriefOf, ViewOf } from '../../server/engine/index.ts';
import { drawing, num } from '../drawing/svg.ts';
import { arrowHead, centreLine, line, word } from './paper.ts';
import { boltRows, boltsHeight, boltsInWords, hexagon } from './torque-bolts.ts';
import type { Scene } from './types.ts';

type Brief = BriefOf<'torque-adapter'>;
type View = ViewOf<'torque-adapter'>;

const WIDTH = 320;
/** The square of the wrench, and the middle line of its handle. */
const SQUARE = { x: 196, y: 104 } as const;
/** Where the hand is drawn. The handle is drawn short, so these are places and not lengths. */
const HAND_AT: Readonly<Record<View['grip'], number>> = { end: 34, mark: 66, choked: 112 };
const HANDLE_END = 18;
/** The adapter from square to fastener, and its jaw. */
const REACH = 58;
const JAW = 17;
const SCALE = { from: 34, to: 286, y: 222 } as const;
const BOLTS_TOP = 262;

const UNITS: Readonly<Record<Brief['scale']['unit'], string>> = {
  'lbf-ft': 'lbf·ft',
  'lbf-in': 'lbf·in',
  'N-m': 'N·m',
};
const HANDS = { mark: 'at the mark', choked: 'nearer the head', end: 'at the very end' } as const;

/** A torque wrench with its adapter from above, its scale, and the bolts that are being tightened. */
export const torqueScene: Scene<Brief, View> = {
  draw: (brief, view, names) =>
    drawing(
      { ...names, description: names.description ?? inWords(brief, view) },
      { width: WIDTH, height: BOLTS_TOP + boltsHeight(brief) },
      'scene-drawing',
      (view.angleDeg === null ? '' : adapter(brief, view, view.angleDeg)) +
        wrench(view) +
        lengthOfWrench(brief, view) +
        state(view) +
        scale(brief, view) +
        boltRows(brief, view, BOLTS_TOP),
    ),
  // Every action is over at once.
  move: () => ({}),
  describe: inWords,
};

function inWords(brief: Brief, view: View): string {
  const { scale: marks, lengthUnit, gripLength, adapterLength } = brief;
  const held =
    view.wrench === null
      ? 'No wrench is in the hand'
      : `Torque wrench ${view.wrench}, set to ${num(view.setting)} ${UNITS[marks.unit]}, the hand ${HANDS[view.grip]}`;
  const fitted =
    view.angleDeg === null
      ? 'the adapter is off'
      : `the open-end adapter is on at ${num(view.angleDeg)}° to the handle`;
  return (
    `${held}; ${fitted}. L, mark on the grip to square, is ${num(gripLength)} ${lengthUnit}; E, square to fastener, is ${num(adapterLength)} ${lengthUnit}. ` +
    boltsInWords(brief, view)
  );
}

/** Outlined where it is in the hand, dashed where it still lies in its box. */
const metal = (isThere: boolean, d: string) =>
  `<path class="${isThere ? 'part' : 'scene-to-come'}" d="${d}"/>`;

/** Grip, tube and head, seen from above; the hand, and the mark it belongs at. */
function wrench({ wrench: held, grip }: View): string {
  const { x, y } = SQUARE;
  const isHeld = held !== null;
  const hand = HAND_AT[grip];
  let knurl = '';
  for (let at = HANDLE_END + 8; at < 128; at += 8) knurl += `M${at} ${y - 9}L${at + 5} ${y + 9}`;
  return (
    metal(isHeld, `M132 ${y - 6}H${x - 14}V${y + 6}H132Z`) +
    metal(
      isHeld,
      `M${HANDLE_END + 3} ${y - 9}H132V${y + 9}H${HANDLE_END + 3}Q${HANDLE_END} ${y} ${HANDLE_END + 3} ${y - 9}Z`,
    ) +
    (isHeld ? `<path class="section-lines" d="${knurl}"/>` : '') +
    metal(
      isHeld,
      `M${x - 22} ${y - 6}Q${x - 12} ${y - 17} ${x} ${y - 17}A17 17 0 0 1 ${x} ${y + 17}Q${x - 12} ${y + 17} ${x - 22} ${y + 6}Z`,
    ) +
    metal(isHeld, `M${x - 6} ${y - 6}H${x + 6}V${y + 6}H${x - 6}Z`) +
    centreLine(`M8 ${y}H${x + 28}M${x} ${y - 24}V${y + 24}`) +
    `<path class="line-heavy" d="M${HAND_AT.mark} ${y - 12}V${y + 12}"/>` +
    (isHeld ? handOn(hand) : '')
  );
}

/** Four fingers over the grip. */
function handOn(x: number): string {
  const { y } = SQUARE;
  let fingers = '';
  for (const off of [-14, -5, 4, 13])
    fingers += `<path class="part" d="M${x + off - 4} ${y + 8}V${y - 9}Q${x + off} ${y - 17} ${x + off + 4} ${y - 9}V${y + 8}Q${x + off} ${y + 13} ${x + off - 4} ${y + 8}Z"/>`;
  return fingers;
}

/** The open-end adapter, turned about the square, with E along the side away from the handle. */
function adapter({ adapterLength, lengthUnit }: Brief, { at }: View, angleDeg: number): string {
  const { x, y } = SQUARE;
  const [c, s] = [Math.cos((angleDeg * Math.PI) / 180), Math.sin((angleDeg * Math.PI) / 180)];
  const [endX, endY] = [x + REACH * c, y - REACH * s];
  // Away from the handle: clockwise of an adapter that is turned to the one side, anticlockwise of the other.
  const way = s < 0 ? -1 : 1;
  const [nx, ny] = [way * s, way * c];
  const off = (fromX: number, fromY: number, by: number) => `${num(fromX + nx * by)} ${num(fromY + ny * by)}`;
  const alongDeg = 90 - angleDeg;
  const dimension =
    line(
      `M${off(x, y, 21)}L${off(x, y, 33)}M${off(endX, endY, 21)}L${off(endX, endY, 33)}M${off(x, y, 29)}L${off(endX, endY, 29)}`,
    ) +
    arrowHead(endX + nx * 29, endY + ny * 29, alongDeg) +
    arrowHead(x + nx * 29, y + ny * 29, alongDeg + 180);
  const [midX, midY] = [(x + endX) / 2 + nx * 37, (y + endY) / 2 + ny * 41];
  const anchor = nx > 0.4 ? 'start' : nx < -0.4 ? 'end' : 'middle';
  return (
    `<g transform="translate(${x} ${y}) rotate(${num(-angleDeg)})">` +
    `<path class="part" d="M0 -13H${REACH - 18}Q${REACH - 12} ${-JAW} ${REACH} ${-JAW - 3}L${REACH + 15} -16V-9H${REACH - 9}V9H${REACH + 15}V16L${REACH} ${JAW + 3}Q${REACH - 12} ${JAW} ${REACH - 18} 13H0Z"/>` +
    `<path class="part" d="${hexagon(REACH, 0, 9 / Math.cos(Math.PI / 6))}"/><path class="centre-line" d="M20 0H${REACH + 22}"/></g>` +
    dimension +
    word(midX, midY + 4.5, `E ${num(adapterLength)} ${lengthUnit}`, anchor) +
    (at === null ? '' : `<circle class="part-ink" cx="${num(endX)}" cy="${num(endY)}" r="2.6"/>`)
  );
}

/** L from the mark to the square, on the side the adapter does not swing to. */
function lengthOfWrench({ gripLength, lengthUnit }: Brief, { angleDeg }: View): string {
  const { x, y } = SQUARE;
  const way = (angleDeg ?? 0) < 0 ? -1 : 1;
  const at = y + way * 42;
  const mark = HAND_AT.mark;
  return (
    line(`M${mark} ${y + way * 20}V${at + way * 5}M${x} ${y + way * 26}V${at + way * 5}M${mark} ${at}H${x}`) +
    arrowHead(mark, at, -90) +
    arrowHead(x, at, 90) +
    word((mark + x) / 2, at + (way > 0 ? 16 : -6), `L ${num(gripLength)} ${lengthUnit}`, 'middle') +
    word(mark, y + way * 42 + (way > 0 ? 16 : -6), 'mark', 'end')
  );
}

/** What is in the hand and how the adapter stands. */
function state({ wrench: held, angleDeg }: View): string {
  return (
    word(8, 16, held === null ? 'no wrench in the hand' : `wrench ${held}`) +
    word(
      WIDTH - 8,
      16,
      angleDeg === null ? 'adapter off' : `adapter at ${num(angleDeg).replace('-', '−')}°`,
      'end',
    )
  );
}

/** The scale drawn out straight, with what it is set to; nothing is set on a wrench in its box. */
function scale({ scale: { least, most, step, unit } }: Brief, { wrench: held, setting }: View): string {
  const { from, to, y } = SCALE;
  const at = (value: number) => from + ((to - from) * (value - least)) / (most - least);
  // As many graduations as can be told apart; never closer than five units.
  const steps = Math.max(1, Math.round((most - least) / step));
  const stride = Math.max(1, Math.ceil((steps * 5) / (to - from)));
  let ticks = '';
  for (let index = 0; index <= steps; index += stride)
    ticks += `M${num(at(least + index * step))} ${y}v${(index / stride) % 5 === 0 ? 11 : 6}`;
  const set =
    held === null
      ? ''
      : arrowHead(at(setting), y, 180) +
        word(
          Math.min(to - 40, Math.max(from + 40, at(setting))),
          y - 13,
          `set to ${num(setting)} ${UNITS[unit]}`,
          'middle',
        );
  return (
    line(`M${from} ${y}H${to}${ticks}`) +
    word(from - 4, y + 5, num(least), 'end') +
    word(to + 4, y + 5, num(most)) +
    set
  );
}
