import { type SpokenFace, spokenAtRest } from '../../views/client/models/spoken.ts';
import { dialScale, dialSvg, numeralAt } from '../../views/drawing/index.ts';
import { type Dial, type DialReadingView, graduationsPerTurn, type Skill } from '../engine/index.ts';
import type { Problems } from '../web/forms.ts';
import { timeWords } from '../web/words/index.ts';
import { learnerFrom } from './choose.ts';
import { evidenceWords, isRight, type SkillLine, skillLines, skillWords } from './evidence.ts';
import { type Feedback, signedWords } from './feedback.ts';
import type { DialRow, KeptAnswer, RoundRow } from './queries.ts';
import type { DrillBoxes } from './schema.ts';

/** How it stands, as every page of the drills shows it. */
export interface Progress {
  readonly sentence: string;
  readonly skills: readonly SkillLine[];
  readonly answered: number;
}

/** views/drills/home.eta */
export interface DrillsPage {
  readonly title: string;
  readonly open: { readonly id: string; readonly next: number; readonly dials: number } | null;
  readonly rounds: readonly {
    readonly id: string;
    readonly at: string;
    readonly when: string;
    readonly right: number;
    readonly answered: number;
  }[];
  readonly progress: Progress;
}

/** The dial as it stands, and what a page needs to move it and to say it. Nothing of the movement is in it but where the hands stand. */
export interface DialOnPage {
  readonly svg: string;
  /** For the page's script: the face in numbers. */
  readonly face: string;
  readonly spoken: string;
  readonly printed: string;
}

/** views/drills/dial.eta */
export interface DialPage {
  readonly title: string;
  readonly wide: true;
  readonly scripts: readonly string[];
  readonly round: RoundRow;
  readonly number: number;
  readonly next: number;
  readonly made: boolean;
  readonly dial: DialOnPage;
  readonly unit: string;
  readonly perTurn: number;
  readonly hasHand: boolean;
  readonly asksHand: boolean;
  readonly purpose: string;
  readonly typed: DrillBoxes;
  readonly problems: Problems;
}

/** views/drills/answered.eta */
export interface AnsweredPage {
  readonly title: string;
  readonly wide: true;
  readonly scripts: readonly string[];
  readonly round: RoundRow;
  readonly number: number;
  readonly isLast: boolean;
  readonly dial: DialOnPage;
  /** The movement, to be watched again now that the dial is answered. */
  readonly samples: string;
  readonly feedback: Feedback;
  readonly progress: Progress;
  readonly table: readonly RoundLine[];
}

/** One dial of a round, once it is answered. */
export interface RoundLine {
  readonly number: number;
  readonly shown: string;
  readonly written: string;
  readonly right: boolean;
}

export function progressOf(answers: readonly KeptAnswer[]): Progress {
  const learner = learnerFrom(answers);
  return { sentence: evidenceWords(answers, learner), skills: skillLines(learner), answered: answers.length };
}

export function roundLines(answers: readonly KeptAnswer[], roundId: string): RoundLine[] {
  return answers
    .filter((one) => one.roundId === roundId)
    .map((one) => ({
      number: one.number,
      shown: signedWords(one.shown * one.dial.graduation, one.dial),
      written: signedWords(one.written * one.dial.graduation, one.dial),
      right: isRight(one),
    }));
}

export function drillsPage(
  rounds: readonly (RoundRow & { readonly answered: number })[],
  answers: readonly KeptAnswer[],
): DrillsPage {
  const open = rounds.find(({ answered, dials }) => answered < dials);
  return {
    title: 'Drills',
    open: open === undefined ? null : { id: open.id, next: open.answered + 1, dials: open.dials },
    rounds: rounds
      .filter(({ answered }) => answered > 0)
      .map(({ id, started_at, answered }) => ({
        id,
        at: started_at,
        when: timeWords(started_at),
        answered,
        right: answers.filter((one) => one.roundId === id && isRight(one)).length,
      })),
    progress: progressOf(answers),
  };
}

export function dialOnPage(dial: Dial, { sample }: DialReadingView): DialOnPage {
  const face = faceOf(dial);
  return {
    svg: dialSvg(
      {
        dial,
        pointer: sample.pointer,
        counter: sample.counter,
        faceTurn: 0,
        clamped: true,
        plungerMm: sample.plungerMm,
        indicator: 'on',
      },
      { id: 'dial', title: 'Dial indicator' },
    ),
    face: JSON.stringify(face),
    spoken: spokenAtRest(sample, face),
    printed: printedWords(dial),
  };
}

/** What the dial practises, where it was chosen for something. */
export function purposeWords({ skill }: Pick<DialRow, 'skill'>): string {
  if (skill === null) return 'Every skill counts as known. These dials keep it so.';
  const words = skillWords(skill as Skill);
  return `Chosen for: ${words.charAt(0).toLowerCase()}${words.slice(1)}.`;
}

function faceOf(dial: Dial): SpokenFace {
  return {
    graduations: graduationsPerTurn(dial),
    numeralStep: Number(numeralAt({ ...dial, face: 'continuous' }, 10)),
    balanced: dial.face === 'balanced',
    counterTurns: dialScale(dial).counterTurns,
  };
}

function printedWords(dial: Dial): string {
  const hand =
    dial.counter === 'none'
      ? 'no small hand'
      : dial.counter === 'backwards'
        ? 'small hand runs backwards'
        : 'small hand runs forwards';
  return `One graduation ${dial.graduation} ${dial.unit}, one turn ${dial.rangePerTurn} ${dial.unit}, ${dial.face === 'balanced' ? 'balanced' : 'continuous'} face, ${hand}.`;
}
