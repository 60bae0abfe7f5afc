import { scored, told } from '../../grading/tally.ts';
import {
  type Criterion,
  FULL_POINTS,
  type Grade,
  type LobeOutcome,
  type Remark,
} from '../../grading/types.ts';
import { fromMm } from '../../units.ts';
import { type CamLiftBench, lobeAt, rollerAt, trueLiftMm, withGauge } from './bench.ts';
import { CHOICE_WORTH, checkChoice, gaugeUsed } from './check-choice.ts';
import { checkProcedure } from './check-procedure.ts';
import { checkReading } from './check-reading.ts';
import { checkSetUp } from './check-set-up.ts';
import { checkVerdicts, trueVerdict } from './check-verdict.ts';
import { type Entry, foldLog, runsOf } from './history.ts';
import { evidenceFor, type LobeEvidence, lobeLiftGraduations } from './match-readings.ts';
import { passesOf } from './passes.ts';
import { traceOf } from './trace.ts';
import type { CamLiftAction, CamLiftSheet, WrittenLobe } from './types.ts';

/**
 * Grades an attempt: a pure function of bench, actions and written sheet. Lobes the sheet leaves out count as blank;
 * positions that were not asked for are left alone.
 */
export function gradeCamLift(
  found: CamLiftBench,
  actions: readonly CamLiftAction[],
  sheet: CamLiftSheet,
): Grade {
  const entries = foldLog(found, actions);
  const used = gaugeUsed(found, entries, sheet.gauge ?? null);
  // Readings are those of one gauge: what another showed before it was changed is no reading of it.
  const bench = withGauge(found, used);
  const runs = runsOf(entries).filter(({ gauge }) => gauge === used || bench.tray.length === 0);
  const passes = runs.flatMap((run) => passesOf(bench, run));
  const lobes = bench.positions.map((position) =>
    evidenceFor(bench, runs, passes, writtenFor(sheet, position)),
  );
  const share = (criterion: Criterion) => FULL_POINTS[criterion] / lobes.length;
  const readings = lobes.map((lobe) => checkReading(bench, lobe, share('reading'), lobes));
  const rows = entries.at(-1)?.step.state.lookedUp ?? [];
  const verdicts = checkVerdicts(bench, lobes, share('verdict'), { rollers: lookedAt(entries), rows });
  const forGauge = bench.tray.length === 0 ? 0 : FULL_POINTS.setUp * CHOICE_WORTH;
  const setUp = (FULL_POINTS.setUp - forGauge) / lobes.length;
  const checks = [
    ...(forGauge === 0 ? [] : checkChoice(bench, used, sheet.gauge ?? null, entries, forGauge)),
    ...lobes.flatMap((lobe) => checkSetUp(bench, lobe, setUp)),
    ...lobes.flatMap((lobe) => checkProcedure(bench, lobe, share('procedure'))),
    ...readings.flatMap((reading) => reading.checks),
    ...verdicts.checks,
  ];
  const score = scored(checks);
  return {
    ...score,
    outOf: FULL_POINTS,
    stops: [...readings.flatMap((reading) => reading.stops), ...verdicts.stops],
    remarks: [...score.remarks, ...safetyRemarks(entries)],
    mistakes: readings.flatMap((reading) => reading.mistakes),
    lobes: lobes.map((lobe) => outcomeOf(bench, lobe)),
    trace: traceOf(bench, runs, passes),
  };
}

/** Pump positions whose roller was looked at. */
function lookedAt(entries: readonly Entry[]): ReadonlySet<number> {
  const looks = entries.filter(({ action }) => action.type === 'inspect');
  return new Set(looks.flatMap(({ before }) => before.position ?? []));
}

function writtenFor(sheet: CamLiftSheet, position: number): WrittenLobe {
  return (
    sheet.lobes.find((lobe) => lobe.position === position) ?? {
      position,
      readings: [],
      lift: null,
      verdict: null,
      next: null,
    }
  );
}

/** Seen in the log, costing nothing: said once, at the first time. */
function safetyRemarks(entries: readonly Entry[]): Remark[] {
  const moved = entries.flatMap(({ at, before, step }) =>
    step.said.flatMap((one) =>
      one.code === 'rolled-back' || one.code === 'ran-on'
        ? [{ at, position: before.position, code: one.code, degrees: one.degrees }]
        : [],
    ),
  );
  const first = moved[0];
  if (first === undefined) return [];
  return [
    told(
      {
        code: 'let-go-at-compression',
        position: first.position,
        at: first.at,
        values: { degrees: first.degrees, times: moved.length, way: first.code },
      },
      null,
    ),
  ];
}

function outcomeOf(bench: CamLiftBench, lobe: LobeEvidence): LobeOutcome {
  const truth = lobeAt(bench, lobe.position);
  const { dial } = bench;
  const inUnit = (graduations: number) => Number((graduations * dial.graduation).toFixed(6));
  const lift = lobeLiftGraduations(bench, lobe);
  return {
    position: lobe.position,
    condition: truth.state,
    tappet: truth.tappet.fault,
    trueLift: Number(fromMm(trueLiftMm(truth), dial.unit).toFixed(6)),
    trueVerdict: trueVerdict(bench, lobe.position),
    shown: lobe.readings.map(({ pass }) => (pass === null ? null : inUnit(pass.keyHigh))),
    writtenLift: lift === null ? null : inUnit(lift),
    writtenVerdict: lobe.written.verdict,
    writtenNext: lobe.written.next,
    ...(bench.rollerVerdict
      ? { roller: rollerAt(bench, lobe.position).condition, writtenRoller: lobe.written.roller ?? null }
      : {}),
  };
}
