import { createHash } from 'node:crypto';

/** A stream of chance for one asking of one question. */
export interface Draw {
  /** A whole number from low to high, both included. */
  whole(low: number, high: number): number;
}

/**
 * The stream that belongs to a seed: the same seed always gives the same numbers, on every machine. Each number is 32 bits of
 * SHA-256 over the seed and a count, so that neighbouring seeds have nothing in common.
 */
export function drawFrom(seed: string): Draw {
  let count = 0;
  return {
    whole(low, high) {
      count += 1;
      const bits = createHash('sha256').update(`${seed}\u0000${count}`).digest().readUInt32BE(0);
      return low + Math.floor((bits / 2 ** 32) * (high - low + 1));
    },
  };
}
