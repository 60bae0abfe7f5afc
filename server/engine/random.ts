import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plusFromState } from 'pure-rand/generator/xoroshiro128plus';

/** A stream of chance for one purpose. */
export class Chance {
  readonly #generator: ReturnType<typeof xoroshiro128plusFromState>;

  /** @param state 128 bits, well mixed. */
  constructor(state: readonly [number, number, number, number]) {
    this.#generator = xoroshiro128plusFromState(state);
    // The first outputs of a freshly filled state still show the hash's structure.
    for (let skipped = 0; skipped < 8; skipped += 1) this.#generator.next();
  }

  #unit(): number {
    return uniformFloat64(this.#generator);
  }

  /** Uniform on [low, high). */
  uniform(low: number, high: number): number {
    return low + (high - low) * this.#unit();
  }

  /** Normal, cut at ±2.5 standard deviations by drawing again, so that no bench hangs on a freak. */
  normal(mean: number, sd: number): number {
    for (;;) {
      // Box and Muller's transform; 1 - u keeps the logarithm off zero.
      const z = Math.sqrt(-2 * Math.log(1 - this.#unit())) * Math.cos(2 * Math.PI * this.#unit());
      if (Math.abs(z) <= 2.5) return mean + sd * z;
    }
  }

  /** True with this probability, 0 to 1. */
  chance(probability: number): boolean {
    return this.#unit() < probability;
  }

  /** One of a list. @throws RangeError when it is empty. */
  pick<T>(items: readonly T[]): T {
    const item = items[Math.floor(this.#unit() * items.length)];
    if (item === undefined) throw new RangeError('There must be something to pick from.');
    return item;
  }

  /** The list in a drawn order; the list given is left alone. */
  shuffle<T>(items: readonly T[]): T[] {
    const left = [...items];
    const drawn: T[] = [];
    while (left.length > 0) drawn.push(...left.splice(Math.floor(this.#unit() * left.length), 1));
    return drawn;
  }
}

/**
 * The stream of a seed for a purpose. The same pair always gives the same stream, on every machine, and each purpose
 * has its own, so that a hidden condition added later draws from a new one and changes no stored bench.
 * Generator: xoroshiro128+ (pure-rand), its state filled by the hash below.
 */
export function chanceFor(seed: string | number, purpose: string): Chance {
  return new Chance(hash128(`${seed}\u0000${purpose}`));
}

/** Four 32-bit words from a text: FNV-1a started four ways, each finished by the MurmurHash3 mixer (both public domain). */
function hash128(text: string): [number, number, number, number] {
  return [
    hash32(text, 0x811c9dc5),
    hash32(text, 0x6a09e667),
    hash32(text, 0xbb67ae85),
    hash32(text, 0x3c6ef372),
  ];
}

function hash32(text: string, start: number): number {
  let h = start | 0;
  for (let i = 0; i < text.length; i += 1) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193);
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) | 0;
}
