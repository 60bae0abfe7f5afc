import { explainReading } from '../../diagnosis/explain-reading.ts';
import type { ShownReading } from '../../diagnosis/hypotheses.ts';
import { nameMistake } from '../../diagnosis/name-mistake.ts';
import { graduationsPerTurn } from '../../dial/dial.ts';
import { type Check, failed, passed } from '../../grading/tally.ts';
import type { NamedMistake, Stop } from '../../grading/types.ts';
import { fromMm } from '../../units.ts';
import type { CamLiftBench } from './bench.ts';
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

export interface ReadingResult {
  readonly checks: readonly Check[];
  readonly mistakes: readonly NamedMistake[];
  readonly stops: readonly Stop[];
}

/** Binary rounding of a length divided by its graduation. */
const HAIR = 1e-6;

/**
 * The lobe's reading against what its own gauge showed: within one graduation full points, two half, else none. A good
 * reading of a bad set-up is still a good reading. Points: common practice, no source.
 */
export function checkReading(bench: CamLiftBench, evidence: LobeEvidence, points: number): ReadingResult {
  const { position } = evidence;
  const lift = lobeLiftGraduations(bench, evidence);
  const shown = shownLiftGraduations(evidence);
  if (lift === null) {
    return {
      checks: [failed('reading', points, { code: 'lift-not-written', position, at: null })],
      mistakes: [],
      stops: [],
    };
  }
  if (shown === null) return nothingMeasured(evidence, points);
  const off = lift - shown;
  const size = Math.abs(off);
  const mistakes = diagnose(bench, evidence, size > 1 + HAIR);
  if (size <= 1 + HAIR) return { checks: [passed('reading', points)], mistakes, stops: [] };
  const at = evidence.readings.find(({ pass }) => pass !== null)?.pass ?? null;
  const highAt = at === null ? null : (at.run.points[at.highIndex]?.at ?? null);
  const perTurn = graduationsPerTurn(bench.dial);
  const wholeTurns = Math.round(off / perTurn);
  const isWholeTurn = wholeTurns !== 0 && Math.abs(off - wholeTurns * perTurn) <= 2 + HAIR;
  const values = { offGraduations: Math.round(off * 10) / 10, wholeTurns: isWholeTurn ? wholeTurns : 0 };
  const check = failed(
    'reading',
    points,
    { code: 'reading-off', position, at: highAt, values },
    size <= 2 + HAIR ? 0.5 : 0,
  );
  const stops: Stop[] = isWholeTurn
    ? [{ code: 'whole-turn-error', position, at: highAt, values: { wholeTurns } }]
    : [];
  return { checks: [check], mistakes, stops };
}

function nothingMeasured(evidence: LobeEvidence, points: number): ReadingResult {
  const { position, run } = evidence;
  const at = run?.at ?? null;
  const values = { barred: run !== null };
  return {
    checks: [failed('reading', points, { code: 'nothing-measured', position, at, values })],
    mistakes: [
      { position, reading: null, how: 'one', mistakes: ['nothing-measured'], offGraduations: null, at },
    ],
    stops: [{ code: 'reading-without-measurement', position, at, values }],
  };
}

/** Names what went wrong with each reading, and with the lift line where the readings do not account for it. */
function diagnose(bench: CamLiftBench, evidence: LobeEvidence, liftIsOff: boolean): NamedMistake[] {
  const { position, written, readings } = evidence;
  const named = readings.filter(isFilled).flatMap((reading) => diagnoseReading(bench, position, reading));
  if (!liftIsOff || named.length > 0 || written.lift === null) return named;
  // Each reading is right but the lift line is not: the boxes of the first stand for it.
  const pass = readings.find((reading) => reading.pass !== null)?.pass ?? null;
  const shown = shownLiftGraduations(evidence);
  if (pass === null || shown === null) return named;
  const allFilled = readings.filter(isFilled);
  const boxes = allFilled[0]?.written ?? BLANK_READING;
  const likely = explainReading(bench.dial, shownBy(bench, pass, null, shown), {
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

function diagnoseReading(bench: CamLiftBench, position: number, reading: MatchedReading): NamedMistake[] {
  const { pass, written, writtenGraduations, number } = reading;
  if (pass === null || writtenGraduations === null) return [];
  const note = highNote(pass.run, number);
  const likely = explainReading(bench.dial, shownBy(bench, pass, note?.index ?? null, pass.keyHigh), written);
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
): ShownReading {
  const { dial } = bench;
  const atZero = pass.run.points[pass.zeroing.index];
  // Written after the high point had gone by it may be from memory; only a pointer still rising tells.
  const stillRising = noteIndex !== null && noteIndex < pass.highIndex;
  const noted = stillRising ? (pass.run.points[noteIndex]?.graduations ?? null) : null;
  return {
    high: highGraduations * dial.graduation,
    preload: atZero === undefined ? null : fromMm(atZero.plungerMm, dial.unit),
    counterAtZero: atZero === undefined || dial.counter === 'none' ? null : atZero.counterTurns,
    returned: pass.returned === null ? null : pass.returned.low * dial.graduation,
    noted: noted === null ? null : noted * dial.graduation,
  };
}

function tenth(value: number): number {
  return Math.round(value * 10) / 10;
}
