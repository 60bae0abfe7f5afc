import { DRILLED_SKILLS, graduationsPerTurn, isKnown, type Learner, type Skill } from '../engine/index.ts';
import type { KeptAnswer } from './queries.ts';

type Answered = Pick<KeptAnswer, 'dial' | 'shown' | 'written'>;

/** Binary rounding of a reading divided by its graduation. */
const HAIR = 1e-3;
/** What was answered longer ago says little of what is weak now. */
const LOOKED_AT = 30;
const FEWEST = 3;
/** Fewer right than this share, and fewer than of the other dials by `BEHIND`, is weak. */
const WEAK_BELOW = 0.7;
const BEHIND = 0.15;
/** Likely known, but not yet so sure that it counts. */
const NEARLY_FROM = 0.8;

/** What a dial may ask for besides, in the words of the sentence it makes. */
const FEATURES: readonly { readonly words: string; readonly has: (one: Answered) => boolean }[] = [
  { words: 'Turns past three', has: (one) => turnsOf(one) > 3 },
  { words: 'Pointers that run down', has: ({ shown }) => shown < 0 },
  {
    words: 'Pointers that stop near zero',
    has: (one) => Math.abs(turnsOf(one) - Math.round(turnsOf(one))) <= 0.1,
  },
  { words: 'Balanced faces', has: ({ dial }) => dial.face === 'balanced' },
  { words: 'Small hands that run backwards', has: ({ dial }) => dial.counter === 'backwards' },
  { words: 'Dials without a small hand', has: ({ dial }) => dial.counter === 'none' },
  { words: 'Dials in millimetres', has: ({ dial }) => dial.unit === 'mm' },
  { words: 'Dials in inches', has: ({ dial }) => dial.unit === 'in' },
];

const NUMBERS = ['none', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten'];

const SKILL_WORDS: Readonly<Partial<Record<Skill, string>>> = {
  direction: 'Which way the pointer ran',
  interpolating: 'The pointer, to a graduation',
  'graduation-value': 'What a graduation is worth',
  'counting-turns': 'Counting turns',
  'revolution-counter': 'The small hand',
};

/** One line of the table of skills. */
export interface SkillLine {
  readonly skill: Skill;
  readonly words: string;
  readonly state: 'known' | 'nearly known' | 'not known yet' | 'not enough seen yet';
  /** Dials that asked for it. */
  readonly dials: number;
}

/** What a skill is called on the screen. */
export function skillWords(skill: Skill): string {
  return SKILL_WORDS[skill] ?? skill;
}

/** Is a reading within one graduation of what was shown? */
export function isRight({ shown, written }: Answered): boolean {
  return Math.abs(written - shown) <= 1 + HAIR;
}

/** How it stands, from the answers alone: "Nine of the last ten within one graduation. Turns past three are still weak: one of four." */
export function evidenceWords(answers: readonly Answered[], learner: Learner): string {
  if (answers.length === 0) return 'No dial is answered yet.';
  return [lastTenWords(answers.slice(-10)), weakWords(answers.slice(-LOOKED_AT), learner)]
    .filter(Boolean)
    .join(' ');
}

/** The skills that a drill can show, each with how sure it is and the dials behind that. */
export function skillLines(learner: Learner): SkillLine[] {
  return DRILLED_SKILLS.map((skill) => ({
    skill,
    words: skillWords(skill),
    state: stateOf(learner, skill),
    dials: learner.seen[skill],
  }));
}

function stateOf(learner: Learner, skill: Skill): SkillLine['state'] {
  if (learner.seen[skill] < FEWEST) return 'not enough seen yet';
  if (isKnown(learner, skill)) return 'known';
  return learner.known[skill] >= NEARLY_FROM ? 'nearly known' : 'not known yet';
}

function lastTenWords(last: readonly Answered[]): string {
  const right = last.filter(isRight).length;
  if (last.length === 1)
    return right === 1
      ? 'The one dial so far was read within one graduation.'
      : 'The one dial so far was not read within one graduation.';
  const of = last.length === 10 ? 'the last ten' : `the first ${NUMBERS[last.length]}`;
  const count = right === last.length ? 'All' : capital(NUMBERS[right] ?? '');
  return `${count} of ${of} within one graduation.`;
}

function weakWords(answers: readonly Answered[], learner: Learner): string {
  const weak = FEATURES.flatMap(({ words, has }) => {
    const those = answers.filter(has);
    const others = answers.filter((one) => !has(one));
    const share = shareRight(those);
    const isWeak =
      those.length >= FEWEST &&
      share < WEAK_BELOW &&
      others.length >= FEWEST &&
      share <= shareRight(others) - BEHIND;
    return isWeak ? [{ words, share, right: those.filter(isRight).length, of: those.length }] : [];
  }).sort((a, b) => a.share - b.share);
  const [worst] = weak;
  if (worst !== undefined)
    return `${worst.words} are still weak: ${inWords(worst.right)} of ${inWords(worst.of)}.`;
  if (DRILLED_SKILLS.every((skill) => stateOf(learner, skill) === 'known'))
    return 'Every skill counts as known.';
  return answers.length >= 10 ? 'No one kind of dial stands out as weak.' : '';
}

function turnsOf({ dial, shown }: Answered): number {
  return Math.abs(shown) / graduationsPerTurn(dial);
}

function shareRight(answers: readonly Answered[]): number {
  return answers.length === 0 ? 1 : answers.filter(isRight).length / answers.length;
}

function inWords(count: number): string {
  return NUMBERS[count] ?? String(count);
}

function capital(word: string): string {
  return word.charAt(0).toUpperCase() + word.slice(1);
}
