import type { NamedMistake } from '../../../server/engine/index.ts';
import type { Chance } from '../../../server/engine/random.ts';

export type Naming = Pick<NamedMistake, 'how' | 'mistakes'>;

/** How a student's one mistake was named, over many students. */
export interface NamedCount {
  readonly attempts: number;
  /** Share named so and nothing else. */
  readonly named: number;
  /** Share named so, or one of “either … or …”, or left open, and nothing else named. */
  readonly amongThem: number;
  /** Truth and what was said where it was something else, with how often. */
  readonly others: ReadonlyMap<string, number>;
}

/** Counts namings: a sheet counts as named when its mistakes name the truth, and no other alone. */
export function countNamings(
  students: Iterable<{ truth: string; said: readonly Naming[] } | null>,
): NamedCount {
  let [attempts, named, among] = [0, 0, 0];
  const others = new Map<string, number>();
  for (const student of students) {
    if (student === null) continue;
    const { truth, said } = student;
    attempts += 1;
    const alone = said.filter(({ how }) => how === 'one').map(({ mistakes }) => mistakes[0]);
    const rightly = alone.includes(truth) && alone.every((mistake) => mistake === truth);
    const either = said.some(({ how, mistakes }) => how === 'either' && mistakes.includes(truth));
    if (rightly) named += 1;
    if (rightly || (either && alone.every((mistake) => mistake === truth))) among += 1;
    else {
      const key = `${truth}: ${said.map(({ how, mistakes }) => `${how} ${mistakes.join('|')}`).join(', ') || 'nothing'}`;
      others.set(key, (others.get(key) ?? 0) + 1);
    }
  }
  return { attempts, named: named / attempts, amongThem: among / attempts, others };
}

/** An eye that errs normally with this spread, in graduations; uncut, as the tails are what matters. */
export function erringEye(sd: number): (reading: number, chance: Chance) => number {
  return (reading, chance) => {
    const z =
      Math.sqrt(-2 * Math.log(1 - chance.uniform(0, 1))) * Math.cos(2 * Math.PI * chance.uniform(0, 1));
    return Math.round(reading + sd * z);
  };
}

/** An eye that is right within a graduation. */
export function rightEye(reading: number, chance: Chance): number {
  return chance.pick([Math.floor(reading), Math.ceil(reading), reading + chance.uniform(-0.99, 0.99)]);
}

/** Share of so many students of whom a mistake is named. */
export function shareNamed(count: number, namings: (seed: string) => readonly Naming[]): number {
  const accused = Array.from({ length: count }, (_, n) => namings(`eye ${n}`)).filter((said) =>
    said.some(({ how }) => how !== 'unexplained'),
  );
  return accused.length / count;
}
