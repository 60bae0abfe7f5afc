import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plusFromState } from 'pure-rand/generator/xoroshiro128plus';

/** A stream of chance for one purpose. */
export interface Chance {
  /** Uniform on [low, high). */
  uniform(low: number, high: number): number;
  /** Normal, cut at ±2.5 standard deviations by drawing again, so that no bench hangs on a freak. */
  normal(mean: number, sd: number): number;
  /** True with this probability, 0 to 1. */
  chance(probability: number): boolean;
  /** One of a list that must not be empty. */
  pick<T>(items: readonly [T, ...T[]] | readonly T[]): T;
  /** The list in a drawn order; the list given is left alone. */
  shuffle<T>(items: readonly T[]): T[];
}

/**
 * The stream of a seed for a purpose. The same pair always gives the same stream, on every machine, and each purpose
 * has its own, so that a hidden condition added later draws from a new one and changes no stored bench.
 * Generator: xoroshiro128+ (pure-rand), its state filled by the hash below.
 */
export function chanceFor(seed: string | number, purpose: string): Chance {
  const generator = xoroshiro128plusFromState(hash128(`${seed}\u0000${purpose}`));
  // The first outputs of a freshly filled state still show the hash's structure.
  for (let skipped = 0; skipped < 8; skipped += 1) generator.next();
  const unit = () => uniformFloat64(generator);
  const pick = <T>(items: readonly T[]): T => {
    const item = items[Math.floor(unit() * items.length)];
    if (item === undefined) throw new Error('pick needs at least one item');
    return item;
  };
  return {
    uniform: (low, high) => low + (high - low) * unit(),
    normal: (mean, sd) => {
      for (;;) {
        // Box and Muller's transform; 1 - u keeps the logarithm off zero.
        const z = Math.sqrt(-2 * Math.log(1 - unit())) * Math.cos(2 * Math.PI * unit());
        if (Math.abs(z) <= 2.5) return mean + sd * z;
      }
    },
    chance: (probability) => unit() < probability,
    pick,
    shuffle: <T>(items: readonly T[]): T[] => {
      const left = [...items];
      const drawn: T[] = [];
      while (left.length > 0) {
        drawn.push(...left.splice(Math.floor(unit() * left.length), 1));
      }
      return drawn;
    },
  };
}

/** Four 32-bit words from a text: FNV-1a started four ways, each finished by the MurmurHash3 mixer (both public domain). */
function hash128(text: string): [number, number, number, number] {
  const word = (start: number): number => {
    let h = start;
    for (let i = 0; i < text.length; i += 1) {
      h = Math.imul(h ^ text.charCodeAt(i), 0x01000193);
    }
    h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
    h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
    return (h ^ (h >>> 16)) | 0;
  };
  return [word(0x811c9dc5 | 0), word(0x6a09e667 | 0), word(0xbb67ae85 | 0), word(0x3c6ef372 | 0)];
}
