import { type DrawingNames, drawing, num } from '../drawing/svg.ts';
import { centreLine, cut, ground, leader, part, sectionLines, word } from '../scenes/paper.ts';

const WIDTH = 320;
const HEIGHT = 380;
const CENTRE = 150;
const SEAT = 268;
const ROD = 96;
const PER_INCH = 130;

/** Section through a tappet bore with the rod standing in the tappet, and the indicator on it; each may lean on its own. Degrees, inches. */
export function leanSvg(
  {
    liftIn,
    rodDeg,
    gaugeDeg,
  }: { readonly liftIn: number; readonly rodDeg: number; readonly gaugeDeg: number },
  names: DrawingNames,
): string {
  const block = `${names.id}-block`;
  const seatY = SEAT - liftIn * PER_INCH;
  const rod = (rodDeg * Math.PI) / 180;
  // The rod leans about its seat to the right, the indicator to the left.
  const topX = CENTRE + ROD * Math.sin(rod);
  const topY = seatY - ROD * Math.cos(rod);
  const body =
    sectionLines(block, 45) +
    cut(`M56 214H118V338H56Z`, block) +
    cut(`M182 214H244V338H182Z`, block) +
    part(`M120 ${num(seatY - 8)}H180V${num(seatY + 56)}H120Z`) +
    `<path class="line" d="M138 ${num(seatY - 8)}V${num(seatY)}H162V${num(seatY - 8)}"/>` +
    `<g transform="translate(${CENTRE} ${num(seatY)}) rotate(${num(rodDeg)})">${part(`M-7 0V-${ROD}H7V0Z`)}${centreLine(`M0 6V-${ROD + 12}`)}</g>` +
    `<g transform="translate(${num(topX)} ${num(topY)}) rotate(${num(-gaugeDeg)})">` +
    `<circle class="part" cx="0" cy="-3" r="4"/>${part('M-3 -7H3V-58H-3Z')}${part('M-8 -58H8V-112H-8Z')}` +
    `${centreLine('M0 4V-150')}</g>` +
    centreLine(`M${CENTRE} 352V20`) +
    ground(40, 262, 340) +
    word(252, 262, 'block') +
    leader(250, 257, 226, 268) +
    word(188, seatY + 40, 'tappet') +
    word(8, 22, gaugeDeg === 0 ? 'indicator in line with the bore' : `indicator leans ${num(gaugeDeg)}°`) +
    word(8, 40, rodDeg === 0 ? 'rod upright' : `rod leans ${num(rodDeg)}°`);
  const description = `The rod leans ${num(rodDeg)} degrees, the indicator ${num(gaugeDeg)} degrees from the line of the bore.`;
  return drawing({ ...names, description }, { width: WIDTH, height: HEIGHT }, 'scene-drawing', body);
}
