import { chanceFor } from '../../server/engine/random.ts';

export type Chance = ReturnType<typeof chance>;

/** Chance for a test, the same on every run: from one seed. */
export function chance(seed: number) {
  const drawn = chanceFor(seed, 'test');
  const real = () => drawn.uniform(0, 1);
  return {
    /** From 0 up to 1. */
    real,
    yes: (share: number) => real() < share,
    /** A whole number, both ends among them. */
    whole: (least: number, most: number) =>
      least + Math.min(most - least, Math.floor(real() * (most - least + 1))),
    pick: <T>(all: readonly T[]): T => all[Math.min(all.length - 1, Math.floor(real() * all.length))] as T,
  };
}
