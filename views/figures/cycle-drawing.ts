import { type DrawingNames, drawing, num, onCircle } from '../drawing/svg.ts';
import { centreLine, cut, line, part, sectionLines, word } from '../scenes/paper.ts';
import { type Cycle, lobeShare, ownDeg, STROKES, strokeAt } from './cycle-engine.ts';

const CYLINDER = { width: 320, height: 400 } as const;
const MIDDLE = 116;
const BORE = 46;
const CRANK_Y = 326;
const THROW = 40;
const ROD = 132;

/** Cylinder 1 from the front: piston, valves and crank, and beside it the cam that turns at half speed. */
export function cylinderSvg(cycle: Cycle, names: DrawingNames): string {
  const deg = ownDeg(cycle, 1);
  const stroke = strokeAt(deg);
  const rad = (deg * Math.PI) / 180;
  const [pinX, pinY] = onCircle(THROW, deg);
  const pistonY = CRANK_Y - THROW * Math.cos(rad) - Math.sqrt(ROD ** 2 - (THROW * Math.sin(rad)) ** 2);
  const block = `${names.id}-block`;
  const [camX, camY] = [252, 130];
  const lobe = Array.from({ length: 72 }, (_, index) => {
    // The cam's own outline, by the lift of lobe 1 over its cycle; it turns once in 720° of crank.
    const [x, y] = onCircle(24 + 15 * lobeShare(cycle, 1, index * 10), -index * 5);
    return `${index === 0 ? 'M' : 'L'}${num(x)} ${num(y)}`;
  }).join('');
  const body =
    sectionLines(block, 45) +
    cut(`M${MIDDLE - BORE - 22} 74H${MIDDLE - BORE}V276H${MIDDLE - BORE - 22}Z`, block) +
    cut(`M${MIDDLE + BORE} 74H${MIDDLE + BORE + 22}V276H${MIDDLE + BORE}Z`, block) +
    cut(`M${MIDDLE - BORE - 22} 44H${MIDDLE + BORE + 22}V72H${MIDDLE - BORE - 22}Z`, block) +
    valve(MIDDLE - 24, stroke === 'intake') +
    valve(MIDDLE + 24, stroke === 'exhaust') +
    word(MIDDLE - 24, 16, 'in', 'middle') +
    word(MIDDLE + 24, 16, 'out', 'middle') +
    `<circle class="part" cx="${MIDDLE}" cy="${CRANK_Y}" r="58"/>` +
    `<g transform="translate(${MIDDLE} ${CRANK_Y}) rotate(${num(deg)})"><path class="crank-chalk" d="M0 -50V-58"/></g>` +
    `<path class="line-heavy" d="M${num(MIDDLE + pinX)} ${num(CRANK_Y + pinY)}L${MIDDLE} ${num(pistonY + 12)}"/>` +
    `<circle class="part" cx="${num(MIDDLE + pinX)}" cy="${num(CRANK_Y + pinY)}" r="9"/><circle class="part-ink" cx="${MIDDLE}" cy="${CRANK_Y}" r="4"/>` +
    part(
      `M${MIDDLE - BORE + 1} ${num(pistonY - 22)}H${MIDDLE + BORE - 1}V${num(pistonY + 30)}H${MIDDLE - BORE + 1}Z`,
    ) +
    line(
      `M${MIDDLE - BORE + 1} ${num(pistonY - 14)}H${MIDDLE + BORE - 1}M${MIDDLE - BORE + 1} ${num(pistonY - 7)}H${MIDDLE + BORE - 1}`,
    ) +
    `<circle class="part" cx="${MIDDLE}" cy="${num(pistonY + 12)}" r="8"/>` +
    centreLine(`M${MIDDLE} 30V392`) +
    `<g transform="translate(${camX} ${camY}) rotate(${num(cycle.crankDeg / 2)})"><path class="part" d="${lobe}Z"/><path class="crank-chalk" d="M0 -14V-22"/></g>` +
    `<circle class="part-ink" cx="${camX}" cy="${camY}" r="3"/>` +
    `<circle class="part" cx="${camX}" cy="${num(camY - 36 - 15 * lobeShare(cycle, 1, cycle.crankDeg))}" r="12"/>` +
    word(camX, camY + 62, 'cam, half speed', 'middle') +
    word(camX, CRANK_Y - 14, 'cylinder 1', 'middle') +
    `<text class="scene-word figure-stroke" x="${camX}" y="${CRANK_Y + 6}" text-anchor="middle">${stroke}</text>`;
  const description = `Cylinder 1 on its ${stroke} stroke; crank at ${Math.round(deg) % 360} degrees, cam at ${Math.round(cycle.crankDeg / 2) % 360}.`;
  return drawing({ ...names, description }, CYLINDER, 'scene-drawing', body);
}

function valve(x: number, open: boolean): string {
  const y = open ? 14 : 0;
  return part(`M${x - 3} ${22 + y}H${x + 3}V${62 + y}L${x + 17} ${74 + y}H${x - 17}L${x - 3} ${62 + y}Z`);
}

const LEFT = 44;
const RIGHT = 356;
const ROW = 30;
const TOP = 30;

/** All cylinders over two turns of the crank: strokes as boxes, compression lined, the lift of each injection lobe over it, and where the crank is. */
export function strokesSvg(cycle: Cycle, names: DrawingNames): string {
  const { firingOrder } = cycle.bench;
  const cylinders = [...firingOrder].sort((one, other) => one - other);
  const x = (deg: number) => LEFT + (deg / 720) * (RIGHT - LEFT);
  const foot = TOP + cylinders.length * ROW;
  const pattern = `${names.id}-compression`;
  let body = sectionLines(pattern, 45);
  cylinders.forEach((cylinder, index) => {
    const y = TOP + index * ROW;
    const first = ownDeg({ ...cycle, crankDeg: 0 }, cylinder);
    body += `<text class="plot-figure" x="${LEFT - 6}" y="${y + 19}" text-anchor="end">${cylinder}</text>`;
    STROKES.forEach((stroke, at) => {
      for (const turn of [-720, 0]) {
        const from = Math.max(0, at * 180 - first + (turn + 720));
        const to = Math.min(720, at * 180 + 180 - first + (turn + 720));
        const [left, right] =
          turn === -720 ? [Math.max(0, at * 180 - first), Math.min(720, at * 180 + 180 - first)] : [from, to];
        if (right <= left) continue;
        const box = `M${num(x(left))} ${y + 4}H${num(x(right))}V${y + ROW - 2}H${num(x(left))}Z`;
        body += stroke === 'compression' ? cut(box, pattern) : part(box);
        if (right - left > 90 && stroke !== 'compression')
          body += `<text class="figure-letter" x="${num(x((left + right) / 2))}" y="${y + 20}">${stroke.slice(0, 1).toUpperCase()}</text>`;
      }
    });
    let hump = '';
    for (let deg = 0; deg <= 720; deg += 8)
      hump += `${deg === 0 ? 'M' : 'L'}${num(x(deg))} ${num(y + ROW - 2 - 22 * lobeShare(cycle, cylinder, deg))}`;
    body += `<path class="plot-line" d="${hump}"/>`;
  });
  let ticks = '';
  for (let deg = 0; deg <= 720; deg += 180) {
    ticks += `M${num(x(deg))} ${foot + 2}V${foot + 8}`;
    body += `<text class="plot-figure" x="${num(x(deg))}" y="${foot + 22}" text-anchor="${deg === 720 ? 'end' : 'middle'}">${deg}</text>`;
  }
  body +=
    line(ticks) +
    `<path class="figure-now" d="M${num(x(cycle.crankDeg))} ${TOP - 4}V${foot + 6}"/>` +
    `<text class="plot-name" x="${LEFT}" y="16">P power, E exhaust, I intake; lined: compression</text>` +
    `<text class="plot-name" x="${LEFT}" y="${foot + 40}">degrees of crank; blue: lift of the injection lobe</text>`;
  const description = cylinders
    .map((cylinder) => `Cylinder ${cylinder}: ${strokeAt(ownDeg(cycle, cylinder))}`)
    .join('. ');
  return drawing(
    { ...names, description },
    { width: 360, height: foot + 46 },
    'plot-drawing figure-curve',
    body,
  );
}
