import { type JudgedVerdict, judge, judgeSimply } from '../../decision/judge.ts';
import { type Check, failed, passed } from '../../grading/tally.ts';
import type { Stop } from '../../grading/types.ts';
import { convertLength, fromMm, toMm } from '../../units.ts';
import { type CamLiftBench, lobeAt, trueLiftMm } from './bench.ts';
import { checkRoller } from './check-roller.ts';
import { type LobeEvidence, lobeLiftGraduations, shownLiftGraduations } from './match-readings.ts';
import type { Pass } from './passes.ts';
import type { FollowUp, Specification, Verdict } from './types.ts';

/** Shares of a lobe's verdict points. Common practice, no source. */
const WORTH = { verdict: 12 / 20, next: 8 / 20 };

/** Share of a lobe's verdict points that goes to the roller, where the sheet has a line for it. */
const ROLLER_WORTH = 4 / 20;

/** Inches. A lobe this far below the mean of the others is measured again, inside limits or not; two set-ups agree within the other. */
const BELOW_OTHERS_IN = 0.003;
const SET_UPS_AGREE_IN = 0.001;

export interface VerdictResult {
  readonly checks: readonly Check[];
  readonly stops: readonly Stop[];
}

/** What was looked at in an attempt. */
export interface Looked {
  /** Pump positions whose roller was looked at. */
  readonly rollers: ReadonlySet<number>;
  /** Letters whose row of the specification page was looked up. */
  readonly rows: readonly string[];
}

/** The verdict a lift calls for against a specification, by the rule of this sheet. `graduations` of this bench's dial. */
export function verdictFor(
  bench: CamLiftBench,
  graduations: number,
  specification: Specification = bench.specification,
): Verdict {
  const { dial, decision } = bench;
  const lift = convertLength(graduations * dial.graduation, dial.unit, specification.unit);
  return decision.rule === 'simple'
    ? judgeSimply(lift, specification)
    : judge(lift, decision, specification, 'guarded').verdict;
}

/** What is truly so of a lobe. */
export function trueVerdict(bench: CamLiftBench, position: number): JudgedVerdict {
  const { specification } = bench;
  return judgeSimply(fromMm(trueLiftMm(lobeAt(bench, position)), specification.unit), specification);
}

/**
 * Verdicts and follow-ups of all lobes. A verdict is judged against the lift the student wrote; what the gauge could not
 * show costs no points. Passing a bad lobe that the gauge did show loses the whole criterion; passing any bad lobe is a stop.
 */
export function checkVerdicts(
  bench: CamLiftBench,
  lobes: readonly LobeEvidence[],
  pointsPerLobe: number,
  looked: Looked,
): VerdictResult {
  const stops = lobes.filter((lobe) => passedBad(bench, lobe)).map((lobe) => badLobePassed(bench, lobe));
  const missed = lobes.filter((lobe) => passedBad(bench, lobe) && gaugeShowedBad(bench, lobe));
  if (missed.length === 0) {
    const forLobe = bench.rollerVerdict ? pointsPerLobe * (1 - ROLLER_WORTH) : pointsPerLobe;
    const checks = lobes.flatMap((lobe) => [
      checkVerdict(bench, lobe, looked.rows, forLobe * WORTH.verdict),
      checkNext(bench, lobe, lobes, forLobe * WORTH.next),
      ...(bench.rollerVerdict
        ? [checkRoller(bench, lobe, looked.rollers, pointsPerLobe * ROLLER_WORTH)]
        : []),
    ]);
    return { checks, stops };
  }
  const checks = lobes.map((lobe) =>
    missed.includes(lobe)
      ? failed('verdict', pointsPerLobe, { code: 'bad-lobe-passed', position: lobe.position, at: null })
      : failed('verdict', pointsPerLobe, { code: 'lost-with-bad-lobe', position: lobe.position, at: null }),
  );
  return { checks, stops };
}

function passedBad(bench: CamLiftBench, { position, written }: LobeEvidence): boolean {
  return written.verdict === 'inside' && trueVerdict(bench, position) !== 'inside';
}

/** A good reading, within a graduation of what the gauge showed, speaks for itself; any other answers for what the gauge showed. */
function gaugeShowedBad(bench: CamLiftBench, lobe: LobeEvidence): boolean {
  const shown = shownLiftGraduations(lobe);
  const lift = lobeLiftGraduations(bench, lobe);
  if (shown === null) return true;
  const isGoodReading = lift !== null && Math.abs(lift - shown) <= 1 + 1e-6;
  return verdictFor(bench, isGoodReading ? lift : Math.round(shown)) !== 'inside';
}

function badLobePassed(bench: CamLiftBench, { position, run }: LobeEvidence): Stop {
  const { state } = lobeAt(bench, position);
  return {
    code: 'bad-lobe-passed',
    position,
    at: run?.at ?? null,
    values: { state, truly: trueVerdict(bench, position) },
  };
}

function checkVerdict(
  bench: CamLiftBench,
  lobe: LobeEvidence,
  rows: readonly string[],
  worth: number,
): Check {
  const { position, written } = lobe;
  const fail = (code: string, values = {}, met = 0) =>
    failed('verdict', worth, { code, position, at: null, values }, met);
  const lift = lobeLiftGraduations(bench, lobe);
  if (written.verdict === null) return fail('verdict-not-written');
  if (lift === null) return fail('verdict-without-lift');
  const right = verdictFor(bench, lift);
  if (right === written.verdict) {
    const isGuess = bench.page !== null && !rows.includes(bench.page.letter);
    return isGuess
      ? fail('specification-not-looked-up', { letter: bench.page?.letter ?? '' }, 0.5)
      : passed('verdict', worth);
  }
  const wrongRow = bench.page?.rows.find(
    ({ letter, specification }) =>
      letter !== bench.page?.letter &&
      rows.includes(letter) &&
      verdictFor(bench, lift, specification) === written.verdict,
  );
  const values = { right, written: written.verdict };
  if (wrongRow !== undefined)
    return fail('specification-row-wrong', {
      ...values,
      row: wrongRow.letter,
      letter: bench.page?.letter ?? '',
    });
  const sides = [right, written.verdict];
  return fail(
    sides.includes('below') && sides.includes('above') ? 'limit-side-swapped' : 'verdict-wrong',
    values,
  );
}

function checkNext(
  bench: CamLiftBench,
  lobe: LobeEvidence,
  all: readonly LobeEvidence[],
  worth: number,
): Check {
  const { position, written } = lobe;
  const fail = (code: string, values = {}, met = 0) =>
    failed('verdict', worth, { code, position, at: null, values }, met);
  const { next, verdict } = written;
  if (next === null) return fail('next-not-written');
  if (verdict === null) return fail('next-without-verdict');
  // What to do next follows from the verdict written: a wrong verdict has been paid for already.
  if (verdict === 'inside') return checkNextInside(bench, lobe, all, worth, next);
  if (verdict === 'too-close-to-call') {
    return next === 'measure-again'
      ? passed('verdict', worth)
      : fail('next-when-too-close', { written: next });
  }
  const agreed = setUpsAgree(bench, lobe);
  const right: FollowUp[] = agreed
    ? verdict === 'below'
      ? ['replace']
      : ['replace', 'measure-again']
    : verdict === 'below'
      ? ['measure-again']
      : ['measure-again', 'correct-set-up'];
  if (right.includes(next)) return passed('verdict', worth);
  if (next === 'replace') return fail('condemned-on-one-set-up');
  if (next === 'return-to-service') return fail('returned-outside-limits', { verdict });
  return fail('next-not-the-best', { written: next, right }, 0.5);
}

function checkNextInside(
  bench: CamLiftBench,
  lobe: LobeEvidence,
  all: readonly LobeEvidence[],
  worth: number,
  next: FollowUp,
): Check {
  const { position } = lobe;
  const below = belowOthersGraduations(bench, lobe, all);
  const edge = BELOW_OTHERS_IN / lengthIn(bench, 1);
  // A reading is good to a graduation, so within one of the edge either answer stands; so it does when it has been measured again.
  const mustRepeat = below !== null && below > edge + 1 + 1e-6 && !setUpsAgree(bench, lobe);
  const mayRepeat = below !== null && below >= edge - 1 - 1e-6;
  if (next === 'measure-again' ? mayRepeat : next === 'return-to-service' && !mustRepeat)
    return passed('verdict', worth);
  if (mustRepeat && next !== 'replace') {
    const values = { belowGraduations: Math.round(below ?? 0) };
    return failed('verdict', worth, { code: 'below-the-others', position, at: null, values }, 0.5);
  }
  const right = 'return-to-service';
  const code = next === 'replace' ? 'replaced-inside-limits' : 'next-not-the-best';
  return failed(
    'verdict',
    worth,
    { code, position, at: null, values: { written: next, right: [right] } },
    next === 'replace' ? 0 : 0.5,
  );
}

function lengthIn(bench: CamLiftBench, graduations: number): number {
  return fromMm(toMm(graduations * bench.dial.graduation, bench.dial.unit), 'in');
}

/** How far below the mean of the other lobes found inside this one was written, in graduations; null where there is nothing to compare. */
function belowOthersGraduations(
  bench: CamLiftBench,
  lobe: LobeEvidence,
  all: readonly LobeEvidence[],
): number | null {
  const own = lobeLiftGraduations(bench, lobe);
  const inside = all.filter((other) => other !== lobe && other.written.verdict === 'inside');
  const others = inside.flatMap((other) => lobeLiftGraduations(bench, other) ?? []);
  if (own === null || others.length === 0) return null;
  return others.reduce((sum, lift) => sum + lift, 0) / others.length - own;
}

/** Did two separate set-ups on this lobe show the same lift, each read to the graduation? */
function setUpsAgree(bench: CamLiftBench, { passes }: LobeEvidence): boolean {
  const apartIn = (a: Pass, b: Pass) =>
    lengthIn(bench, Math.abs(Math.round(a.keyHigh) - Math.round(b.keyHigh)));
  return passes.some((a) =>
    passes.some((b) => a.run.setUp < b.run.setUp && apartIn(a, b) <= SET_UPS_AGREE_IN + 1e-9),
  );
}
