import { USUAL_PARAMETERS } from '../../../server/engine/index.ts';
import { adaptive, fits, fixedPlanFor, off, slow } from './study.ts';

const LEARNERS = 5_000;
const percent = (share: number) => `${(100 * share).toFixed(1)} %`;

const GROUPS = [
  ['as the model believes', fits, 0.95],
  ['each number off by up to 40 %', off, 0.85],
  ['all slower: half the prior, half the learning, guessing half as often again', slow, 0.85],
] as const;

/** The parameters were settled on before the second seed was looked at. */
for (const seed of ['learners', 'learners, held out']) {
  console.log(`\n${LEARNERS} simulated learners, seed "${seed}"`);
  for (const [who, truthOf, wanted] of GROUPS) {
    const result = adaptive(LEARNERS, truthOf, USUAL_PARAMETERS, seed);
    const fixed = fixedPlanFor(result.known, LEARNERS, truthOf, seed);
    console.log(`  ${who}`);
    console.log(`    truly known at the stop   ${percent(result.known)}   (at least ${percent(wanted)})`);
    console.log(
      `    drills each               ${result.drillsEach.toFixed(1)}, a fixed plan that leaves as much known ${fixed}: ratio ${(result.drillsEach / fixed).toFixed(2)}   (at most 0.50)`,
    );
    console.log(`    came to a stop            ${percent(result.settled)}`);
  }
}
