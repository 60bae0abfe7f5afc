import type { CamLiftBrief } from '../exercises/cam-lift/types.ts';
import { explainSetUp, type SetUpEvidence } from './explain-set-up.ts';
import type { SetUpFault } from './faults.ts';
import type { SeenAction } from './sight.ts';

/** What to do to tell a fault from a good set-up. */
export type TellingTest = 'seat' | 'press' | 'look-along-the-bore' | 'tighten' | 'bar-round' | 'watch-zero';

/** A hint that names no fault: a thing the gauge did that is worth looking at again, or a test that was left out. */
export interface SetUpHint {
  readonly position: number;
  readonly lookAgain: readonly SetUpEvidence[];
  readonly tests: readonly TellingTest[];
}

const TELLS: Readonly<Record<SetUpFault, TellingTest>> = {
  'tappet-hung': 'press',
  'slot-off-pin': 'seat',
  'tappet-sticky': 'press',
  'indicator-leans': 'look-along-the-bore',
  'tip-caught': 'look-along-the-bore',
  'arm-loose': 'tighten',
  'base-loose': 'tighten',
  'rod-loose': 'tighten',
  'zero-on-ramp': 'watch-zero',
  'zero-on-nose': 'watch-zero',
  'no-preload': 'watch-zero',
  'travel-ran-out': 'bar-round',
  'bezel-not-clamped': 'bar-round',
  'backed-up': 'bar-round',
};

/** A hint for practice at each pump position, from what was seen so far: never the fault itself, which is the student's to name.
 * Names of signs and faults. Never throws. Source: `explainSetUp`. */
export function setUpHint(brief: CamLiftBrief, log: readonly SeenAction[]): SetUpHint[] {
  return explainSetUp(brief, log).map(({ position, how, faults, untold, likely }) => {
    const suspected = how === 'one' || how === 'either' ? faults : [];
    const seen = likely.flatMap(({ fault, evidence }) => (suspected.includes(fault) ? evidence : []));
    const lookAgain = seen.filter((one, index) => seen.findIndex(({ code }) => code === one.code) === index);
    return { position, lookAgain, tests: [...new Set(untold.map((fault) => TELLS[fault]))] };
  });
}
