import { shortWay } from '../client/models/interpolate.ts';

/** Where the pointer went since the bezel was zeroed, in graduations counted on over whole turns. */
export interface Tally {
  readonly pointer: number;
  /** From zero; null before a zero was taken. */
  readonly now: number | null;
  readonly highest: number;
  readonly lowest: number;
}

export function startTally(pointer: number): Tally {
  return { pointer, now: null, highest: 0, lowest: 0 };
}

/** The bezel was turned to zero under the pointer. */
export function zeroTally(pointer: number): Tally {
  return { pointer, now: 0, highest: 0, lowest: 0 };
}

/** Counts on. Samples lie at most a quarter turn apart, so the short way from one to the next is the true one. */
export function tallyOn(tally: Tally, pointers: readonly number[], graduations: number): Tally {
  let { pointer, now, highest, lowest } = tally;
  for (const next of pointers) {
    if (now !== null) {
      now += shortWay(pointer, next, graduations);
      highest = Math.max(highest, now);
      lowest = Math.min(lowest, now);
    }
    pointer = next;
  }
  return { pointer, now, highest, lowest };
}

/** A minus sign as it is printed. */
export const signed = (text: string) => text.replace('-', '−');
