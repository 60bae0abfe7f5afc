import type { DialName } from '../../dial/dial.ts';
import { type Check, failed, passed } from '../../grading/tally.ts';
import type { CamLiftBench } from './bench.ts';
import { whyUnfit } from './draw-tray.ts';
import type { Entry } from './history.ts';

/** Share of the set-up points that goes to the gauge, where it was to be chosen. Common practice, no source. */
export const CHOICE_WORTH = 4 / 30;

/** The gauge that the last set-up was made with, else the one on the sheet; null where none was to be chosen or none was taken. */
export function gaugeUsed(
  bench: CamLiftBench,
  entries: readonly Entry[],
  onSheet: DialName | null,
): DialName | null {
  if (bench.tray.length === 0) return null;
  const setDown = entries.filter(({ action }) => action.type === 'preload').at(-1);
  return setDown?.before.gauge ?? onSheet;
}

/**
 * Was a gauge chosen that fits the lift, and does the sheet say which? Half the points each. `bench` is the bench with the gauge used.
 * The readings are judged by what that gauge showed.
 */
export function checkChoice(
  bench: CamLiftBench,
  used: DialName | null,
  onSheet: DialName | null,
  entries: readonly Entry[],
  points: number,
): Check[] {
  const chosen = entries.filter(({ action }) => action.type === 'choose-gauge').at(-1);
  const draft = { position: null, at: chosen?.at ?? null };
  if (used === null || chosen === undefined)
    return [failed('setUp', points, { ...draft, code: 'gauge-not-chosen' })];
  const why = whyUnfit(bench.dial, bench.specification);
  return [
    why === null
      ? passed('setUp', points / 2)
      : failed('setUp', points / 2, {
          ...draft,
          code: why === 'too-short' ? 'gauge-too-short' : 'gauge-too-fine',
          values: { gauge: used },
        }),
    onSheet === used
      ? passed('setUp', points / 2)
      : failed('setUp', points / 2, {
          ...draft,
          code: 'gauge-not-on-sheet',
          values: { used, written: onSheet },
        }),
  ];
}
