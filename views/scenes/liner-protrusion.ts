import type { LinerBrief, LinerView } from '../../server/engine/index.ts';
import { drawing, escapeText, num, onCircle } from '../drawing/svg.ts';
import { type Stem, stemMoves, stemSvg } from './gauge-stem.ts';
import { cut, leader, line, part, sectionLines, word } from './paper.ts';
import type { Scene } from './types.ts';

const SIZE = { width: 320, height: 300 } as const;
/** The block from above: one row. */
const ROW = { y: 62, widest: 100 } as const;
/** The cut below: the deck's height, where the counterbore begins and where the bore does. */
const CUT = { deck: 224, counterbore: 180, bore: 226 } as const;
const STEM: Stem = { free: 30, barrel: 50 };

/**
 * The block from above with every liner's four points, and under it a cut through deck and liner flange with the bridge on it. The
 * flange is drawn a constant step above the deck: how far it really stands up is for the gauge to find.
 */
export const linerScene: Scene<LinerBrief, LinerView> = {
  draw(brief, view, names) {
    const described = { ...names, description: names.description ?? inWords(brief, view) };
    return drawing(
      described,
      SIZE,
      'scene-drawing',
      above(brief, view) + across(brief, view, escapeText(names.id)),
    );
  },
  move: (brief, view, moment) =>
    view.indicator === 'off' ? {} : stemMoves(STEM, brief.dial, view.sample.plungerMm, moment.plungerMm),
  describe: inWords,
};

function above({ liners, points }: LinerBrief, view: LinerView): string {
  const apart = Math.min(ROW.widest, 306 / liners);
  const left = (SIZE.width - apart * liners) / 2;
  const radius = Math.min(38, apart * 0.42);
  let row = '';
  for (let liner = 1; liner <= liners; liner += 1)
    row += `<g transform="translate(${num(left + (liner - 0.5) * apart)} ${ROW.y})">${oneLiner(liner, points, radius, view)}</g>`;
  return part(`M${num(left - 4)} 8H${num(left + apart * liners + 4)}V132H${num(left - 4)}Z`) + row;
}

/** A liner from above about its own middle, the deck's place beside it, its number under it. */
function oneLiner(liner: number, points: number, radius: number, { spot, pressed }: LinerView): string {
  const here = spot?.liner === liner ? spot : null;
  const mark = (x: number, y: number, on: boolean) =>
    `<circle class="${on ? 'scene-blued' : 'line'}" cx="${num(x)}" cy="${num(y)}" r="${on ? 5.5 : 3}"/>`;
  let marks = '';
  for (let point = 1; point <= points; point += 1) {
    const deg = ((point - 1) * 360) / points;
    const [x, y] = onCircle(radius - 3, deg);
    marks += mark(x, y, here?.on === 'liner' && here.point === point);
    const [fx, fy] = onCircle(radius - 15, deg);
    if (radius > 30) marks += `<text class="scene-degree" x="${num(fx)}" y="${num(fy + 5)}">${point}</text>`;
  }
  const [dx, dy] = onCircle(radius + 9, 45);
  marks += mark(dx, dy, here?.on === 'deck');
  const clamps = pressed.includes(liner) ? clamped(radius) : '';
  const figure =
    here === null
      ? `<text class="scene-degree" y="${num(radius + 24)}">${liner}</text>`
      : `<g transform="translate(0 ${num(radius + 19)})"><circle class="scene-blued" r="10"/><text class="scene-on-blue" y="5">${liner}</text></g>`;
  return `<circle class="part" r="${num(radius)}"/><circle class="line" r="${num(radius - 6)}"/>${clamps}${marks}${figure}`;
}

/** Two clamps across the flange, clear of the points. */
function clamped(radius: number): string {
  return [135, 315]
    .map((deg) => {
      const [x, y] = onCircle(radius - 1, deg);
      return `<g transform="translate(${num(x)} ${num(y)}) rotate(${deg})"><path class="part" d="M-4.5 -7H4.5V7H-4.5Z"/><circle class="part-ink" cy="-2.5" r="2"/></g>`;
    })
    .join('');
}

/** A cut through the deck and the flange of a liner at the tip's place. */
function across(brief: LinerBrief, view: LinerView, id: string): string {
  const { deck, counterbore, bore } = CUT;
  const block = `M40 ${deck}H${counterbore}V${deck + 34}H${bore - 26}V294H52Q34 284 42 264T40 ${deck}Z`;
  const liner = `M${counterbore + 3} ${deck - 4}H${bore}V294H${bore - 23}V${deck + 33}H${counterbore + 3}Z`;
  const clamp =
    view.spot !== null && view.pressed.includes(view.spot.liner)
      ? `${part(`M214 ${deck - 18}H244V${deck - 5}H214Z`)}${part(`M222 ${deck - 30}H236V${deck - 18}H222Z`)}${word(250, deck - 18, 'clamped')}`
      : '';
  return (
    sectionLines(`${id}-block`, 45) +
    sectionLines(`${id}-liner`, -45) +
    cut(block, `${id}-block`) +
    cut(liner, `${id}-liner`) +
    line(`M${bore} ${deck - 4}H296M${bore} 294H290`) +
    clamp +
    word(4, deck + 44, 'block') +
    word(250, deck + 34, 'liner') +
    leader(248, deck + 30, bore - 10, deck + 30) +
    bridge(brief, view)
  );
}

/** The bridge slides on the deck: back until the tip is on the deck, on until it is over the flange. */
function bridge(brief: LinerBrief, view: LinerView): string {
  if (view.indicator === 'off' || view.spot === null) return '';
  const { deck, counterbore } = CUT;
  const onDeck = view.spot.on === 'deck';
  const tip = onDeck ? 150 : counterbore + 18;
  const top = deck - 34;
  return (
    `<g transform="translate(${tip} ${onDeck ? deck : deck - 4})">${stemSvg(STEM, brief.dial, view.sample.plungerMm)}</g>` +
    part(
      `M${tip - 104} ${deck}V${top}H${tip + 20}V${top + 14}H${tip - 24}V${deck}H${tip - 40}V${top + 22}H${tip - 88}V${deck}Z`,
    )
  );
}

function inWords({ liners }: LinerBrief, { spot, pressed, indicator }: LinerView): string {
  const where =
    spot === null
      ? 'no place has been chosen'
      : spot.on === 'deck'
        ? `on the deck beside liner ${spot.liner}`
        : `at point ${spot.point} of liner ${spot.liner}`;
  const down =
    pressed.length === 0
      ? 'No liner is clamped down.'
      : `Clamped down: ${[...pressed].sort((a, b) => a - b).join(', ')}.`;
  const tip =
    indicator === 'on'
      ? `The bridge stands with its tip ${where}.`
      : spot === null
        ? 'The bridge is off the block and no place has been chosen.'
        : `The bridge is to stand with its tip ${where}; the indicator has not been set down.`;
  return `A block with ${liners} liners from above, their points numbered clockwise from the top, and a cut through deck and liner. ${down} ${tip}`;
}
