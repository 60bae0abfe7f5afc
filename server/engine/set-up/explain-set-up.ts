import type { CamLiftBrief } from '../exercises/cam-lift/types.ts';
import { curveOf } from './curve.ts';
import { FAULT_PRIORS, SET_UP_FAULTS, type SetUpFault } from './faults.ts';
import { nameSetUp, type SetUpNaming } from './name-set-up.ts';
import { passesIn } from './passes.ts';
import { type SeenAction, type Sight, sightsOf } from './sight.ts';
import { SIGN_TABLE, type SignCode } from './sign-table.ts';
import { comparedSigns, expectedLift, type RunCurve, type Sign, signsOf } from './signs.ts';

/** Something seen that speaks for a fault. */
export interface SetUpEvidence {
  readonly code: SignCode;
  /** Index of the action in the log; null where it is not tied to one. */
  readonly at: number | null;
  /** Graduations, degrees or times, as the sign says; null where there is nothing to measure. */
  readonly value: number | null;
}

export interface LikelyFault {
  readonly fault: SetUpFault;
  readonly probability: number;
  readonly evidence: readonly SetUpEvidence[];
}

/** What may be said of the set-up at one pump position. */
export interface SetUpDiagnosis extends SetUpNaming {
  readonly position: number;
  /** Every fault with its probability, likeliest first. */
  readonly likely: readonly LikelyFault[];
  /** Lift that the gauge showed, lowest to highest place of one run, in graduations; null where no lobe came up. */
  readonly shownGraduations: number | null;
}

/**
 * Tells what set-up faults explain what was seen at each pump position of a log. It takes only what a person standing there has: the
 * brief, what was done and what was perceived. Each fault is there or not on its own prior; each sign looked for is a noisy "or" of the
 * faults that bring it (`sign-table.ts`), and sets of up to three faults are weighed. Probabilities 0 to 1. Never throws for an odd log. Source: Bayes' rule with a
 * noisy "or" (Pearl, from memory); priors and chances are common practice, no source.
 */
export function explainSetUp(brief: CamLiftBrief, log: readonly SeenAction[]): SetUpDiagnosis[] {
  const seen = sightsOf(brief, log).map((sight) => ({ sight, runs: curvesOf(brief, sight) }));
  const lifts = seen.map(({ runs }) => liftShown(runs));
  return seen.map(({ sight, runs }, index) => {
    const others = lifts.flatMap((lift, other) => (other === index || lift === null ? [] : [lift]));
    const own = lifts[index] ?? null;
    const signs = [...signsOf(brief, sight, runs), ...comparedSigns(brief, own, others)];
    const likely = weigh(signs);
    return { position: sight.position, ...nameSetUp(likely), likely, shownGraduations: own };
  });
}

function curvesOf(brief: CamLiftBrief, { runs }: Sight): RunCurve[] {
  return runs.map((run) => {
    const curve = curveOf(run);
    return { run, curve, passes: passesIn(curve, expectedLift(brief)) };
  });
}

/** Highest less lowest of the last run in which the lobe came up. */
function liftShown(runs: readonly RunCurve[]): number | null {
  const last = runs.findLast(({ passes }) => passes.length > 0);
  const pass = last?.passes.at(-1);
  if (last === undefined || pass === undefined) return null;
  return (last.curve.smooth[pass.top] ?? 0) - (last.curve.smooth[pass.foot] ?? 0);
}

/** Most faults at once that are weighed. */
const MOST_AT_ONCE = 3;
const SETS = setsOf(SET_UP_FAULTS, MOST_AT_ONCE);

function setsOf(faults: readonly SetUpFault[], most: number): SetUpFault[][] {
  if (most === 0) return [[]];
  const smaller = setsOf(faults, most - 1);
  const full = smaller.filter((set) => set.length === most - 1);
  const larger = full.flatMap((set) => {
    const last = set.at(-1);
    return faults.slice(last === undefined ? 0 : faults.indexOf(last) + 1).map((fault) => [...set, fault]);
  });
  return [...smaller, ...larger];
}

/** Probability of each fault: the sum over every set that holds it. */
export function weigh(signs: readonly Sign[]): LikelyFault[] {
  const weights = SETS.map(
    (set) => priorOf(set) * signs.reduce((product, one) => product * likelihood(one, set), 1),
  );
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const probability = (fault: SetUpFault) =>
    SETS.reduce((sum, set, n) => sum + (set.includes(fault) ? (weights[n] ?? 0) : 0), 0) / total;
  return SET_UP_FAULTS.map((fault) => ({
    fault,
    probability: probability(fault),
    evidence: signs
      .filter((one) => one.there && chanceOf(one, fault) > 2 * SIGN_TABLE[one.code].leak)
      .map(evidenceOf),
  })).sort((a, b) => b.probability - a.probability);
}

function evidenceOf({ code, at, value }: Sign): SetUpEvidence {
  return { code, at, value: value === null ? null : Math.round(value * 10) / 10 };
}

function priorOf(set: readonly SetUpFault[]): number {
  return SET_UP_FAULTS.reduce(
    (product, fault) => product * (set.includes(fault) ? FAULT_PRIORS[fault] : 1 - FAULT_PRIORS[fault]),
    1,
  );
}

function chanceOf({ code, chances }: Sign, fault: SetUpFault): number {
  return chances?.[fault] ?? SIGN_TABLE[code].from[fault] ?? 0;
}

function likelihood(one: Sign, set: readonly SetUpFault[]): number {
  const away = set.reduce(
    (product, fault) => product * (1 - chanceOf(one, fault)),
    1 - SIGN_TABLE[one.code].leak,
  );
  return one.there ? 1 - away : away;
}
