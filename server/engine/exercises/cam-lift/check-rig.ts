import { type Check, failed, passed } from '../../grading/tally.ts';
import { toMm } from '../../units.ts';
import { type CamLiftBench, lobeAt, rigAt, trueLiftMm } from './bench.ts';
import type { Run, Zeroing } from './history.ts';
import type { Pass } from './passes.ts';
import { looseNow } from './state.ts';

/** Did the indicator stand in line with the bore? A lean is charged only where it costs a graduation on this lobe. */
export function checkSquare(bench: CamLiftBench, run: Run, zeroing: Zeroing | null, worth: number): Check {
  const { position } = run;
  const state = zeroing?.state ?? run.entries.at(-1)?.step.state;
  const factor = state?.indicator?.factor ?? 1;
  const graduationMm = toMm(bench.dial.graduation, bench.dial.unit);
  const offGraduations = (trueLiftMm(lobeAt(bench, position)) * (factor - 1)) / graduationMm;
  if (Math.abs(offGraduations) < 1) return passed('setUp', worth);
  const { leanDeg, tipInHole } = rigAt(bench, position, state?.rod ?? null);
  const values = {
    leanDeg: Math.round(leanDeg),
    tipInHole,
    offGraduations: Math.round(offGraduations * 10) / 10,
  };
  return failed('setUp', worth, { code: 'indicator-leans', position, at: run.at, values });
}

/** Were arm, base and rod firm when the lobe came up? */
export function checkFirm(
  bench: CamLiftBench,
  run: Run,
  zeroing: Zeroing | null,
  pass: Pass | null,
  worth: number,
): Check {
  const upAt = pass === null ? undefined : run.points[pass.from]?.at;
  const entry = run.entries.find(({ at }) => at === upAt) ?? run.entries.at(-1);
  const loose = entry === undefined ? null : looseNow(bench, entry.before);
  if (loose === null) return passed('setUp', worth);
  const code = loose === 'rod' ? 'rod-loose' : 'stand-loose';
  const values = { part: loose };
  return failed('setUp', worth, { code, position: run.position, at: zeroing?.at ?? run.at, values });
}
