import { isKnown, KNOWN_FROM, type Learner, probabilityGiven } from './knowledge-tracing.ts';
import { SKILLS, type Skill } from './skills.ts';

/** What to drill next, and why. */
export interface NextDrill {
  readonly skill: Skill;
  /** How hard: 1 until it is as likely known as not, 2 until 0.8, then 3. */
  readonly level: 1 | 2 | 3;
  /** Probability that it is known now. */
  readonly known: number;
  /** Probability that one drill more will settle it. */
  readonly settles: number;
}

const LEVEL_2_FROM = 0.5;
const LEVEL_3_FROM = 0.8;

/**
 * The skill to drill next: the one most likely to count as known after one drill more; of those that one drill cannot settle, the one
 * nearest to it, in the order of teaching. So what is nearly known is settled first, and what is not known is practised until it is. Null when
 * every skill is known. Probabilities, without a unit. Never throws. Source: mastery learning as in Corbett & Anderson 1995; the order is ours.
 */
export function nextDrill(learner: Learner): NextDrill | null {
  let best: NextDrill | null = null;
  for (const skill of SKILLS) {
    if (isKnown(learner, skill)) continue;
    const known = learner.known[skill];
    const settles = probabilityToSettle(learner, skill);
    const isBetter =
      best === null || settles > best.settles || (settles === best.settles && known > best.known);
    if (isBetter) best = { skill, known, settles, level: levelFor(known) };
  }
  return best;
}

/** Probability that the next drill comes out right, where that would be enough; 0 where it would not. */
function probabilityToSettle(learner: Learner, skill: Skill): number {
  const parameters = learner.parameters[skill];
  const known = learner.known[skill];
  const seen = probabilityGiven(known, parameters, true);
  if (seen + (1 - seen) * parameters.learn < KNOWN_FROM) return 0;
  return known * (1 - parameters.slip) + (1 - known) * parameters.guess;
}

function levelFor(known: number): 1 | 2 | 3 {
  return known < LEVEL_2_FROM ? 1 : known < LEVEL_3_FROM ? 2 : 3;
}
