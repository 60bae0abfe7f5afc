import { type Check, failed, passed, scored } from '../../grading/tally.ts';
import type { Criterion, Grade, ItemOutcome, NamedMistake, Stop } from '../../grading/types.ts';
import { diagnoseDrill } from './diagnose.ts';
import { type DrillLog, drillLogs, traceOfDrills } from './log.ts';
import type { DialReadingAction, DialReadingBench, DialReadingSheet, Drill, WrittenDrill } from './types.ts';

/** There is nothing to set up, and no verdict to come to: reading is what counts. Common practice, no source. */
const POINTS: Readonly<Record<Criterion, number>> = { setUp: 0, procedure: 10, reading: 90, verdict: 0 };
/** Binary rounding of a length divided by its graduation. */
const HAIR = 1e-6;

interface Graded {
  readonly checks: readonly Check[];
  readonly mistake?: NamedMistake;
  readonly stop?: Stop;
}

/** Grades dial-reading drills: a pure function of bench, actions and written sheet. */
export function gradeDialReading(
  bench: DialReadingBench,
  actions: readonly DialReadingAction[],
  sheet: DialReadingSheet,
): Grade {
  const logs = drillLogs(bench, actions);
  const graded = logs.map((log) => gradeDrill(bench, log, lineOf(sheet, log.drill)));
  const checks = graded.flatMap((one) => one.checks);
  return {
    ...scored(checks),
    outOf: POINTS,
    stops: graded.flatMap(({ stop }) => stop ?? []),
    mistakes: graded.flatMap(({ mistake }) => mistake ?? []),
    lobes: [],
    items: logs.map(({ drill }) => outcomeOf(bench, drill, lineOf(sheet, drill))),
    trace: traceOfDrills(logs),
  };
}

function lineOf(sheet: DialReadingSheet, drill: number): WrittenDrill | null {
  return sheet.drills.find((line) => line.drill === drill) ?? null;
}

function gradeDrill(bench: DialReadingBench, log: DrillLog, line: WrittenDrill | null): Graded {
  const share = 1 / bench.drills.length;
  const drill = bench.drills[log.drill - 1];
  const about = { position: log.drill, at: log.watchedAt };
  const procedure = checkWatched(log, POINTS.procedure * share);
  const worth = POINTS.reading * share;
  if (drill === undefined || line === null || line.reading === null)
    return { checks: [procedure, failed('reading', worth, { code: 'drill-not-written', ...about })] };
  if (log.watchedAt === null) {
    const reading = failed('reading', worth, { code: 'result-without-measurement', ...about });
    return {
      checks: [procedure, reading],
      mistake: { ...about, reading: null, how: 'one', mistakes: ['nothing-measured'], offGraduations: null },
      stop: { code: 'reading-without-measurement', ...about, values: { watched: false } },
    };
  }
  const { check, ...rest } = checkReading(bench, drill, log, line, worth);
  return { checks: [procedure, check], ...rest };
}

/** The movement is to be watched before its reading is written for the last time. */
function checkWatched({ drill, watchedAt, writtenAt }: DrillLog, worth: number): Check {
  if (watchedAt === null)
    return failed('procedure', worth, { code: 'movement-not-watched', position: drill, at: null });
  if (writtenAt !== null && writtenAt < watchedAt)
    return failed('procedure', worth, { code: 'written-before-watching', position: drill, at: writtenAt });
  return passed('procedure', worth);
}

function checkReading(
  bench: DialReadingBench,
  drill: Drill,
  log: DrillLog,
  line: WrittenDrill,
  worth: number,
): { check: Check; mistake?: NamedMistake; stop?: Stop } {
  const about = { position: log.drill, at: log.watchedAt };
  const { dial, movement } = drill;
  const off = ((line.reading ?? 0) - movement) / dial.graduation;
  const size = Math.abs(off);
  if (size <= 1 + HAIR) return { check: passed('reading', worth) };
  const offGraduations = Math.round(off * 10) / 10;
  const check = failed(
    'reading',
    worth,
    { code: 'drill-off', ...about, values: { offGraduations } },
    size <= 2 + HAIR ? 0.5 : 0,
  );
  const mistake = { ...about, reading: null, ...diagnoseDrill(bench, drill, line), offGraduations };
  const wholeTurns = wholeTurnsOff(drill, line.reading ?? 0);
  if (wholeTurns === 0) return { check, mistake };
  return { check, mistake, stop: { code: 'whole-turn-error', ...about, values: { wholeTurns } } };
}

/** Whole turns that a reading is off by, to two graduations; 0 where it is off by something else. The sign is another matter. */
function wholeTurnsOff({ dial, movement }: Drill, reading: number): number {
  const off = Math.abs(reading) - Math.abs(movement);
  const wholeTurns = Math.round(off / dial.rangePerTurn);
  return Math.abs(off - wholeTurns * dial.rangePerTurn) <= (2 + HAIR) * dial.graduation ? wholeTurns : 0;
}

function outcomeOf({ drills }: DialReadingBench, drill: number, line: WrittenDrill | null): ItemOutcome {
  const movement = Number((drills[drill - 1]?.movement ?? 0).toFixed(6));
  return {
    item: drill,
    truth: { reading: movement },
    trueVerdict: null,
    shown: { reading: movement },
    written: { reading: line?.reading ?? null },
    writtenVerdict: null,
    writtenNext: null,
  };
}
