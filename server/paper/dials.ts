import { dialSvg } from '../../views/drawing/index.ts';
import { countedIn, signedWords } from '../drills/index.ts';
import {
  act,
  type Dial,
  type DialReadingAction,
  type DialReadingBench,
  type DialReadingDefinition,
  type Grade,
  generateBench,
  gradeAttempt,
  lookAt,
  startBench,
  type WrittenDrill,
} from '../engine/index.ts';
import { drillMistakeWords, graduationWords } from '../web/words/index.ts';

/** A dial on paper: where its hands stood at zero, and where they came to. */
export interface PaperDial {
  readonly number: number;
  readonly dial: Dial;
  /** `One graduation 0.001 in, …` */
  readonly printed: string;
  readonly way: 'in' | 'out';
  readonly before: string;
  readonly after: string;
}

/** Of so many draws one has small hands throughout, or something is wrong. */
const MOST_DRAWS = 2000;

/**
 * A seed, made of `seed`, whose dials all have a small hand: on paper nothing moves, and only the small hand tells the turns.
 * @throws RangeError where no such dials can be drawn.
 */
export function seedForPaper(definition: DialReadingDefinition, seed: string): string {
  for (let draw = 0; draw < MOST_DRAWS; draw += 1) {
    const one = `${seed}/${draw}`;
    if (generateBench(definition, one).drills.every(({ dial }) => dial.counter !== 'none')) return one;
  }
  throw new RangeError('No dials with a small hand can be drawn.');
}

/** The dials of one sheet, drawn. `id` is unique on the page. */
export function paperDials(bench: DialReadingBench, id: string): readonly PaperDial[] {
  let state = startBench(bench);
  const sampleAfter = (action: DialReadingAction) => {
    state = act(bench, state, action).state;
    return lookAt(bench, state).sample;
  };
  return bench.drills.map(({ dial, movement }, index): PaperDial => {
    const number = index + 1;
    const drawn = (sample: ReturnType<typeof sampleAfter>, when: string) =>
      dialSvg(
        { dial, indicator: 'on', faceTurn: 0, clamped: true, ...sample },
        { id: `${id}-${number}-${when}`, title: `Dial ${number}, ${when}` },
      );
    return {
      ...{ number, dial, printed: printedWords(dial), way: movement > 0 ? 'in' : 'out' },
      before: drawn(sampleAfter({ type: 'go-to', drill: number }), 'at zero'),
      after: drawn(sampleAfter({ type: 'watch', speed: 1 }), 'afterwards'),
    };
  });
}

function printedWords({ graduation, rangePerTurn, unit, face, counter }: Dial): string {
  return `One graduation ${graduation} ${unit}, one turn ${rangePerTurn} ${unit}${face === 'balanced' ? ', balanced face' : ''}${counter === 'backwards' ? ', small hand runs backwards' : ''}`;
}

/** A line of the key. */
export interface KeyLine {
  readonly number: number;
  readonly turns: number;
  readonly pointer: number;
  readonly reading: string;
}

/** What is right, dial by dial. */
export function keyOf(bench: DialReadingBench): readonly KeyLine[] {
  return bench.drills.map(({ dial, movement }, index) => ({
    number: index + 1,
    ...countedIn(dial, movement),
    reading: signedWords(movement, dial),
  }));
}

/** Grades what was written on paper. Each dial counts as watched: it stood on the sheet. */
export function gradePaper(bench: DialReadingBench, drills: readonly WrittenDrill[]): Omit<Grade, 'trace'> {
  const actions = bench.drills.flatMap((_, index): DialReadingAction[] => [
    { type: 'go-to', drill: index + 1 },
    { type: 'watch', speed: 1 },
  ]);
  const { trace: _, ...grade } = gradeAttempt(bench, actions, { drills });
  return grade;
}

/** What was made of one dial. */
export interface PaperLine {
  readonly number: number;
  /** `right`, `off by 100 graduations`, `blank`. */
  readonly verdict: string;
  readonly right: boolean;
  readonly why: string;
}

/** The grade in words, dial by dial. */
export function paperLines(bench: DialReadingBench, grade: Omit<Grade, 'trace'>): readonly PaperLine[] {
  return bench.drills.map(({ dial, movement }, index): PaperLine => {
    const number = index + 1;
    const written = grade.items?.find(({ item }) => item === number)?.written.reading ?? null;
    if (written === null) return { number, verdict: 'blank', right: false, why: '' };
    const off = (written - movement) / dial.graduation;
    if (Math.abs(off) <= 1 + 1e-6) return { number, verdict: 'right', right: true, why: '' };
    const named = grade.mistakes.find(({ position }) => position === number);
    return {
      number,
      verdict: `off by ${graduationWords(off)}`,
      right: false,
      why: named === undefined ? '' : drillMistakeWords(named).seen,
    };
  });
}
