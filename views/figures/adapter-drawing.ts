import { type DrawingNames, drawing, num } from '../drawing/svg.ts';
import { arrowHead, centreLine, line, part, word } from '../scenes/paper.ts';

const WIDTH = 360;
const HEIGHT = 200;
const DRIVE = { x: 262, y: 112 } as const;
const GRIP_X = 40;

/** A torque wrench from above, its adapter at an angle to it: 0 in line, outwards. The adapter is drawn to the wrench's scale, but no shorter than can be seen. Inches, degrees. */
export function adapterSvg(
  {
    wrench,
    adapter,
    angleDeg,
  }: { readonly wrench: number; readonly adapter: number; readonly angleDeg: number },
  names: DrawingNames,
): string {
  const perInch = (DRIVE.x - GRIP_X) / wrench;
  const reach = Math.max(adapter * perInch, 26);
  const nut =
    `<g transform="translate(${num(reach)} 0)"><path class="part" d="M-15 -15H6V-8L-3 -8L-8 0L-3 8H6V15H-15L-18 0Z"/>` +
    `<path class="line" d="M8 0L4 -7H-4L-8 0L-4 7H4Z"/><circle class="part-ink" r="2"/></g>`;
  const body =
    part(`M${GRIP_X - 16} 102H${GRIP_X + 44}V122H${GRIP_X - 16}Z`) +
    part(`M${GRIP_X + 44} 107H${DRIVE.x - 18}V117H${GRIP_X + 44}Z`) +
    `<g transform="translate(${DRIVE.x} ${DRIVE.y}) rotate(${num(-angleDeg)})">${part(`M-12 -8H${num(reach - 14)}V8H-12Z`)}${nut}${centreLine(`M-16 0H${num(reach + 20)}`)}</g>` +
    `<circle class="part" cx="${DRIVE.x}" cy="${DRIVE.y}" r="17"/><path class="line" d="M${DRIVE.x - 6} ${DRIVE.y - 6}h12v12h-12Z"/>` +
    centreLine(`M16 ${DRIVE.y}H${DRIVE.x}`) +
    line(`M${GRIP_X + 12} 132V168M${DRIVE.x} 132V168M${GRIP_X + 12} 160H${DRIVE.x}`) +
    arrowHead(GRIP_X + 12, 160, -90) +
    arrowHead(DRIVE.x, 160, 90) +
    word((GRIP_X + DRIVE.x) / 2 + 6, 154, `${num(wrench)} in, hand to drive`, 'middle') +
    line(`M${GRIP_X + 12} 66V96`) +
    arrowHead(GRIP_X + 12, 98, 180) +
    word(GRIP_X - 16, 58, 'pull here, square to the wrench');
  const description = `The adapter is ${num(adapter)} inches long and stands at ${num(angleDeg)} degrees to the wrench.`;
  return drawing({ ...names, description }, { width: WIDTH, height: HEIGHT }, 'scene-drawing', body);
}
