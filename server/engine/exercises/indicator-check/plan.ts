import { calibrationTurns } from '../../dial/certificate.ts';
import type { Dial } from '../../dial/dial.ts';

/**
 * Travels to look at, in the dial's unit, rising from 0. One turn of the travel is left: half for the preload, half at the top.
 * Whole: where JIS B 7503:2017 looks. Short: every tenth over the first turn, then every turn to 10, every five beyond; enough to see
 * each kind of error there is here, and half an hour's work. Common practice, no source.
 */
export function planFor(dial: Dial, plan: 'short' | 'whole'): number[] {
  const last = Math.floor((dial.travel / dial.rangePerTurn - 1) * 10 + 1e-9) / 10;
  const turns =
    plan === 'whole'
      ? calibrationTurns(dial)
      : Array.from({ length: 500 }, (_, n) => (n < 10 ? n / 10 : n - 9));
  const used = turns.filter(
    (turn) => turn <= last + 1e-9 && (plan === 'whole' || turn <= 10 || turn % 5 === 0),
  );
  // A short travel ends between turns: its last place is looked at too.
  const places = (used.at(-1) ?? 0) < last - 0.4 ? [...used, last] : used;
  return places.map((turn) => Number((turn * dial.rangePerTurn).toFixed(6)));
}
