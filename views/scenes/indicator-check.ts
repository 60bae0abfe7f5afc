import type { BriefOf, ViewOf } from '../../server/engine/index.ts';
import { drawing, num } from '../drawing/svg.ts';
import { heldBarrel } from './gauge-stem.ts';
import { centreLine, line, part, word } from './paper.ts';
import type { Scene } from './types.ts';

type Brief = BriefOf<'indicator-check'>;
type View = ViewOf<'indicator-check'>;

const WIDTH = 320;
const HEIGHT = 272;
const MM_PER_IN = 25.4;
/** Where the tip stands, and the face of the anvil. */
const TIP_X = 176;
const ANVIL = 216;
/** The zero block, and how high the largest size is drawn on top of it. */
const ZERO_BLOCK = 30;
const LARGEST = 70;
const STEM = { top: 12, bottom: 94 } as const;

/** An indicator in a comparator stand over a gauge block. */
export const indicatorScene: Scene<Brief, View> = {
  draw: (brief, view, names) =>
    drawing(
      { ...names, description: names.description ?? inWords(brief, view) },
      { width: WIDTH, height: HEIGHT },
      'scene-drawing',
      stand() +
        blocks(brief, view) +
        (view.indicator === 'on' ? indicator(topOf(brief, view)) : '') +
        arm() +
        centreLine(`M${TIP_X} 4V${ANVIL + 18}`),
    ),
  // The block stands; the tip leaves it only when it is raised.
  move: (brief, view, moment) => {
    if (view.indicator === 'off') return {};
    const raisedMm = Math.max(0, moment.plungerMm - view.sample.plungerMm);
    const y = Math.max(STEM.bottom + 16, topOf(brief, view) - raisedMm * perMm(brief));
    return { tip: { transform: `translate(${TIP_X} ${num(y)})` } };
  },
  describe: inWords,
};

function inWords({ dial }: Brief, { travel, indicator }: View): string {
  const block =
    travel === 0
      ? 'The zero block stands on the anvil'
      : `On the anvil stands the block that is ${sizeWords(travel)} ${dial.unit} larger than the zero block`;
  return indicator === 'on'
    ? `${block}, the tip of the indicator on it.`
    : `${block}. The clamp of the comparator stand is empty: the indicator has not been set down.`;
}

/** A size as it is etched on a block, without the dust of binary fractions. */
function sizeWords(travel: number): string {
  return String(Number(travel.toFixed(5)));
}

/** The barrel in the clamp, and the plunger down to where its contact point stands. */
function indicator(y: number): string {
  const length = num(y - STEM.bottom + 24);
  return (
    `<g data-part="tip" transform="translate(${TIP_X} ${num(y)})">${part(`M-2.5 -14V-${length}H2.5V-14Z`)}` +
    `${part('M-4.5 -14H4.5L3.5 -5.5H-3.5Z')}<circle class="part-ink" cy="-3" r="3.2"/></g>` +
    heldBarrel(TIP_X, STEM.top, STEM.bottom)
  );
}

/** Units of the drawing for a millimetre. */
function perMm({ dial }: Brief): number {
  return LARGEST / (dial.unit === 'in' ? dial.travel * MM_PER_IN : dial.travel);
}

function heightOf({ dial }: Brief, { travel }: View): number {
  return travel === 0 ? 0 : 3 + ((LARGEST - 3) * Math.min(travel, dial.travel)) / dial.travel;
}

function topOf(brief: Brief, view: View): number {
  return ANVIL - ZERO_BLOCK - heightOf(brief, view);
}

/** The zero block, and wrung onto it what makes the larger size. */
function blocks(brief: Brief, view: View): string {
  const [left, right] = [TIP_X - 33, TIP_X + 33];
  const zeroTop = ANVIL - ZERO_BLOCK;
  const height = heightOf(brief, view);
  const outline = (top: number, tall: number) =>
    part(`M${left} ${num(top)}H${right}V${num(top + tall)}H${left}Z`);
  const leader = (y: number, to: number) => line(`M${right + 14} ${num(y - 4)}L${right} ${num(to)}`);
  const zero =
    outline(zeroTop, ZERO_BLOCK) +
    word(right + 17, ANVIL - 6, 'zero block') +
    leader(ANVIL - 6, ANVIL - ZERO_BLOCK / 2);
  if (height === 0) return zero;
  const labelY = Math.min(zeroTop - height / 2 + 4, zeroTop + 4);
  return (
    zero +
    outline(zeroTop - height, height) +
    word(right + 17, labelY, `+ ${sizeWords(view.travel)} ${brief.dial.unit}`) +
    leader(labelY, zeroTop - height / 2)
  );
}

/** Base, column with its rack, and the serrated anvil. */
function stand(): string {
  let rack = '';
  for (let y = 20; y < 224; y += 6) rack += `M78 ${y}H84`;
  let serrations = '';
  for (let x = TIP_X - 44; x <= TIP_X + 44; x += 8) serrations += `M${x} ${ANVIL}V${ANVIL + 5}`;
  return (
    `<path class="part" d="M58 10H84V228H58Z"/><path class="line" d="${rack}"/><path class="centre-line" d="M68 4V234"/>` +
    `<path class="part" d="M${TIP_X - 48} ${ANVIL}H${TIP_X + 48}V${ANVIL + 12}H${TIP_X - 48}Z"/><path class="line" d="${serrations}"/>` +
    part(
      `M40 ${ANVIL + 12}H268Q280 ${ANVIL + 12} 282 ${ANVIL + 24}L286 ${ANVIL + 40}H22L26 ${ANVIL + 24}Q28 ${ANVIL + 12} 40 ${ANVIL + 12}Z`,
    ) +
    part(`M34 ${ANVIL + 40}H62V${ANVIL + 46}H34ZM246 ${ANVIL + 40}H274V${ANVIL + 46}H246Z`)
  );
}

/** The arm on the column and the clamp that holds the stem. */
function arm(): string {
  return (
    part(`M48 46H94V50H${TIP_X - 16}V42H${TIP_X - 6}V78H${TIP_X - 16}V68H94V80H48Z`) +
    part(`M${TIP_X + 6} 42H${TIP_X + 16}V78H${TIP_X + 6}Z`) +
    `<path class="part" d="M${TIP_X + 16} 56H${TIP_X + 30}V64H${TIP_X + 16}Z"/><path class="part" d="M${TIP_X + 30} 51H${TIP_X + 38}V69H${TIP_X + 30}Z"/>` +
    '<circle class="part" cx="40" cy="63" r="8"/><path class="line" d="M34 63H46M40 57V69"/>'
  );
}
