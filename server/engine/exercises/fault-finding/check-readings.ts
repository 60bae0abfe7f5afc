import { graduationsPerTurn } from '../../dial/dial.ts';
import { type Check, failed, passed } from '../../grading/tally.ts';
import { FULL_POINTS, type Stop } from '../../grading/types.ts';
import type { CamLiftBench } from '../cam-lift/bench.ts';
import type { Pass } from '../cam-lift/passes.ts';
import type { FaultFindingSheet } from './types.ts';

/** Passes over the lobe with the fault there, and without it. */
export interface Shown {
  readonly found: readonly Pass[];
  readonly after: readonly Pass[];
  readonly position: number;
  /** Was an indicator ever set there? */
  readonly any: boolean;
}

/** Shares of the reading points. Common practice, no source. */
const WORTH = { foundHigh: 8 / 30, foundReturn: 4 / 30, trueHigh: 10 / 30, effect: 8 / 30 };
/** Graduations: a difference of two readings may be out by more than one reading. */
const EFFECT_WITHIN = 1.5;

/** Readings are judged against what their own gauge showed; the effect against the readings written. */
export function checkReadings(
  { dial }: CamLiftBench,
  { found, after, position, any }: Shown,
  sheet: FaultFindingSheet,
): { readonly checks: readonly Check[]; readonly stops: readonly Stop[] } {
  const stops: Stop[] = [];
  const perTurn = graduationsPerTurn(dial);
  const points = FULL_POINTS.reading;
  const inGraduations = (length: number | null) => (length === null ? null : length / dial.graduation);
  const judged = (
    box: string,
    length: number | null,
    shown: readonly { readonly low: number; readonly high: number }[],
    worth: number,
  ): Check => {
    const written = inGraduations(length);
    const fail = (code: string, met = 0, values = {}) =>
      failed('reading', points * worth, { code, position, at: null, values: { box, ...values } }, met);
    if (written === null) return fail('result-not-written');
    const nearest = shown
      .map(({ low, high }) => distance(written, low, high))
      .sort((a, b) => Math.abs(a) - Math.abs(b))[0];
    if (nearest === undefined) {
      stops.push({ code: 'reading-without-measurement', position, at: null, values: { barred: any } });
      return fail('result-never-shown');
    }
    const off = Math.abs(nearest);
    if (off <= 1 + 1e-6) return passed('reading', points * worth);
    const wholeTurns = Math.round(nearest / perTurn);
    if (wholeTurns !== 0 && Math.abs(nearest - wholeTurns * perTurn) <= 2)
      stops.push({ code: 'whole-turn-error', position, at: null, values: { wholeTurns } });
    return fail('result-off', off <= 2 + 1e-6 ? 0.5 : 0, { offGraduations: Math.round(nearest) });
  };
  const highs = (passes: readonly Pass[]) => passes.map(({ high }) => ({ low: high, high }));
  const checks = [
    judged('found-high', sheet.foundHigh, highs(found), WORTH.foundHigh),
    judged(
      'found-return',
      sheet.foundReturn,
      found.flatMap(({ returned }) => returned ?? []),
      WORTH.foundReturn,
    ),
    judged('true-high', sheet.trueHigh, highs(after), WORTH.trueHigh),
    checkEffect(
      [sheet.foundHigh, sheet.foundReturn, sheet.trueHigh].map(inGraduations),
      sheet.effectGraduations,
      position,
      points * WORTH.effect,
    ),
  ];
  return { checks, stops: stops.slice(0, 1) };
}

/** How far a number lies outside a stretch, with its sign; 0 inside. */
function distance(value: number, low: number, high: number): number {
  return value < low ? value - low : value > high ? value - high : 0;
}

/** The effect is the larger of what the fault did to the high reading and to the return, whichever way, as they were written. */
function checkEffect(
  [foundHigh = null, foundReturn = null, trueHigh = null]: readonly (number | null)[],
  effect: number | null,
  position: number,
  worth: number,
): Check {
  const fail = (code: string, met = 0, values = {}) =>
    failed('reading', worth, { code, position, at: null, values: { box: 'effect', ...values } }, met);
  if (effect === null) return fail('result-not-written');
  if (foundHigh === null || trueHigh === null) return fail('result-from-nothing');
  const right = Math.max(Math.abs(foundHigh - trueHigh), Math.abs(foundReturn ?? 0));
  const offGraduations = Math.round(Math.abs(effect) - right);
  const off = Math.abs(Math.abs(effect) - right);
  if (off <= EFFECT_WITHIN + 1e-6) return passed('reading', worth);
  return fail('result-not-worked-out', off <= 2 * EFFECT_WITHIN ? 0.5 : 0, { offGraduations });
}
