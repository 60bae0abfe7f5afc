import { graduationsPerTurn } from '../../dial/dial.ts';
import { type Check, failed, passed } from '../../grading/tally.ts';
import type { NamedMistake, Stop } from '../../grading/types.ts';
import type { CamLiftBench } from './bench.ts';
import { diagnoseLobe } from './diagnose-lobe.ts';
import { type LobeEvidence, lobeLiftGraduations, shownLiftGraduations } from './match-readings.ts';

export interface ReadingResult {
  readonly checks: readonly Check[];
  readonly mistakes: readonly NamedMistake[];
  readonly stops: readonly Stop[];
}

/** Binary rounding of a length divided by its graduation. */
const HAIR = 1e-6;

/**
 * The lobe's reading against what its own gauge showed: within one graduation full points, two half, else none. A good
 * reading of a bad set-up is still a good reading. Points: common practice, no source. `sheet`: all lobes that were asked for.
 */
export function checkReading(
  bench: CamLiftBench,
  evidence: LobeEvidence,
  points: number,
  sheet: readonly LobeEvidence[] = [evidence],
): ReadingResult {
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
  const mistakes = diagnoseLobe(bench, evidence, sheet);
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
