import type { Dial } from '../../server/engine/dial/dial.ts';
import {
  CENTRE,
  CLAMP_DEG,
  CLAMP_PIVOT,
  COUNTER_CENTRE,
  DIAL_SIZE,
  type DialScale,
  type DialStand,
  dialScale,
  partTransforms,
} from './dial-geometry.ts';
import { type DrawingNames, drawing, num, onCircle, radial } from './svg.ts';

/** A dial indicator and how it stands. */
export interface DialDrawing extends DialStand {
  readonly dial: Dial;
  /** `off`: not on the work; drawn as waiting. */
  readonly indicator: 'off' | 'on';
}

const FACE = 167;
const RING_INSIDE = 101;
const GRADUATION_OUT = 162;
const GRADUATION_IN = { each: 148, fifth: 142, tenth: 135 } as const;
const POINTER_TIP = 156;
const NUMERAL = 118;
const COUNTER_RADIUS = 43;
const BEZEL = { inside: 168, outside: 186 } as const;
const GRIPS = 12;

/**
 * The dial indicator as an instrument maker draws it. The outer ring of the face turns with the bezel; the inner plate, with the
 * revolution counter, stands still. Every graduation of the dial is there. Moving parts are groups named by `data-part`.
 */
export function dialSvg(shown: DialDrawing, names: DrawingNames): string {
  const { dial } = shown;
  const scale = dialScale(dial);
  const at = partTransforms(scale, shown);
  const centre = `translate(${CENTRE.x} ${CENTRE.y})`;
  const body =
    `<g transform="${centre}">` +
    `<g data-part="plunger" transform="${at.plunger}">${plunger()}</g>${stem()}${clampFoot()}` +
    `<g transform="rotate(${CLAMP_DEG})"><g data-part="clamp" transform="${at.clamp}">${clampLever()}</g></g>` +
    `<circle class="dial-bezel" r="${BEZEL.outside}"/>` +
    `<g data-part="bezel" transform="${at.bezel}">${knurling()}</g>` +
    `<circle class="dial-bezel-lip" r="${BEZEL.inside + 4}"/><circle class="dial-plate" r="${FACE}"/>` +
    `<g data-part="face" transform="${at.face}">${graduations(scale)}${numerals(dial, scale)}</g>` +
    `<circle class="dial-hairline" r="${RING_INSIDE}"/>${plate(dial)}` +
    (scale.counterTurns > 0 ? counter(scale, at.counter) : '') +
    `<g data-part="pointer" transform="${at.pointer}">${pointer()}<circle class="dial-hub" r="8"/><path class="dial-slot" d="M-5 3L5 -3"/></g>` +
    '</g>';
  const root =
    `data-graduations="${scale.graduations}" data-counter-turns="${scale.counterTurns}" data-units-per-mm="${scale.unitsPerMm.toFixed(4)}" ` +
    `data-balanced="${dial.face === 'balanced'}" data-numeral-step="${numeralAt({ ...dial, face: 'continuous' }, 10)}" ` +
    `data-indicator="${shown.indicator}" data-pointer="${shown.pointer}" data-counter="${shown.counter ?? ''}" ` +
    `data-face-turn="${shown.faceTurn}" data-clamped="${shown.clamped}" data-plunger-mm="${shown.plungerMm}"`;
  return drawing(names, DIAL_SIZE, 'dial-drawing', body, root);
}

/**
 * What is printed at a tenth graduation: thousandths of an inch, hundredths or thousandths of a millimetre, whatever one graduation
 * is worth. A balanced face counts up both ways. From memory of inch practice: numerals give thousandths on every dial.
 */
export function numeralAt(dial: Dial, graduation: number): string {
  const n = Math.round(dial.rangePerTurn / dial.graduation);
  const counted = dial.face === 'balanced' ? Math.min(graduation, n - graduation) : graduation;
  const worth = dial.unit === 'mm' && dial.graduation >= 0.01 ? 0.01 : 0.001;
  return String(Math.round((counted * dial.graduation) / worth));
}

/** Path data of every graduation of one length. */
function graduations(scale: DialScale): string {
  const paths = { each: '', fifth: '', tenth: '' };
  for (let k = 0; k < scale.graduations; k += 1) {
    const length = k % 10 === 0 ? 'tenth' : k % 5 === 0 ? 'fifth' : 'each';
    paths[length] += radial((k / scale.graduations) * 360, GRADUATION_OUT, GRADUATION_IN[length]);
  }
  const fine = scale.graduations > 100 ? ' dial-fine' : '';
  return (
    `<path class="dial-each${fine}" d="${paths.each}"/><path class="dial-fifth${fine}" d="${paths.fifth}"/>` +
    `<path class="dial-tenth${fine}" d="${paths.tenth}"/>`
  );
}

function numerals(dial: Dial, scale: DialScale): string {
  const size = scale.graduations > 100 ? 15 : 24;
  let text = '';
  for (let k = 0; k < scale.graduations; k += 10) {
    const [x, y] = onCircle(NUMERAL, (k / scale.graduations) * 360);
    text += `<text x="${num(x)}" y="${num(y + size * 0.35)}">${numeralAt(dial, k)}</text>`;
  }
  return `<g class="dial-numerals" font-size="${size}">${text}</g>`;
}

/** The inner plate: what one graduation is worth, one turn, and the whole travel. */
function plate(dial: Dial): string {
  const decimals = String(dial.graduation).split('.')[1]?.length ?? 0;
  const turn = dial.rangePerTurn.toFixed(decimals);
  const travel = dial.travel.toFixed(dial.unit === 'in' ? 3 : 0);
  return (
    `<g class="dial-print"><text y="-52" font-size="22">${dial.graduation} ${dial.unit}</text>` +
    `<text y="-32" font-size="13">1 turn ${turn}</text><text y="-77" font-size="13">travel ${travel}</text></g>`
  );
}

function counter(scale: DialScale, transform: string): string {
  const { counterTurns } = scale;
  let whole = '';
  let half = '';
  let text = '';
  for (let k = 0; k < counterTurns; k += 1) {
    const deg = (k / counterTurns) * 360;
    whole += radial(deg, COUNTER_RADIUS - 1, COUNTER_RADIUS - 6);
    half += radial(deg + 180 / counterTurns, COUNTER_RADIUS - 1, COUNTER_RADIUS - 4);
    const [x, y] = onCircle(COUNTER_RADIUS - 14, deg);
    text += `<text x="${num(x)}" y="${num(y + 5)}">${k}</text>`;
  }
  return (
    `<g transform="translate(${COUNTER_CENTRE.x} ${COUNTER_CENTRE.y})"><circle class="dial-counter" r="${COUNTER_RADIUS}"/>` +
    `<path class="dial-fifth" d="${whole}"/><path class="dial-each" d="${half}"/><g class="dial-numerals" font-size="14">${text}</g>` +
    `<g data-part="counter" transform="${transform}"><path class="dial-hand" d="M-1.9 8L-1.9 -8L0 -36L1.9 -8L1.9 8Z"/><circle class="dial-hub" r="3.4"/></g></g>`
  );
}

/** A blade that runs out to a point as thin as the graduations it stands on, with a weighted tail. */
function pointer(): string {
  return (
    `<path class="dial-hand" d="M-4 0L-2.1 -96L-0.7 -138L-0.45 -${POINTER_TIP}L0.45 -${POINTER_TIP}L0.7 -138L2.1 -96L4 0Z"/>` +
    '<path class="dial-hand" d="M-3.5 0L-6 34Q0 41 6 34L3.5 0Z"/>'
  );
}

/** Grips of knurling with plain stretches between, so that a turn of the bezel can be seen. */
function knurling(): string {
  let lines = '';
  let gaps = '';
  for (let grip = 0; grip < GRIPS; grip += 1) {
    const middle = (grip * 360) / GRIPS;
    for (let step = -6; step <= 6; step += 1)
      lines += radial(middle + step * 1.7, BEZEL.outside, BEZEL.inside + 6);
    const [x, y] = onCircle(BEZEL.outside, middle + 180 / GRIPS);
    gaps += `<circle cx="${num(x)}" cy="${num(y)}" r="3.2"/>`;
  }
  return `<path class="dial-knurl" d="${lines}"/><g class="dial-scallop">${gaps}</g>`;
}

function stem(): string {
  const bottom = BEZEL.outside;
  return (
    `<path class="dial-steel" d="M-11 -${bottom - 4}V-${bottom + 11}Q0 -${bottom + 16} 11 -${bottom + 11}V-${bottom - 4}Z"/>` +
    `<path class="dial-steel" d="M-42 ${bottom - 10}H42L31 ${bottom + 9}H-31Z"/><path class="dial-steel" d="M-31 ${bottom + 8}H31V${bottom + 42}H-31Z"/>` +
    `<path class="dial-line" d="M-31 ${bottom + 38}H31M-20 ${bottom + 9}V${bottom + 37}"/>`
  );
}

/** Spindle, tip holder and ball; the stem is drawn over the top of it. */
function plunger(): string {
  const top = BEZEL.outside + 42 - 4;
  const out = top + 84;
  return (
    `<path class="dial-steel" d="M-15 ${BEZEL.outside - 20}H15V${out}H-15Z"/><path class="dial-line" d="M-9 ${top - 60}V${out - 2}"/>` +
    `<path class="dial-steel" d="M-10 ${out}H10V${out + 5}H12L9 ${out + 17}H-9L-12 ${out + 5}H-10Z"/>` +
    `<circle class="dial-steel" cy="${out + 20}" r="8"/>`
  );
}

function clampFoot(): string {
  return `<g transform="rotate(${CLAMP_DEG})"><path class="dial-steel" d="M-15 -${BEZEL.outside - 6}L-9 -${CLAMP_PIVOT + 7}H9L15 -${BEZEL.outside - 6}Z"/></g>`;
}

/** The lever stands away from the bezel when free and lies along it when clamped. */
function clampLever(): string {
  const pivot = CLAMP_PIVOT;
  return (
    `<path class="dial-lever" d="M-5.5 -${pivot - 4}L-4 -${pivot + 30}Q0 -${pivot + 36} 4 -${pivot + 30}L5.5 -${pivot - 4}Z"/>` +
    `<circle class="dial-lever" cy="-${pivot}" r="7"/><circle class="dial-line" cy="-${pivot}" r="2"/>`
  );
}
