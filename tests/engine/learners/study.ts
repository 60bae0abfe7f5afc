import {
  isKnown,
  type LearnerParameters,
  learn,
  nextDrill,
  SKILLS,
  type Skill,
  type SkillParameters,
  startLearner,
  USUAL_PARAMETERS,
} from '../../../server/engine/index.ts';
import { type Chance, chanceFor } from '../../../server/engine/random.ts';

/** Simulated learners: what they know is known here, and whether the model finds it out is measured. */

/** One learner's true state, skill by skill, who learns and answers as `truth` says. */
class SimulatedLearner {
  readonly #knows: Record<Skill, boolean>;
  readonly #truth: LearnerParameters;
  readonly #chance: Chance;

  constructor(truth: LearnerParameters, chance: Chance) {
    this.#truth = truth;
    this.#chance = chance;
    this.#knows = Object.fromEntries(
      SKILLS.map((skill) => [skill, chance.chance(truth[skill].prior)]),
    ) as Record<Skill, boolean>;
  }

  /** Does a drill: right or wrong; whoever does not know the skill may learn it by doing it. */
  does(skill: Skill): boolean {
    const { guess, slip, learn: rate } = this.#truth[skill];
    const right = this.#chance.chance(this.#knows[skill] ? 1 - slip : guess);
    if (!this.#knows[skill]) this.#knows[skill] = this.#chance.chance(rate);
    return right;
  }

  get known(): number {
    return SKILLS.filter((skill) => this.#knows[skill]).length;
  }
}

/** Far more than anybody needs: a learner who gets here is counted as he stands. */
const MOST_DRILLS = 1000;

/** One learner drilled by the model until it says that all is known. */
function drillAdaptively(learner: SimulatedLearner, believed: LearnerParameters) {
  let model = startLearner(believed);
  let drills = 0;
  for (let next = nextDrill(model); next !== null && drills < MOST_DRILLS; next = nextDrill(model)) {
    model = learn(model, { skill: next.skill, right: learner.does(next.skill) });
    drills += 1;
  }
  return { drills, settled: SKILLS.every((skill) => isKnown(model, skill)) };
}

export interface Adaptive {
  /** Share of skills truly known when the model stops. */
  readonly known: number;
  readonly drillsEach: number;
  readonly settled: number;
}

export function adaptive(
  learners: number,
  truthOf: (chance: Chance) => LearnerParameters,
  believed: LearnerParameters,
  seed: string,
): Adaptive {
  let [known, drills, settled] = [0, 0, 0];
  for (let index = 0; index < learners; index += 1) {
    const chance = chanceFor(seed, `learner/${index}`);
    const learner = new SimulatedLearner(truthOf(chance), chance);
    const result = drillAdaptively(learner, believed);
    known += learner.known;
    drills += result.drills;
    settled += result.settled ? 1 : 0;
  }
  return {
    known: known / (learners * SKILLS.length),
    drillsEach: drills / learners,
    settled: settled / learners,
  };
}

/** The fewest drills of a fixed plan, the same number of each skill for everybody, that leaves at least this share truly known. */
export function fixedPlanFor(
  share: number,
  learners: number,
  truthOf: (chance: Chance) => LearnerParameters,
  seed: string,
): number {
  for (let each = 1; each <= 200; each += 1) {
    let known = 0;
    for (let index = 0; index < learners; index += 1) {
      const chance = chanceFor(seed, `learner/${index}`);
      const learner = new SimulatedLearner(truthOf(chance), chance);
      for (const skill of SKILLS) for (let n = 0; n < each; n += 1) learner.does(skill);
      known += learner.known;
    }
    if (known / (learners * SKILLS.length) >= share) return each * SKILLS.length;
  }
  return Number.POSITIVE_INFINITY;
}

export const fits = (): LearnerParameters => USUAL_PARAMETERS;

/**
 * Learners who are not as the model believes: each skill's numbers moved by up to 40 % of themselves either way, for each learner anew. Learning
 * may be that much slower, guessing that much luckier.
 */
export function off(chance: Chance): LearnerParameters {
  const moved = (value: number) => Math.min(0.6, value * chance.uniform(0.6, 1.4));
  return Object.fromEntries(
    SKILLS.map((skill): [Skill, SkillParameters] => {
      const { prior, learn: rate, guess, slip } = USUAL_PARAMETERS[skill];
      return [skill, { prior: moved(prior), learn: moved(rate), guess: moved(guess), slip: moved(slip) }];
    }),
  ) as LearnerParameters;
}

/** The worst way to be off: all learn half as fast as believed, know half as much to begin with, and guess half as often again. */
export function slow(): LearnerParameters {
  return Object.fromEntries(
    SKILLS.map((skill): [Skill, SkillParameters] => {
      const { prior, learn: rate, guess, slip } = USUAL_PARAMETERS[skill];
      return [skill, { prior: prior / 2, learn: rate / 2, guess: Math.min(0.45, guess * 1.5), slip }];
    }),
  ) as LearnerParameters;
}
