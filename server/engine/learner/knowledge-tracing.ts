import { SKILLS, type Skill } from './skills.ts';

/** How one skill is learnt and shown. All probabilities, 0 to 1; guess + slip must stay under 1, or a right answer would speak against knowing. */
export interface SkillParameters {
  /** Known before the first drill. */
  readonly prior: number;
  /** Learnt in one drill by somebody who does not know it yet. */
  readonly learn: number;
  /** Right without knowing it. */
  readonly guess: number;
  /** Wrong though it is known. */
  readonly slip: number;
}

export type LearnerParameters = Readonly<Record<Skill, SkillParameters>>;

/** What is believed of one learner. */
export interface Learner {
  readonly parameters: LearnerParameters;
  /** Probability that each skill is known now. */
  readonly known: Readonly<Record<Skill, number>>;
  /** Drills seen of each. */
  readonly seen: Readonly<Record<Skill, number>>;
}

export interface Observation {
  readonly skill: Skill;
  readonly right: boolean;
}

/**
 * From this probability on a skill counts as known. Corbett & Anderson 1995 stop at 0.95 (as told in later papers); as long as the parameters
 * are not fitted to learners of our own, 0.98 costs one drill in seven more and leaves nine in ten skills known even to learners half as fast as believed
 * (`npm run learners`).
 */
export const KNOWN_FROM = 0.98;

/**
 * Parameters to begin with until records of real learners allow fitting. Guess at most 0.30 and slip at most 0.10 are the bounds of
 * Corbett & Anderson 1995 (as told in Zhou, Sheng & Howley's explanation of knowledge tracing, seen); prior and learn are about the middle of the skills fitted there (0.2 to 0.5, and 0.1 to 0.4; from
 * memory). A number that must be written is seldom guessed, a verdict of three words is guessed every third time.
 */
export const USUAL_PARAMETERS: LearnerParameters = {
  direction: { prior: 0.5, learn: 0.25, guess: 0.3, slip: 0.08 },
  interpolating: { prior: 0.5, learn: 0.25, guess: 0.15, slip: 0.1 },
  'graduation-value': { prior: 0.5, learn: 0.3, guess: 0.15, slip: 0.05 },
  'counting-turns': { prior: 0.2, learn: 0.2, guess: 0.15, slip: 0.1 },
  'revolution-counter': { prior: 0.2, learn: 0.2, guess: 0.15, slip: 0.1 },
  'zero-and-preload': { prior: 0.3, learn: 0.25, guess: 0.15, slip: 0.08 },
  'high-point': { prior: 0.4, learn: 0.25, guess: 0.15, slip: 0.08 },
  'return-to-zero': { prior: 0.3, learn: 0.25, guess: 0.15, slip: 0.08 },
  verdict: { prior: 0.4, learn: 0.2, guess: 0.3, slip: 0.05 },
};

/**
 * A learner nothing has been seen of yet. Probabilities, without a unit. Source: Corbett & Anderson 1995, `USUAL_PARAMETERS`.
 * @throws RangeError for a parameter outside 0..1, or guess + slip not under 1.
 */
export function startLearner(parameters: LearnerParameters = USUAL_PARAMETERS): Learner {
  for (const skill of SKILLS) check(skill, parameters[skill]);
  return {
    parameters,
    known: forEach((skill) => parameters[skill].prior),
    seen: forEach(() => 0),
  };
}

/**
 * What is believed after one more drill: first by what was seen (Bayes' rule), then by what may have been learnt from it. The learner given
 * is left alone. Probabilities, without a unit. Never throws. Source: Corbett & Anderson 1995, knowledge tracing;
 * tests/published/knowledge-tracing.
 */
export function learn(learner: Learner, { skill, right }: Observation): Learner {
  const parameters = learner.parameters[skill];
  const seen = probabilityGiven(learner.known[skill], parameters, right);
  const known = seen + (1 - seen) * parameters.learn;
  return {
    parameters: learner.parameters,
    known: { ...learner.known, [skill]: known },
    seen: { ...learner.seen, [skill]: learner.seen[skill] + 1 },
  };
}

/** Is a skill known, at `KNOWN_FROM` or more? A probability, without a unit. Never throws. Source: Corbett & Anderson 1995, as at `KNOWN_FROM`. */
export function isKnown(learner: Learner, skill: Skill): boolean {
  return learner.known[skill] >= KNOWN_FROM;
}

/** Probability that a skill was known, by whether it was done right; before anything is learnt from doing it. */
export function probabilityGiven(known: number, { guess, slip }: SkillParameters, right: boolean): number {
  const [ifKnown, ifNot] = right ? [1 - slip, guess] : [slip, 1 - guess];
  const total = known * ifKnown + (1 - known) * ifNot;
  return total === 0 ? known : (known * ifKnown) / total;
}

function check(skill: Skill, { prior, learn: rate, guess, slip }: SkillParameters): void {
  if (![prior, rate, guess, slip].every((one) => one >= 0 && one <= 1))
    throw new RangeError(`A parameter of "${skill}" is not a probability.`);
  if (guess + slip >= 1)
    throw new RangeError(`With this guess and slip a right answer would speak against "${skill}".`);
}

function forEach<T>(give: (skill: Skill) => T): Record<Skill, T> {
  return Object.fromEntries(SKILLS.map((skill) => [skill, give(skill)])) as Record<Skill, T>;
}
