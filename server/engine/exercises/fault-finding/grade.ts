import { type Check, failed, passed, scored } from '../../grading/tally.ts';
import { FULL_POINTS, type Grade, type Stop } from '../../grading/types.ts';
import { explainSetUp } from '../../set-up/explain-set-up.ts';
import type { SetUpFault } from '../../set-up/faults.ts';
import type { SetUpNaming } from '../../set-up/name-set-up.ts';
import type { SeenAction } from '../../set-up/sight.ts';
import { fromMm } from '../../units.ts';
import { actCamLift } from '../cam-lift/act.ts';
import { briefOf, type CamLiftBench, lobeAt, trueLiftMm } from '../cam-lift/bench.ts';
import { checkSetUp } from '../cam-lift/check-set-up.ts';
import { foldLog, type Run, runsOf } from '../cam-lift/history.ts';
import { BLANK_READING, evidenceFor } from '../cam-lift/match-readings.ts';
import { type Pass, passesOf } from '../cam-lift/passes.ts';
import { looseNow, startCamLift } from '../cam-lift/state.ts';
import { traceOf } from '../cam-lift/trace.ts';
import type { CamLiftAction, FollowUp } from '../cam-lift/types.ts';
import { checkReadings, type Shown } from './check-readings.ts';
import type { FaultAnswer, FaultFindingBench, FaultFindingSheet } from './types.ts';

/** Shares of procedure and verdict. Common practice, no source. */
const WORTH = { asFound: 8 / 20, after: 8 / 20, returned: 4 / 20, name: 12 / 20, next: 8 / 20 };

/**
 * Grades a fault-finding attempt: a pure function of bench, actions and written sheet. Set-up is that of the measurement after the fault was
 * set right; a fault named right without anything in the log that shows it is a guess and gets half.
 */
export function gradeFaultFinding(
  bench: FaultFindingBench,
  actions: readonly CamLiftAction[],
  sheet: FaultFindingSheet,
): Grade {
  const { engine } = bench;
  const [position = 1] = engine.positions;
  const runs = runsOf(foldLog(engine, actions)).filter((run) => run.position === position);
  const passes = runs.flatMap((run) => passesOf(engine, run));
  const lasting = !CURABLE.includes(bench.fault);
  const found = passes.filter((pass) => lasting || isFaulty(engine, pass));
  const after = passes.filter((pass) => lasting || !isFaulty(engine, pass));
  const shown: Shown = { found, after, position, any: runs.length > 0 };
  const readings = checkReadings(engine, shown, sheet);
  const verdict = checkVerdict(bench, actions, sheet, after, position);
  const checks = [
    ...setUpChecks(engine, runs, passes, after, sheet),
    ...procedureChecks(bench, passes, found, after, position),
    ...readings.checks,
    ...verdict.checks,
  ];
  const trueLift = Number(fromMm(trueLiftMm(lobeAt(engine, position)), engine.dial.unit).toFixed(6));
  const { foundHigh, foundReturn, trueHigh } = sheet;
  return {
    ...scored(checks),
    outOf: FULL_POINTS,
    stops: [...readings.stops, ...verdict.stops],
    mistakes: [],
    lobes: [],
    items: [
      {
        item: position,
        truth: { lift: trueLift },
        trueVerdict: bench.fault,
        shown: { 'found-high': highOf(engine, found), 'true-high': highOf(engine, after) },
        written: { 'found-high': foundHigh, 'found-return': foundReturn, 'true-high': trueHigh },
        writtenVerdict: sheet.fault,
        writtenNext: sheet.next,
      },
    ],
    trace: traceOf(engine, runs, passes),
  };
}

/** Faults that are gone once they are set right. A sticky tappet stays one; where nothing is wrong there is nothing to set right. */
const CURABLE: readonly FaultAnswer[] = [
  ...(['tappet-hung', 'slot-off-pin', 'indicator-leans', 'tip-caught'] as const),
  ...(['arm-loose', 'base-loose', 'rod-loose'] as const),
];

/** Was the hidden fault still there as the lobe came up? */
function isFaulty(engine: CamLiftBench, { run, from }: Pass): boolean {
  const upAt = run.points[from]?.at;
  const state = run.entries.find(({ at }) => at === upAt)?.before;
  if (state === undefined) return false;
  const leans = Math.abs((state.indicator?.factor ?? 1) - 1) > HARMLESS;
  return state.tappet.hungMm > 0 || !state.tappet.slotOnPin || leans || looseNow(engine, state) !== null;
}

/** What a lean of 3° adds, as a share: nobody sets an indicator squarer by eye. */
const HARMLESS = 0.0014;

function highOf({ dial }: CamLiftBench, passes: readonly Pass[]): number | null {
  const last = passes.at(-1);
  return last === undefined ? null : Number((last.high * dial.graduation).toFixed(6));
}

/** The hidden fault's own remarks on the set-up: what was never set right is charged where it was not measured again. */
const OWN_REMARKS = ['tappet-hung', 'slot-off-pin', 'indicator-leans', 'stand-loose', 'rod-loose'];

/** The set-up that the true reading was taken with, by cam lift's own checks. */
function setUpChecks(
  engine: CamLiftBench,
  runs: readonly Run[],
  passes: readonly Pass[],
  after: readonly Pass[],
  { trueHigh }: FaultFindingSheet,
): Check[] {
  const [position = 1] = engine.positions;
  const readings = [{ ...BLANK_READING, lift: trueHigh }];
  const written = { position, readings, lift: trueHigh, verdict: null, next: null };
  const evidence = evidenceFor(engine, runs, after.length > 0 ? after : passes, written);
  const checks = checkSetUp(engine, evidence, FULL_POINTS.setUp);
  if (after.length > 0 || passes.length === 0) return checks;
  return checks.map((check) =>
    OWN_REMARKS.includes(check.remark?.code ?? '') ? passed('setUp', check.worth) : check,
  );
}

function procedureChecks(
  { fault }: FaultFindingBench,
  passes: readonly Pass[],
  found: readonly Pass[],
  after: readonly Pass[],
  position: number,
): Check[] {
  const points = FULL_POINTS.procedure;
  if (passes.length === 0)
    return [failed('procedure', points, { code: 'lobe-not-measured', position, at: null })];
  const at = passes.at(-1)?.run.at ?? null;
  const fail = (code: string, worth: number) => failed('procedure', points * worth, { code, position, at });
  const curable = CURABLE.includes(fault);
  const again = curable ? after.length > 0 : passes.length > 1;
  const returned = (found.length > 0 ? found : passes).some((pass) => pass.returned !== null);
  return [
    found.length > 0
      ? passed('procedure', points * WORTH.asFound)
      : fail('not-measured-as-found', WORTH.asFound),
    again ? passed('procedure', points * WORTH.after) : fail('not-measured-after', WORTH.after),
    returned ? passed('procedure', points * WORTH.returned) : fail('return-not-watched', WORTH.returned),
  ];
}

function checkVerdict(
  bench: FaultFindingBench,
  actions: readonly CamLiftAction[],
  sheet: FaultFindingSheet,
  after: readonly Pass[],
  position: number,
): { readonly checks: readonly Check[]; readonly stops: readonly Stop[] } {
  const points = FULL_POINTS.verdict;
  if (bench.fault === 'worn-lobe' && sheet.next === 'return-to-service') {
    const values = { state: 'worn', truly: 'below' };
    return {
      checks: [failed('verdict', points, { code: 'bad-part-passed', position, at: null })],
      stops: [{ code: 'bad-lobe-passed', position, at: null, values }],
    };
  }
  const naming = explainSetUp(briefOf(bench.engine), seenIn(bench.engine, actions)).find(
    (one) => one.position === position,
  );
  return {
    checks: [
      checkName(bench.fault, sheet.fault, naming, position, points * WORTH.name),
      checkNext(sheet, after, position, points * WORTH.next),
    ],
    stops: [],
  };
}

/** The log with what was perceived of it: all that the diagnosis of the set-up is given. */
function seenIn(engine: CamLiftBench, actions: readonly CamLiftAction[]): SeenAction[] {
  let state = startCamLift(engine);
  return actions.map((action) => {
    const result = actCamLift(engine, state, action);
    state = result.state;
    return { action, seen: result.seen };
  });
}

/** The name, and how it was proven: what was seen must single it out, by the same diagnosis that knows nothing of the bench. */
function checkName(
  hidden: FaultAnswer,
  written: FaultAnswer | null,
  naming: SetUpNaming | undefined,
  position: number,
  worth: number,
): Check {
  const fail = (code: string, met = 0, values = {}) =>
    failed('verdict', worth, { code, position, at: null, values: { written, hidden, ...values } }, met);
  if (written === null) return fail('fault-not-named');
  const either: readonly string[] = naming?.how === 'either' ? naming.faults : [];
  if (either.includes(hidden) && either.includes(written))
    return fail('could-be-either', written === hidden ? 0.5 : 0.25, { either });
  if (written !== hidden) return fail('fault-not-there');
  return isProven(hidden, naming) ? passed('verdict', worth) : fail('fault-guessed', 0.5);
}

function isProven(hidden: FaultAnswer, naming: SetUpNaming | undefined): boolean {
  if (naming === undefined) return false;
  if (hidden !== 'none' && hidden !== 'worn-lobe')
    return naming.how === 'one' && naming.faults.includes(hidden);
  // That nothing is wrong is shown by every test that would have told.
  const left: readonly SetUpFault[] = [...naming.untold, ...naming.faults];
  return !left.some((fault) => CURABLE.includes(fault as FaultAnswer) || fault === 'tappet-sticky');
}

/** What to do next follows from the name written: a wrong one has been paid for already. */
function checkNext(
  { fault, next, trueHigh }: FaultFindingSheet,
  after: readonly Pass[],
  position: number,
  worth: number,
): Check {
  const fail = (code: string, met = 0, values = {}) =>
    failed('verdict', worth, { code, position, at: null, values }, met);
  if (next === null) return fail('no-next');
  if (fault === null) return fail('next-without-a-verdict');
  const right = rightNext(
    fault,
    trueHigh !== null && after.length > 0,
    new Set(after.map(({ run }) => run.setUp)).size,
  );
  if (right.includes(next)) return passed('verdict', worth);
  if (next === 'replace') return fail('condemned-on-one-setting');
  return fail('another-next-is-better', 0.5, { written: next, right });
}

function rightNext(fault: FaultAnswer, measuredAfter: boolean, setUps: number): readonly FollowUp[] {
  if (fault === 'worn-lobe') return setUps > 1 ? ['replace', 'measure-again'] : ['measure-again'];
  if (fault === 'none') return ['return-to-service'];
  if (fault === 'tappet-sticky') return ['correct-set-up'];
  return measuredAfter ? ['return-to-service'] : ['correct-set-up'];
}
