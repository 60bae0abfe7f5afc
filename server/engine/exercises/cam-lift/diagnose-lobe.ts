import { positiveRemainder } from '../../angles.ts';
import { explainReading } from '../../diagnosis/explain-reading.ts';
import type { Mistake, ShownReading } from '../../diagnosis/hypotheses.ts';
import { nameMistake } from '../../diagnosis/name-mistake.ts';
import type { NamedMistake } from '../../grading/types.ts';
import { fromMm } from '../../units.ts';
import type { CamLiftBench } from './bench.ts';
import { diagnoseSheet, isOff } from './diagnose-sheet.ts';
import {
  BLANK_READING,
  highNote,
  isFilled,
  type LobeEvidence,
  lobeLiftGraduations,
  type MatchedReading,
  shownLiftGraduations,
} from './match-readings.ts';
import type { Pass } from './passes.ts';

/**
 * Names what went wrong with a lobe's readings, and with its lift line where they do not account for it. What the whole sheet says
 * together comes first: then the lines that are off are told that, and nothing else.
 */
export function diagnoseLobe(
  bench: CamLiftBench,
  evidence: LobeEvidence,
  sheet: readonly LobeEvidence[],
): NamedMistake[] {
  const written = lobeLiftGraduations(bench, evidence);
  const shown = shownLiftGraduations(evidence);
  const liftIsOff = written !== null && shown !== null && isOff({ written, shown });
  const together = diagnoseSheet(bench, sheet);
  if (together !== null && liftIsOff) return [ofTheLine(evidence, together, written - shown)];
  const others = sheet.flatMap((lobe) =>
    lobe.position === evidence.position ? [] : (shownLiftGraduations(lobe) ?? []),
  );
  return diagnose(bench, evidence, liftIsOff, others);
}

function ofTheLine(evidence: LobeEvidence, mistake: Mistake, offGraduations: number): NamedMistake {
  const pass = evidence.readings.find((reading) => reading.pass !== null)?.pass ?? null;
  return {
    position: evidence.position,
    reading: null,
    how: 'one',
    mistakes: [mistake],
    offGraduations: tenth(offGraduations),
    at: pass?.run.points[pass.highIndex]?.at ?? null,
  };
}

function diagnose(
  bench: CamLiftBench,
  evidence: LobeEvidence,
  liftIsOff: boolean,
  others: readonly number[],
): NamedMistake[] {
  const { position, written, readings } = evidence;
  const named = readings
    .filter(isFilled)
    .flatMap((reading) => diagnoseReading(bench, position, reading, others));
  if (!liftIsOff || named.length > 0 || written.lift === null) return named;
  // Each reading is right but the lift line is not: the boxes of the first stand for it.
  const pass = readings.find((reading) => reading.pass !== null)?.pass ?? null;
  const shown = shownLiftGraduations(evidence);
  if (pass === null || shown === null) return named;
  const allFilled = readings.filter(isFilled);
  const boxes = allFilled[0]?.written ?? BLANK_READING;
  const likely = explainReading(bench.dial, shownBy(bench, pass, null, shown, others), {
    ...boxes,
    lift: written.lift,
  });
  const naming = nameMistake(likely);
  if (naming === null) return named;
  const offGraduations = written.lift / bench.dial.graduation - shown;
  return [
    {
      position,
      reading: null,
      ...naming,
      offGraduations: tenth(offGraduations),
      at: pass.run.points[pass.highIndex]?.at ?? null,
    },
  ];
}

function diagnoseReading(
  bench: CamLiftBench,
  position: number,
  reading: MatchedReading,
  others: readonly number[],
): NamedMistake[] {
  const { pass, written, writtenGraduations, number } = reading;
  if (pass === null || writtenGraduations === null) return [];
  const note = highNote(pass.run, number);
  const likely = explainReading(
    bench.dial,
    shownBy(bench, pass, note?.index ?? null, pass.keyHigh, others),
    written,
  );
  const naming = nameMistake(likely);
  if (naming === null) return [];
  const index = naming.mistakes.includes('not-the-high-point')
    ? (note?.index ?? pass.highIndex)
    : pass.highIndex;
  const at = pass.run.points[index]?.at ?? null;
  return [
    { position, reading: number, ...naming, offGraduations: tenth(writtenGraduations - pass.keyHigh), at },
  ];
}

/** What the gauge showed on a pass, in the dial's unit, as the diagnosis wants it. */
function shownBy(
  bench: CamLiftBench,
  pass: Pass,
  noteIndex: number | null,
  highGraduations: number,
  others: readonly number[],
): ShownReading {
  const { dial } = bench;
  const atZero = pass.run.points[pass.zeroing.index];
  // Written after the high point had gone by it may be from memory; only a pointer still rising tells.
  const stillRising = noteIndex !== null && noteIndex < pass.highIndex;
  const noted = stillRising ? (pass.run.points[noteIndex]?.graduations ?? null) : null;
  return {
    high: highGraduations * dial.graduation,
    preload: atZero === undefined ? null : fromMm(atZero.plungerMm, dial.unit),
    counterAtZero: atZero === undefined ? null : smallHand(dial, atZero.counterTurns),
    returned: pass.returned === null ? null : pass.returned.low * dial.graduation,
    noted: noted === null ? null : noted * dial.graduation,
    others: others.map((other) => other * dial.graduation),
  };
}

/** The small hand as it is seen: one that runs backwards shows from ten down. */
function smallHand({ counter }: CamLiftBench['dial'], counterTurns: number): number | null {
  if (counter === 'none') return null;
  return positiveRemainder(counter === 'backwards' ? -counterTurns : counterTurns, 10);
}

function tenth(value: number): number {
  return Math.round(value * 10) / 10;
}
