import type { BacklashBrief, BacklashView } from '../../server/engine/index.ts';
import { drawing, num, onCircle } from '../drawing/svg.ts';
import { type Stem, stemMoves, stemSvg } from './gauge-stem.ts';
import { arrowHead, centreLine, line, part, word } from './paper.ts';
import type { Scene } from './types.ts';

const SIZE = { width: 320, height: 252 } as const;
const RADIUS = 74;
const ROCKED = { x: 110, y: 140 } as const;
/** About so many teeth, made to come out even between the teeth to be measured. */
const ABOUT_TEETH = 24;
const OTHER_TEETH = 16;
const STEM: Stem = { free: 40, barrel: 80, arm: '<path class="part" d="M-11 -26H120V-14H-11Z"/>' };

/**
 * Two gears in mesh from the front; the left one is rocked, the tip on the flank of its topmost tooth at the pitch circle. Play is far
 * too little to be drawn: the gears turn from tooth to tooth and stand still otherwise.
 */
export const backlashScene: Scene<BacklashBrief, BacklashView> = {
  draw(brief, view, names) {
    const described = { ...names, description: names.description ?? inWords(brief, view) };
    return drawing(described, SIZE, 'scene-drawing', gears(brief, view) + gauge(brief, view));
  },
  move: (brief, view, moment) =>
    view.indicator === 'off' ? {} : stemMoves(STEM, brief.dial, view.sample.plungerMm, moment.plungerMm),
  describe: inWords,
};

/** Outline of a gear with a tooth at twelve o'clock: flanks a little convex, roots and tips round. */
function outline(radius: number, teeth: number, module: number): string {
  const pitch = 360 / teeth;
  let d = '';
  for (let tooth = 0; tooth < teeth; tooth += 1) {
    const at = (share: number, from: number) =>
      onCircle(radius + from * module, (tooth + share) * pitch)
        .map(num)
        .join(' ');
    d += `${tooth === 0 ? 'M' : 'L'}${at(-0.34, -1.15)}Q${at(-0.25, -0.5)} ${at(-0.23, 0)}Q${at(-0.19, 0.6)} ${at(-0.12, 0.95)}L${at(0.12, 0.95)}Q${at(0.19, 0.6)} ${at(0.23, 0)}Q${at(0.25, -0.5)} ${at(0.34, -1.15)}`;
  }
  return `${d}Z`;
}

function gears({ teeth: asked }: BacklashBrief, { tooth, held }: BacklashView): string {
  const between = Math.max(1, Math.round(ABOUT_TEETH / asked));
  const teeth = between * asked;
  const module = (2 * RADIUS) / teeth;
  const small = (module * OTHER_TEETH) / 2;
  const other = ROCKED.x + RADIUS + small;
  // The next tooth to measure comes to the top as the gear goes clockwise; the one in mesh goes the other way.
  const steps = ((tooth ?? 1) - 1) * between;
  const turn = (steps * 360) / teeth;
  let figures = '';
  for (let one = 1; one <= asked; one += 1) {
    const deg = ((1 - one) * 360) / asked;
    const [x, y] = onCircle(RADIUS - 2.6 * module - 2, deg);
    const here = one === tooth;
    const blue = here ? '<circle class="scene-blued" r="10"/>' : '';
    figures += `<g transform="translate(${num(x)} ${num(y)}) rotate(${num(-turn)})">${blue}<text class="${here ? 'scene-on-blue' : 'scene-degree'}" y="5">${one}</text></g>`;
  }
  // A space of the other gear stands at nine o'clock against a tooth of the first at three, or the reverse.
  const inMesh = ((90 / 360) * teeth) % 1;
  const share = (0.25 * OTHER_TEETH + 0.5 + inMesh) % 1;
  const otherTurn = (share * 360) / OTHER_TEETH;
  return (
    `<g transform="translate(${num(other)} ${ROCKED.y})"><path class="part scene-gear" transform="rotate(${num(otherTurn)})" d="${outline(small, OTHER_TEETH, module)}"/>` +
    `<circle class="centre-line" r="${num(small)}"/><circle class="part" r="11"/>${centreLine('M-18 0H18M0 -18V18')}</g>` +
    `<g transform="translate(${ROCKED.x} ${ROCKED.y})"><g transform="rotate(${num(turn)})"><path class="part scene-gear" d="${outline(RADIUS, teeth, module)}"/>${figures}</g>` +
    `<circle class="centre-line" r="${RADIUS}"/><circle class="part" r="16"/>${centreLine('M-24 0H24M0 -24V24')}${rocks()}</g>` +
    holding(other, small, module, held)
  );
}

/** Rocked to and fro: an arrow both ways inside the gear. */
function rocks(): string {
  const [x1, y1] = onCircle(32, 145);
  const [x2, y2] = onCircle(32, 215);
  return (
    line(`M${num(x1)} ${num(y1)}A32 32 0 0 1 ${num(x2)} ${num(y2)}`) +
    arrowHead(x1, y1, 145 - 80) +
    arrowHead(x2, y2, 215 + 80)
  );
}

/** A block wedged into the other gear from below, or none. */
function holding(x: number, radius: number, module: number, held: boolean): string {
  const foot = ROCKED.y + radius + module;
  const block = held
    ? `${part(`M${num(x - 22)} ${num(foot + 10)}H${num(x - 7)}L${num(x)} ${num(foot - 2 * module)}L${num(x + 7)} ${num(foot + 10)}H${num(x + 22)}V${num(foot + 24)}H${num(x - 22)}Z`)}`
    : '';
  return block + word(x, foot + 40, held ? 'held' : 'free', 'middle');
}

/** The plunger lies along the path of the tooth. Its point comes in from the front of the gear. */
function gauge(brief: BacklashBrief, view: BacklashView): string {
  if (view.indicator === 'off') return '';
  const y = ROCKED.y - RADIUS;
  const between = Math.max(1, Math.round(ABOUT_TEETH / brief.teeth));
  const flank = 0.23 * ((2 * Math.PI * RADIUS) / (between * brief.teeth));
  return `<g transform="translate(${num(ROCKED.x - flank)} ${y}) rotate(-90)">${stemSvg(STEM, brief.dial, view.sample.plungerMm)}</g>`;
}

function inWords({ teeth }: BacklashBrief, { tooth, held, indicator }: BacklashView): string {
  const top =
    tooth === null
      ? `${teeth} teeth are marked on the one that is rocked; none has been chosen.`
      : `Tooth ${tooth} of the ${teeth} marked is at the top.`;
  const tip =
    indicator === 'on'
      ? "The indicator's tip stands on its flank at the pitch circle."
      : 'The indicator is off the work.';
  return `Two gears in mesh. ${top} ${tip} The other gear is ${held ? 'held' : 'free'}.`;
}
