import type { Mistake } from '../../diagnosis/hypotheses.ts';
import type { CamLiftBench } from './bench.ts';
import { type LobeEvidence, lobeLiftGraduations, shownLiftGraduations } from './match-readings.ts';

/** One lobe as it stands on the sheet and as its gauge showed it, in graduations. */
interface Line {
  readonly position: number;
  readonly written: number;
  readonly shown: number;
}

/** Within this many graduations a line says what a gauge showed. */
const AGREES_WITHIN = 1 + 1e-6;

/**
 * What the lines of a sheet say together that no single one can: all of them exactly double or half is the value of a graduation;
 * all of them right but on each other's lines is firing order written in cylinder order, where that is the order they stand in, and
 * else other lobes' lines. Null where they say none of it; two lines at least.
 */
export function diagnoseSheet(bench: CamLiftBench, lobes: readonly LobeEvidence[]): Mistake | null {
  const lines = lobes.flatMap((lobe): Line[] => {
    const written = lobeLiftGraduations(bench, lobe);
    const shown = shownLiftGraduations(lobe);
    return written === null || shown === null ? [] : [{ position: lobe.position, written, shown }];
  });
  if (lines.length < 2) return null;
  if ([2, 0.5].some((factor) => allAre(lines, factor))) return 'graduation-value';
  if (lines.length < lobes.length || lines.filter(isOff).length < 2) return null;
  if (isInFiringOrder(bench, lines)) return 'firing-order';
  return areExchanged(lines) ? 'another-lobe' : null;
}

/** An error of reading grows with the factor. */
function allAre(lines: readonly Line[], factor: number): boolean {
  const within = Math.max(factor, 1) * AGREES_WITHIN;
  return lines.every(({ written, shown }) => Math.abs(written - factor * shown) <= within);
}

function isInFiringOrder({ firingOrder }: CamLiftBench, lines: readonly Line[]): boolean {
  const asMeasured = firingOrder.flatMap(
    (cylinder) => lines.find(({ position }) => position === cylinder) ?? [],
  );
  const asWritten = [...lines].sort((a, b) => a.position - b.position);
  return asWritten.every(({ written }, row) => agree(written, asMeasured[row]?.shown));
}

/** Each line says what a gauge showed, every gauge once: in order of size they agree. */
function areExchanged(lines: readonly Line[]): boolean {
  const shown = lines.map((line) => line.shown).sort((a, b) => a - b);
  const written = lines.map((line) => line.written).sort((a, b) => a - b);
  return written.every((one, row) => agree(one, shown[row]));
}

function agree(written: number, shown = Number.NaN): boolean {
  return Math.abs(written - shown) <= AGREES_WITHIN;
}

export function isOff({ written, shown }: { readonly written: number; readonly shown: number }): boolean {
  return Math.abs(written - shown) > AGREES_WITHIN;
}
