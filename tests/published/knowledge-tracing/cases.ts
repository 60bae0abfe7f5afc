import { learn, SKILLS, type SkillParameters, startLearner } from '../../../server/engine/index.ts';
import { asPrinted, from, type PublishedCase } from '../published-case.ts';

const course = from(
  'a public course’s worked table of knowledge tracing (P(L0) 0.4, P(T) 0.1, P(S) 0.3, P(G) 0.2)',
  'from memory',
);
const matrices = from(
  'knowledge tracing as a hidden Markov model (Corbett & Anderson 1995; matrices as in a public fitting tool’s notes: 0.5, 0.4, 0.2, 0.2), in exact fractions',
  'computed',
);

/** What is believed after drills that came out so, 1 right and 0 wrong. */
function knownAfter(parameters: SkillParameters, drills: string): number {
  const all = Object.fromEntries(SKILLS.map((skill) => [skill, parameters]));
  const start = startLearner(all as Parameters<typeof startLearner>[0]);
  const skill = 'counting-turns';
  return [...drills].reduce((learner, drill) => learn(learner, { skill, right: drill === '1' }), start).known[
    skill
  ];
}

const COURSE: SkillParameters = { prior: 0.4, learn: 0.1, slip: 0.3, guess: 0.2 };
const MATRICES: SkillParameters = { prior: 0.5, learn: 0.4, slip: 0.2, guess: 0.2 };

export const cases: readonly PublishedCase[] = [
  course('known after 0', '0.28', asPrinted('0.28'), () => knownAfter(COURSE, '0')),
  course('known after 0 0', '0.21', asPrinted('0.21'), () => knownAfter(COURSE, '00')),
  course('known after 0 0 1', '0.54', asPrinted('0.54'), () => knownAfter(COURSE, '001')),
  ...(
    [
      ['0', '0.52'],
      ['00', '0.5278688525'],
      ['001', '0.8903553299'],
      ['0011', '0.9820796460'],
      ['001110', '0.9935138021'],
      ['0011101101', '0.9999471755'],
    ] as const
  ).map(([drills, known]) =>
    matrices(`known after ${[...drills].join(' ')}`, known, asPrinted(known), () =>
      knownAfter(MATRICES, drills),
    ),
  ),
];
