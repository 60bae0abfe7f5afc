import { type Check, failed, passed } from '../../grading/tally.ts';
import { type CamLiftBench, rollerAt } from './bench.ts';
import type { LobeEvidence } from './match-readings.ts';
import { rollerVerdictFor } from './roller.ts';

/**
 * The roller's own verdict: right, and found by looking. A verdict that is right without a look counts by half.
 * `lookedAt`: pump positions whose roller was looked at.
 */
export function checkRoller(
  bench: CamLiftBench,
  { position, written }: LobeEvidence,
  lookedAt: ReadonlySet<number>,
  worth: number,
): Check {
  const roller = rollerAt(bench, position);
  const right = rollerVerdictFor(roller);
  const fail = (code: string, met = 0) =>
    failed('verdict', worth, { code, position, at: null, values: { condition: roller.condition } }, met);
  if ((written.roller ?? null) === null) return fail('roller-not-written');
  if (written.roller !== right) return fail(right === 'sound' ? 'roller-condemned' : 'roller-passed');
  return lookedAt.has(position) ? passed('verdict', worth) : fail('roller-not-looked-at', 0.5);
}
