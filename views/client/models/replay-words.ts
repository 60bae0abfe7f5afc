import type { ReplayShown } from './replay.ts';

/** The travel from zero as one would read it, or why there is none. */
export function travelWords(shown: ReplayShown): string {
  if (!shown.on) return 'gauge off';
  if (shown.travel === null) return 'no zero';
  const decimals = (String(shown.dial.graduation).split('.')[1]?.length ?? 0) + 1;
  const size = Math.abs(shown.travel).toFixed(decimals);
  return `${shown.travel < 0 && Number(size) !== 0 ? '−' : ''}${size} ${shown.dial.unit}`;
}

/** `2 + 14.0`: whole turns rounded down, and graduations past them. Before a zero only the pointer means anything. */
export function turnsWords(shown: ReplayShown): string {
  if (!shown.on) return '';
  const pointer = shown.pointer.toFixed(1);
  if (!shown.zeroed) return pointer;
  return `${shown.turns < 0 ? '−' : ''}${Math.abs(shown.turns)} + ${pointer}`;
}
