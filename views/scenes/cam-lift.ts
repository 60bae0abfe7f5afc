import type { BriefOf, ViewOf } from '../../server/engine/index.ts';
import { drawing, escapeText, num, onCircle } from '../drawing/svg.ts';
import { centreLine, line, sectionLines, word } from './paper.ts';
import type { Scene } from './types.ts';

type Brief = BriefOf<'cam-lift'>;
type View = ViewOf<'cam-lift'>;
type Look = NonNullable<View['roller']>[number];

const WIDTH = 320;
const HEIGHT = 200;
const RADIUS = 62;
const PIN = 15;
/** Middle of the roller end-on, and of its face from the side. */
const END = { x: 82, y: 98 } as const;
const SIDE = { x: 232, y: END.y, half: 40 } as const;
/** Middle of the flat place, and half of what it takes of the round. Drawn far larger than it is, so that it is seen. */
const FLAT_DEG = 118;
const FLAT_HALF_DEG = 23;

/** Pits and scores stand where they look like pits and scores; nothing on any bench says where. */
const PITS: readonly (readonly [number, number, number])[] = [
  [-27, -38, 2.6],
  [-9, -44, 1.7],
  [14, -30, 3.1],
  [29, -41, 1.9],
  [-20, -12, 3.4],
  [4, -16, 2.1],
  [24, -8, 2.8],
  [-31, 8, 1.8],
  [-6, 6, 3],
  [17, 13, 1.7],
  [31, 22, 2.5],
  [-15, 27, 2.4],
  [6, 33, 3.2],
  [-29, 42, 2.7],
  [22, 44, 1.9],
];
const SCORES = [-26, -21, -6, 9, 12, 28];

/** The roller in the hand, end-on and from the side, once it has been looked at: what was found of it and no more. */
export const rollerScene: Scene<Brief, View> = {
  draw: (brief, view, names) => {
    if (view.roller === null) return '';
    const id = `${escapeText(names.id)}-heat`;
    const has = (look: Look) => view.roller?.includes(look) ?? false;
    return drawing(
      { ...names, description: names.description ?? inWords(brief, view) },
      { width: WIDTH, height: HEIGHT },
      'scene-drawing',
      (has('roller-blue') ? sectionLines(id, 30, 5) + sectionLines(`${id}-2`, -60, 5) : '') +
        endOn(has, id) +
        fromTheSide(has, id) +
        word(8, 16, `Roller, position ${view.position ?? ''}`) +
        word(END.x, HEIGHT - 8, 'end-on', 'middle') +
        word(SIDE.x, HEIGHT - 8, 'from the side', 'middle'),
    );
  },
  // It lies in the hand.
  move: () => ({}),
  describe: inWords,
};

const LOOKS: Readonly<Record<Look, string>> = {
  'roller-bright': 'bright metal',
  'roller-blue': 'blue in colour',
  'roller-smooth': 'smooth on its face',
  'roller-pits': 'with small pits in its face',
  'roller-scores': 'with scores round its face',
  'roller-round': 'round in outline',
  'roller-uneven': 'with one flat place in its outline',
};

function inWords(_: Brief, { position, roller }: View): string {
  if (roller === null) return '';
  const looks = roller.map((look) => LOOKS[look]).join(', ');
  return `The roller of the tappet at position ${position ?? ''} with its pin, end-on and from the side, as it was found when it was looked at: ${looks}.`;
}

type Has = (look: Look) => boolean;

/** Blue that comes of heat: a tint, and fine crossed lines that tell it without the colour. */
function heat(d: string, id: string): string {
  return `<path class="scene-blued" fill-opacity="0.3" fill-rule="evenodd" d="${d}"/><path fill="url(#${id})" fill-rule="evenodd" d="${d}"/><path fill="url(#${id}-2)" fill-rule="evenodd" d="${d}"/>`;
}

/** The outline: a circle, or one with a piece taken off by a chord. */
function rim(isRound: boolean): string {
  const at = (deg: number) => {
    const [x, y] = onCircle(RADIUS, deg);
    return `${num(END.x + x)} ${num(END.y + y)}`;
  };
  const [from, to] = isRound ? [180, 180] : [FLAT_DEG + FLAT_HALF_DEG, FLAT_DEG - FLAT_HALF_DEG];
  const half = from + (isRound ? 180 : (360 - 2 * FLAT_HALF_DEG) / 2);
  return `M${at(from)}A${RADIUS} ${RADIUS} 0 0 1 ${at(half)}A${RADIUS} ${RADIUS} 0 0 1 ${at(to)}Z`;
}

const circle = (radius: number) =>
  `M${END.x - radius} ${END.y}a${radius} ${radius} 0 1 0 ${2 * radius} 0a${radius} ${radius} 0 1 0 ${-2 * radius} 0Z`;

function endOn(has: Has, id: string): string {
  const { x, y } = END;
  const outline = rim(!has('roller-uneven'));
  const nicks = has('roller-pits') ? [15, 48, 104, 140, 197, 236, 251, 305, 338] : [];
  const whole = has('roller-uneven') ? `<path class="scene-to-come" d="${circle(RADIUS)}"/>` : '';
  return (
    whole +
    `<path class="part" d="${outline}"/>` +
    (has('roller-blue') ? heat(outline + circle(38), id) : '') +
    line(circle(PIN + 10)) +
    `<path class="part" d="${circle(PIN)}"/>` +
    nicks
      .map((deg) => {
        const [nx, ny] = onCircle(RADIUS, deg);
        return `<circle class="part-ink" cx="${num(x + nx)}" cy="${num(y + ny)}" r="2.4"/>`;
      })
      .join('') +
    centreLine(`M${x - RADIUS - 10} ${y}H${x + RADIUS + 10}M${x} ${y - RADIUS - 8}V${y + RADIUS + 10}`)
  );
}

/** Its axis lies level: the face between two chamfered ends, the pin out on both sides and dashed within. */
function fromTheSide(has: Has, id: string): string {
  const { x, y, half } = SIDE;
  const [left, right, top, bottom] = [x - half, x + half, y - RADIUS, y + RADIUS];
  const chamfer = 5;
  const face = `M${left} ${top + chamfer}L${left + chamfer} ${top}H${right - chamfer}L${right} ${top + chamfer}V${bottom - chamfer}L${right - chamfer} ${bottom}H${left + chamfer}L${left} ${bottom - chamfer}Z`;
  return (
    `<path class="part" d="M${left - 22} ${y - PIN}H${right + 22}V${y + PIN}H${left - 22}Z"/>` +
    `<path class="part" d="${face}"/>` +
    (has('roller-blue') ? heat(face, id) : '') +
    line(`M${left + chamfer} ${top}V${bottom}M${right - chamfer} ${top}V${bottom}`) +
    (has('roller-bright') && has('roller-smooth')
      ? line(`M${x - 24} ${top + 17}H${x + 24}M${x - 14} ${top + 22}H${x + 14}`)
      : '') +
    (has('roller-pits') ? pits() : '') +
    (has('roller-scores') ? scores() : '') +
    (has('roller-uneven') ? flat() : '') +
    `<path class="scene-to-come" d="M${left} ${y - PIN}H${right}M${left} ${y + PIN}H${right}"/>` +
    centreLine(`M${left - 32} ${y}H${right + 32}`)
  );
}

function pits(): string {
  return PITS.map(
    ([x, y, radius]) => `<circle class="part-ink" cx="${SIDE.x + x}" cy="${SIDE.y + y}" r="${radius}"/>`,
  ).join('');
}

/** Round the face, as the cam slid past; each breaks the outline a little where it goes over the edge. */
function scores(): string {
  const [top, bottom] = [SIDE.y - RADIUS, SIDE.y + RADIUS];
  return SCORES.map((off, index) => {
    const x = SIDE.x + off;
    const short = index % 2 === 0 ? 0 : 26;
    return `<path class="line-heavy" d="M${x} ${top + short}V${bottom - (index % 3) * 15}"/><path class="part-ink" d="M${x - 2.5} ${top - 1}H${x + 2.5}L${x} ${top + 5}Z"/>`;
  }).join('');
}

/** The flat place across the face, at the height it has end-on: two edges and a plain strip between. */
function flat(): string {
  const { x, y, half } = SIDE;
  const [top, bottom] = [-FLAT_HALF_DEG, FLAT_HALF_DEG].map((off) => y + onCircle(RADIUS, FLAT_DEG + off)[1]);
  const edge = `M${x - half + 5} ${num(top ?? y)}H${x + half - 5}V${num(bottom ?? y)}H${x - half + 5}Z`;
  const shine = [20, 28, 36].map((down) => `M${x - 26} ${y + down}H${x + 26}`).join('');
  return `<path class="part" d="${edge}"/><path class="section-lines" d="${shine}"/>`;
}
