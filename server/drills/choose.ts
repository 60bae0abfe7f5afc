import {
  type DialName,
  type DialReadingDefinition,
  DRILLED_SKILLS,
  type Learner,
  learn,
  nextDrill,
  type Observation,
  type Skill,
  startLearner,
} from '../engine/index.ts';

/** A dial to be drilled, and what it is for; null where everything counts as known. */
export interface ChosenDrill {
  readonly skill: Skill | null;
  readonly definition: DialReadingDefinition;
}

/** Dials with ten turns of travel: only there can turns be practised. */
const LONG: readonly DialName[] = ['inch-0.001-1', 'metric-0.01-10', 'inch-0.0005-0.5'];
/** Dials whose small hand runs either way. */
const WITH_A_HAND: readonly DialName[] = [
  'inch-0.001-1',
  'metric-0.01-10-backwards',
  'metric-0.01-10',
  'inch-0.001-1-backwards',
];

/** What is believed of a student: folded from the observations of every answer, oldest first. */
export function learnerFrom(answers: readonly { readonly observations: readonly Observation[] }[]): Learner {
  return answers.flatMap(({ observations }) => observations).reduce(learn, startLearner());
}

/**
 * The next dial for a learner: for the skill that one dial more is most likely to settle. What a dial alone cannot show is left out of
 * the choice. `number` tells the dials of a round apart, so that they are not all alike.
 */
export function chooseDrill(learner: Learner, number: number): ChosenDrill {
  const next = nextDrill(onlyDrilled(learner));
  const base = { kind: 'dial-reading', drills: 1, name: 'Drill' } as const;
  if (next === null) return { skill: null, definition: { ...base, level: 3 } };
  const { skill } = next;
  // At the first level everything goes in, the small hand begins at zero, and many a movement is less than a turn.
  const level =
    skill === 'interpolating' || skill === 'graduation-value' ? next.level : atLeastTwo(next.level);
  const dial = dialFor(skill, level, number);
  return { skill, definition: { ...base, level, ...(dial === undefined ? {} : { dial }) } };
}

function atLeastTwo(level: 1 | 2 | 3): 2 | 3 {
  return level === 3 ? 3 : 2;
}

function dialFor(skill: Skill, level: 1 | 2 | 3, number: number): DialName | undefined {
  if (skill === 'revolution-counter') {
    const dials = level === 3 ? WITH_A_HAND : LONG;
    return dials[number % dials.length];
  }
  return skill === 'counting-turns' && level < 3 ? LONG[number % LONG.length] : undefined;
}

/** The same learner, with every other skill as good as known. */
function onlyDrilled(learner: Learner): Learner {
  const known = Object.fromEntries(
    Object.entries(learner.known).map(([skill, chance]) => [
      skill,
      DRILLED_SKILLS.includes(skill as Skill) ? chance : 1,
    ]),
  ) as Learner['known'];
  return { ...learner, known };
}
