import type { DialName } from '../../dial/dial.ts';
import type { CamLiftBench } from './bench.ts';
import { cannot, type Step, still } from './moments.ts';
import { type CamLiftState, withoutIndicator } from './state.ts';

/** Takes a gauge from the tray; one that stands on the rod comes off first. */
export function chooseGauge(bench: CamLiftBench, state: CamLiftState, gauge: DialName): Step {
  if (bench.tray.length === 0) return cannot(bench, state, 'nothing-to-choose');
  if (!bench.tray.some(({ dialName }) => dialName === gauge)) return cannot(bench, state, 'unknown-action');
  return still(bench, { ...withoutIndicator(state), gauge }, { code: 'gauge-in-hand', gauge });
}

/** Takes a rod and tries it in the tappet: how it fits and how its end looks is seen at once. */
export function chooseRod(bench: CamLiftBench, state: CamLiftState, rod: number): Step {
  if (bench.rods.length === 0) return cannot(bench, state, 'nothing-to-choose');
  const chosen = Number.isInteger(rod) ? bench.rods[rod - 1] : undefined;
  if (chosen === undefined) return cannot(bench, state, 'unknown-action');
  const fit = chosen.rocksMm > 0 ? 'rocks' : 'snug';
  return still(bench, { ...withoutIndicator(state), rod }, { code: 'rod-in-hand', fit, end: chosen.end });
}

/** The row of the page with that letter; without a page, the one specification there is. */
export function lookUp(bench: CamLiftBench, state: CamLiftState, letter: string | undefined): Step {
  const found =
    bench.page === null
      ? { letter: null, specification: bench.specification }
      : bench.page.rows.find((row) => row.letter === letter);
  if (found === undefined) return cannot(bench, state, 'no-such-row');
  const lookedUp = [...state.lookedUp.filter((one) => one !== (found.letter ?? '')), found.letter ?? ''];
  return still(
    bench,
    { ...state, lookedUp },
    { code: 'specification', letter: found.letter, ...found.specification },
  );
}

export function tally(bench: CamLiftBench, state: CamLiftState): Step {
  const count = state.tally + 1;
  return still(bench, { ...state, tally: count }, { code: 'tallied', count });
}
