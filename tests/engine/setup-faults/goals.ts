import type { Told } from './measure.ts';
import { KINDS } from './population.ts';

/** A share that must be reached, or must not be passed. Common practice, no source. */
export interface Goal {
  readonly what: string;
  readonly atLeast?: number;
  readonly atMost?: number;
  readonly share: (told: readonly Told[]) => number;
}

/** Graduations: a fault that moves a reading by more must be named. */
const EFFECT = 2;

export function isLarge({ run }: Told): boolean {
  return run.effect > EFFECT || run.kind === 'backed-up';
}

/** Which part of the stand gave way the gauge alone cannot say: "the arm or the base" is all that can be named. */
export function isNamed({ run, said, diagnosis }: Told): boolean {
  const stand = run.kind === 'arm-loose' || run.kind === 'base-loose';
  const armOrBase = diagnosis.faults.every((fault) => fault === 'arm-loose' || fault === 'base-loose');
  return said === 'named' || (stand && said === 'either' && armOrBase);
}

const share = (told: readonly Told[], fits: (one: Told) => boolean) =>
  told.filter(fits).length / Math.max(1, told.length);
const counted = (told: readonly Told[]) =>
  told.filter((one) => one.run.kind !== 'nothing' && one.tellable && isLarge(one));

export const GOALS: readonly Goal[] = [
  {
    what: 'faults of more than two graduations: named',
    atLeast: 0.95,
    share: (told) => share(counted(told), isNamed),
  },
  ...KINDS.filter((kind) => kind !== 'backed-up-on-base').map((kind) => ({
    what: `${kind}: named`,
    atLeast: 0.85,
    share: (told: readonly Told[]) =>
      share(
        counted(told).filter(({ run }) => run.kind === kind),
        isNamed,
      ),
  })),
  {
    what: 'nothing wrong: a fault named all the same',
    atMost: 0.02,
    share: (told) =>
      share(
        told.filter(({ run }) => run.kind === 'nothing'),
        ({ said }) => said === 'wrong',
      ),
  },
  {
    what: 'what cannot be told: said to be so',
    atLeast: 0.95,
    share: (told) =>
      share(
        told.filter(({ run, tellable }) => run.kind !== 'nothing' && !tellable),
        ({ said }) => said === 'untold',
      ),
  },
];

export function isReached({ atLeast = 0, atMost = 1 }: Goal, reached: number): boolean {
  return reached >= atLeast && reached <= atMost;
}
