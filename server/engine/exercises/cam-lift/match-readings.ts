import type { CamLiftBench } from './bench.ts';
import type { Run } from './history.ts';
import type { Pass } from './passes.ts';
import type { WrittenLobe, WrittenReading } from './types.ts';

/** One reading on the sheet and the pass of the gauge it was taken from. */
export interface MatchedReading {
  /** 1 or 2. */
  readonly number: number;
  readonly written: WrittenReading;
  /** The lift as written, in graduations: the lift box, or turns and pointer added up; null when blank. */
  readonly writtenGraduations: number | null;
  /** Null when nothing was measured. */
  readonly pass: Pass | null;
}

export interface LobeEvidence {
  readonly position: number;
  readonly written: WrittenLobe;
  readonly runs: readonly Run[];
  readonly passes: readonly Pass[];
  readonly readings: readonly MatchedReading[];
  /** The run the readings came from: of the last matched pass, or the last one there is. */
  readonly run: Run | null;
}

export const BLANK_READING: WrittenReading = {
  counterBefore: null,
  counterHigh: null,
  turns: null,
  pointer: null,
  lift: null,
  returned: null,
};

/** Gathers what the log holds for a lobe on the sheet. */
export function evidenceFor(
  bench: CamLiftBench,
  runs: readonly Run[],
  allPasses: readonly Pass[],
  written: WrittenLobe,
): LobeEvidence {
  const own = runs.filter((run) => run.position === written.position);
  const passes = allPasses.filter((pass) => pass.run.position === written.position);
  const readings: MatchedReading[] = [];
  for (const number of [1, 2]) {
    const boxes = written.readings[number - 1] ?? BLANK_READING;
    const taken = readings.map(({ pass }) => pass);
    readings.push(matchReading(bench, own, passes, taken, number, boxes));
  }
  const matched = readings.filter(isFilled).flatMap(({ pass }) => (pass === null ? [] : [pass]));
  const lastRun = matched
    .map(({ run }) => run)
    .sort((a, b) => a.at - b.at)
    .at(-1);
  return {
    position: written.position,
    written,
    runs: own,
    passes,
    readings,
    run: lastRun ?? own.at(-1) ?? null,
  };
}

/** Was anything written that claims a reading? */
export function isFilled({ written }: MatchedReading): boolean {
  return written.lift !== null || written.pointer !== null || written.turns !== null;
}

/**
 * Which pass a reading was taken from: one whose high point it says, within a graduation or else within two; else the one gone
 * through when it was written down; else passes in order. No pass stands for two readings while another is left. A reading of
 * an earlier set-up is still a reading of it.
 */
function matchReading(
  bench: CamLiftBench,
  runs: readonly Run[],
  passes: readonly Pass[],
  taken: readonly (Pass | null)[],
  number: number,
  written: WrittenReading,
): MatchedReading {
  const writtenGraduations = liftGraduations(bench, written);
  const result = (pass: Pass | null): MatchedReading => ({ number, written, writtenGraduations, pass });
  const free = passes.filter((pass) => !taken.includes(pass));
  const choices = free.length > 0 ? free : passes;
  const noted = passAtNote(runs, passes, number);
  const saying = (within: number) =>
    choices.filter(
      (pass) => writtenGraduations !== null && Math.abs(pass.keyHigh - writtenGraduations) <= within + 1e-6,
    );
  for (const near of [saying(1), saying(2)]) {
    if (near.length > 0)
      return result(
        noted !== null && near.includes(noted) ? noted : (near.at(number === 1 ? 0 : -1) ?? null),
      );
  }
  if (noted !== null && choices.includes(noted)) return result(noted);
  return result(choices[Math.min(number - 1, choices.length - 1)] ?? null);
}

/** The pass being gone through, or last gone through, when the reading's boxes were first written. */
function passAtNote(runs: readonly Run[], passes: readonly Pass[], number: number): Pass | null {
  for (const run of runs) {
    const note = highNote(run, number);
    if (note === undefined) continue;
    const begun = passes.filter((pass) => pass.run === run && pass.from <= note.index);
    const last = begun.at(-1);
    if (last !== undefined) return last;
  }
  return null;
}

/** First time in a run that something was written of a reading's high point. */
export function highNote(run: Run, number: number) {
  return run.notes.find(
    (note) => note.reading === number && ['turns', 'pointer', 'lift', 'counterHigh'].includes(note.box),
  );
}

/** A reading's lift in graduations: the lift box, or turns and pointer added up. */
export function liftGraduations(bench: CamLiftBench, written: WrittenReading): number | null {
  const { dial } = bench;
  if (written.lift !== null) return written.lift / dial.graduation;
  if (written.turns === null || written.pointer === null) return null;
  return (written.turns * dial.rangePerTurn) / dial.graduation + written.pointer;
}

/** The lobe's lift as written, in graduations: the lift line, or the mean of the readings; null when all are blank. */
export function lobeLiftGraduations(bench: CamLiftBench, evidence: LobeEvidence): number | null {
  const { written, readings } = evidence;
  if (written.lift !== null) return written.lift / bench.dial.graduation;
  const lifts = readings.flatMap(({ writtenGraduations }) =>
    writtenGraduations === null ? [] : [writtenGraduations],
  );
  return lifts.length === 0 ? null : lifts.reduce((sum, lift) => sum + lift, 0) / lifts.length;
}

/** What the gauge showed for the lobe, in graduations: the mean over the passes its readings were taken from. */
export function shownLiftGraduations(evidence: LobeEvidence): number | null {
  const filled = evidence.readings.filter(isFilled);
  const from = (filled.length > 0 ? filled : evidence.readings).flatMap(({ pass }) =>
    pass === null ? [] : [pass],
  );
  const passes = [...new Set(from)];
  return passes.length === 0 ? null : passes.reduce((sum, pass) => sum + pass.keyHigh, 0) / passes.length;
}
