import { dialScale } from '../../views/drawing/index.ts';
import {
  type Dial,
  type DialReadingBench,
  type Grade,
  graduationsPerTurn,
  readDial,
  type WrittenDrill,
} from '../engine/index.ts';
import { drillMistakeWords, graduationWords, lengthWords } from '../web/words/index.ts';

type Drill = DialReadingBench['drills'][number];

/** One line of what was shown beside what was written. */
export interface ShownLine {
  readonly label: string;
  readonly shown: string;
  readonly written: string;
}

/** What is told of an answered dial. */
export interface Feedback {
  readonly right: boolean;
  /** `right`, or `off by 100 graduations`. */
  readonly verdict: string;
  /** What the gauge showed, in turns, graduations and length. */
  readonly shown: string;
  /** What it looks as if had happened; null where the reading is right. */
  readonly mistake: string | null;
  readonly why: string;
  readonly lines: readonly ShownLine[];
}

/** What an answered dial showed, what was made of it, and why. */
export function feedbackOf(
  bench: DialReadingBench,
  grade: Pick<Grade, 'mistakes'>,
  written: WrittenDrill,
): Feedback {
  const [drill] = bench.drills;
  if (drill === undefined) throw new RangeError('A bench of drills has a drill.');
  const { dial, movement } = drill;
  const off = ((written.reading ?? 0) - movement) / dial.graduation;
  const right = Math.abs(off) <= 1 + 1e-6;
  const [mistake] = grade.mistakes;
  const words = mistake === undefined ? null : drillMistakeWords(mistake);
  return {
    right,
    verdict: right ? 'right' : `off by ${graduationWords(off)}`,
    shown: `The gauge showed ${countedWords(drill)}, ${movement > 0 ? 'going in' : 'coming out'}: ${signedWords(movement, dial)}.`,
    mistake: right ? null : (words?.seen ?? null),
    why: right ? whyRight(drill) : (words?.why ?? whyRight(drill)),
    lines: linesOf(drill, written),
  };
}

/** `2 turns and 37 graduations`: to half a graduation, as an eye reads it. */
function countedWords({ dial, movement }: Pick<Drill, 'dial' | 'movement'>): string {
  const { turns, pointer } = countedIn(dial, movement);
  const over = `${pointer} ${pointer === 1 ? 'graduation' : 'graduations'}`;
  return turns === 0 ? over : `${turns} ${turns === 1 ? 'turn' : 'turns'} and ${over}`;
}

/** A movement as it is counted on its dial: whole turns, and graduations past the last zero to half a graduation. `movement` in the dial's unit, either sign. */
export function countedIn(dial: Dial, movement: number): { turns: number; pointer: number } {
  const perTurn = graduationsPerTurn(dial);
  const size = Math.round((2 * Math.abs(movement)) / dial.graduation) / 2;
  const turns = Math.floor(size / perTurn);
  return { turns, pointer: Number((size - turns * perTurn).toFixed(1)) };
}

/** A reading with its sign: coming out is minus. */
export function signedWords(length: number, dial: Dial): string {
  return `${length > 0 ? '+' : ''}${lengthWords(length, dial)}`;
}

function whyRight({ dial, movement }: Drill): string {
  if (movement < 0)
    return 'The pointer ran down from zero, so the plunger came out and the reading is minus.';
  if (dial.counter === 'none')
    return 'There is no small hand here: only counting the passings of zero tells the turns.';
  if (dial.counter === 'backwards')
    return 'This small hand runs backwards as the plunger goes in: its difference still tells the turns.';
  if (dial.face === 'balanced')
    return 'A balanced face counts up both ways from zero: go on counting the way the pointer ran.';
  return 'Each passing of zero is a turn; what is over is read where the pointer stands.';
}

function linesOf({ dial, movement }: Drill, written: WrittenDrill): ShownLine[] {
  const { turns, pointer } = countedIn(dial, movement);
  const text = (value: number | null) => (value === null ? 'blank' : String(value));
  const hand = (travel: number) => {
    const { counter } = readDial(dial, travel);
    if (counter === null) return '';
    const { counterTurns } = dialScale(dial);
    const stood = Math.round((((counter % counterTurns) + counterTurns) % counterTurns) * 10) / 10;
    return (stood % counterTurns).toFixed(1);
  };
  return [
    { label: 'Turns', shown: String(turns), written: text(written.turns) },
    { label: 'Pointer', shown: String(pointer), written: text(written.pointer) },
    ...(dial.counter === 'none'
      ? []
      : [
          { label: 'Hand before', shown: hand(0), written: text(written.counterBefore) },
          { label: 'Hand after', shown: hand(movement), written: text(written.counterAfter) },
        ]),
    {
      label: 'Reading',
      shown: signedWords(movement, dial),
      written: written.reading === null ? 'blank' : signedWords(written.reading, dial),
    },
  ];
}
