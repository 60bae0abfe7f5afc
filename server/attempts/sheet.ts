import {
  type CamLiftBrief,
  type CamLiftSheet,
  type FollowUp,
  graduationsPerTurn,
  parseLength,
  type RollerVerdict,
  type Verdict,
  type WrittenLobe,
  type WrittenReading,
} from '../engine/index.ts';
import type { Problems } from '../web/forms.ts';
import type { TypedSheet } from './schema.ts';

/** The boxes of one reading, in the order they are filled in. */
export const READING_BOXES = [
  'counterBefore',
  'counterHigh',
  'turns',
  'pointer',
  'lift',
  'returned',
] as const;
export const VERDICTS: readonly Verdict[] = ['inside', 'below', 'above'];
export const FOLLOW_UPS: readonly FollowUp[] = [
  'return-to-service',
  'measure-again',
  'correct-set-up',
  'replace',
];

export const ROLLER_VERDICTS: readonly RollerVerdict[] = ['sound', 'not-again'];

export const boxName = (position: number, reading: number, box: string) => `${position}.${reading}.${box}`;
export const lineName = (position: number, line: 'lift' | 'verdict' | 'next' | 'roller') =>
  `${position}.${line}`;

export interface ReadSheet {
  readonly sheet: CamLiftSheet;
  /** What could not be read, by box. */
  readonly problems: Problems;
  /** Boxes left blank that are usually filled in; the revolution counter's own two are not among them. */
  readonly blank: readonly string[];
}

/** Keeps of what came in only the boxes this sheet has. */
export function onlyOwnBoxes(brief: CamLiftBrief, typed: TypedSheet): TypedSheet {
  return Object.fromEntries(
    sheetBoxes(brief)
      .map((name) => [name, typed[name] ?? ''] as const)
      .filter(([, text]) => text !== ''),
  );
}

/** Every box on the sheet, in order. */
export function sheetBoxes({ positions, rollerVerdict }: CamLiftBrief): string[] {
  return positions.flatMap((position) => [
    ...[1, 2].flatMap((reading) => READING_BOXES.map((box) => boxName(position, reading, box))),
    ...(rollerVerdict ? [lineName(position, 'roller')] : []),
    lineName(position, 'lift'),
    lineName(position, 'verdict'),
    lineName(position, 'next'),
  ]);
}

/** Reads what was typed as numbers and choices. A box that cannot be read is a problem, and counts as blank until it is mended. */
export function readSheet(brief: CamLiftBrief, typed: TypedSheet): ReadSheet {
  const problems: Problems = {};
  const lobes = brief.positions.map((position) => readLobe(brief, position, typed, problems));
  const optional = /\.counter(Before|High)$/;
  const blank = sheetBoxes(brief).filter((name) => !optional.test(name) && (typed[name] ?? '').trim() === '');
  return { sheet: { lobes }, problems, blank };
}

function readLobe(brief: CamLiftBrief, position: number, typed: TypedSheet, problems: Problems): WrittenLobe {
  const readings = [1, 2].map((reading): WrittenReading => {
    const text = (box: string) =>
      [boxName(position, reading, box), typed[boxName(position, reading, box)] ?? ''] as const;
    const length = (box: string, most: number) => readLength(brief, ...text(box), most, problems);
    const number = (box: string, kind: NumberKind) => readNumber(...text(box), kind, problems);
    const perTurn = graduationsPerTurn(brief.dial);
    return {
      counterBefore: number('counterBefore', COUNTER),
      counterHigh: number('counterHigh', COUNTER),
      turns: number('turns', TURNS),
      pointer: number('pointer', {
        most: perTurn,
        whole: false,
        least: 0,
        sentence: `Write the graduations past zero, 0 to ${perTurn}.`,
      }),
      lift: length('lift', 10 * brief.dial.travel),
      returned: length('returned', brief.dial.travel),
    };
  });
  const lift = lineName(position, 'lift');
  return {
    position,
    readings,
    lift: readLength(brief, lift, typed[lift] ?? '', 10 * brief.dial.travel, problems),
    verdict: readChoice(lineName(position, 'verdict'), typed, VERDICTS, problems),
    next: readChoice(lineName(position, 'next'), typed, FOLLOW_UPS, problems),
    ...(brief.rollerVerdict
      ? { roller: readChoice(lineName(position, 'roller'), typed, ROLLER_VERDICTS, problems) }
      : {}),
  };
}

function readLength(
  { dial }: CamLiftBrief,
  name: string,
  text: string,
  most: number,
  problems: Problems,
): number | null {
  const parsed = parseLength(text, dial.unit, most);
  if (parsed.ok) return parsed.value;
  const example = dial.unit === 'in' ? '0.237' : '6.02';
  problems[name] =
    parsed.meant === null
      ? `Write a length in ${dial.unit === 'in' ? 'inches' : 'millimetres'}, for example ${example}.`
      : `Do you mean ${parsed.meant} ${dial.unit}? Write it so.`;
  return null;
}

interface NumberKind {
  readonly least: number;
  readonly most: number;
  readonly whole: boolean;
  readonly sentence: string;
}

const TURNS: NumberKind = { least: -9, most: 99, whole: true, sentence: 'Write whole turns, for example 2.' };
const COUNTER: NumberKind = {
  least: 0,
  most: 99,
  whole: false,
  sentence: 'Write where the small hand stands, for example 1.5.',
};

function readNumber(name: string, text: string, kind: NumberKind, problems: Problems): number | null {
  const trimmed = text.trim().replace(',', '.').replace('−', '-');
  if (trimmed === '') return null;
  const value = /^[+-]?(\d+\.?\d*|\.\d+)$/.test(trimmed) ? Number(trimmed) : Number.NaN;
  if (value >= kind.least && value <= kind.most && (!kind.whole || Number.isInteger(value))) return value;
  problems[name] = kind.sentence;
  return null;
}

function readChoice<T extends string>(
  name: string,
  typed: TypedSheet,
  choices: readonly T[],
  problems: Problems,
): T | null {
  const text = typed[name] ?? '';
  if (text === '') return null;
  const found = choices.find((choice) => choice === text);
  if (found === undefined) problems[name] = 'Choose one of the answers in the list.';
  return found ?? null;
}
