import type { BriefOf, ViewOf } from '../../server/engine/index.ts';
import { num } from '../drawing/svg.ts';
import { arrowHead, word } from './paper.ts';

type Brief = Pick<BriefOf<'torque-adapter'>, 'joints'>;
type View = Pick<ViewOf<'torque-adapter'>, 'at' | 'bolts'>;
type Bolt = View['bolts'][number][number];

const IN_A_ROW = 6;
const APART = 50;
const ROW = 68;
const MIDDLE = 160;
const LONGEST_NAME = 40;

/** A hexagon with two of its flats level, as path data. */
export function hexagon(x: number, y: number, radius: number): string {
  const corners = [0, 60, 120, 180, 240, 300].map((deg) => {
    const rad = (deg * Math.PI) / 180;
    return `${num(x + radius * Math.cos(rad))} ${num(y + radius * Math.sin(rad))}`;
  });
  return `M${corners.join('L')}Z`;
}

/** How tall the bolts are drawn: room for the joint that has the most. */
export function boltsHeight({ joints }: Brief): number {
  const rows = Math.ceil(Math.max(1, ...joints.map(({ order }) => order.length)) / IN_A_ROW);
  return 22 + rows * ROW;
}

/** The bolts of the joint in hand, by their numbers: the sheet gives their order, not their places on the part. */
export function boltRows({ joints }: Brief, { at, bolts }: View, top: number): string {
  const joint = at?.joint ?? 1;
  const name = joints[joint - 1]?.name ?? '';
  const short = name.length > LONGEST_NAME ? `${name.slice(0, LONGEST_NAME - 1)}…` : name;
  const all = bolts[joint - 1] ?? [];
  const drawn = all.map((bolt, index) => {
    const row = Math.floor(index / IN_A_ROW);
    const inRow = Math.min(IN_A_ROW, all.length - row * IN_A_ROW);
    const x = MIDDLE + APART * ((index % IN_A_ROW) - (inRow - 1) / 2);
    return boltHead(x, top + 46 + row * ROW, index + 1, bolt, at?.bolt === index + 1);
  });
  return word(MIDDLE, top + 8, short, 'middle') + drawn.join('');
}

/** One head: dashed on its seat until it is run down, an arrow over the one in hand, blue across it once it is marked. */
function boltHead(x: number, y: number, number: number, bolt: Bolt, isInHand: boolean): string {
  const isDown = bolt.ranDown || bolt.clicked;
  return (
    `<circle class="${isDown ? 'part' : 'scene-to-come'}" cx="${num(x)}" cy="${y}" r="19"/>` +
    `<path class="part" d="${hexagon(x, y, 15)}"/>` +
    (bolt.marked
      ? `<path class="scene-scribed" d="M${num(x + 9)} ${y - 9}L${num(x + 19)} ${y - 19}"/>`
      : '') +
    `<text class="scene-degree" x="${num(x)}" y="${y + 5}">${number}</text>` +
    (isInHand ? arrowHead(x, y - 21, 180) : '') +
    word(x, y + 33, stateOf(bolt), 'middle')
  );
}

/** What was last come to with it, in a word. */
function stateOf({ marked, clicked, ranDown }: Bolt): string {
  return marked ? 'marked' : clicked ? 'clicked' : ranDown ? 'down' : 'loose';
}

/** The same for a person who does not see it. */
export function boltsInWords({ joints }: Brief, { at, bolts }: View): string {
  const joint = at?.joint ?? 1;
  const each = (bolts[joint - 1] ?? []).map((bolt, index) => `${index + 1} ${stateOf(bolt)}`);
  const now = at === null ? '' : ` Bolt ${at.bolt} is in hand.`;
  return `${joints[joint - 1]?.name ?? ''}, bolts ${each.join(', ')}.${now}`;
}
