import type { Mistake } from '../../../server/engine/index.ts';
import { handAfter, type Measurement } from './job.ts';

/** Where in the work a mistake happens: looking, counting turns, reading the pointer, making the lift. */
export type Moment = 'looking' | 'turns' | 'pointer' | 'lift';

export interface Boxes {
  readonly turns: number;
  readonly pointer: number;
}

/** What a student does otherwise than rightly. Graduations; what is left out is done rightly. */
export interface Doing {
  /** What is looked at instead of the high point. */
  readonly looksAt?: number;
  /** Was it written while the pointer was still rising? */
  readonly stillRising?: boolean;
  /** Whose small hand is written: of another lobe, it is another. */
  readonly counterBefore?: number;
  readonly turns?: (right: Boxes) => number;
  readonly pointer?: (right: Boxes) => Boxes;
  readonly lift?: (reading: number) => number;
}

export interface Misreading {
  readonly mistake: Mistake;
  readonly moment: Moment;
  /** Every form it may take on this lobe; empty where it cannot happen. */
  readonly forms: (on: Measurement) => readonly Doing[];
}

const swapAt = (digits: string, at: number) =>
  Number(`${digits.slice(0, at)}${digits[at + 1]}${digits[at]}${digits.slice(at + 2)}`);
const rounded = (length: number, decimals: number) => Number(length.toFixed(decimals));

/** A length as its digits are written with this dial: 0.2135 in is 2135. */
function writtenDigits(on: Measurement): { step: number } {
  return { step: on.job.dial.graduation === 0.0005 ? 5 : 1 };
}

/**
 * What students do, told as work at the bench: from these a sheet is made, and the engine's own table is not asked. Each row is one way
 * of going wrong; a mistake that can happen at two moments has two rows.
 */
export const MISREADINGS: readonly Misreading[] = [
  {
    mistake: 'missed-turn',
    moment: 'turns',
    forms: ({ high, perTurn }) => (high >= perTurn ? [{ turns: ({ turns }) => turns - 1 }] : []),
  },
  { mistake: 'extra-turn', moment: 'turns', forms: () => [{ turns: ({ turns }) => turns + 1 }] },
  {
    mistake: 'counter-from-zero',
    moment: 'turns',
    forms: (on) => {
      if (on.counterAtZero === null) return [];
      const stands = handAfter(on, on.counterAtZero, on.high / on.perTurn);
      // One that runs backwards is read as it stands, or from ten down.
      const other =
        on.job.dial.counter === 'backwards'
          ? () => Math.floor(10 - stands)
          : ({ pointer }: Boxes) => Math.round(stands - pointer / on.perTurn);
      return [() => Math.floor(stands), other].map((turns) => ({ counterBefore: 0, turns }));
    },
  },
  {
    mistake: 'up-and-down',
    moment: 'turns',
    forms: ({ high, perTurn }) => (high >= perTurn ? [{ turns: ({ turns }) => 2 * turns }] : []),
  },
  {
    mistake: 'remainder-only',
    moment: 'turns',
    forms: ({ high, perTurn }) => (high >= perTurn ? [{ turns: () => 0 }] : []),
  },
  {
    mistake: 'remainder-only',
    moment: 'lift',
    forms: ({ high, perTurn }) => (high >= perTurn ? [{ lift: (reading) => reading % perTurn }] : []),
  },
  {
    mistake: 'wrong-way',
    moment: 'pointer',
    forms: ({ job, perTurn }) => {
      const complement: Doing = {
        pointer: ({ turns, pointer }) => ({ turns, pointer: (perTurn - pointer) % perTurn }),
      };
      // On a face numbered both ways 14 past zero and 14 short of it look alike.
      const mirrored: Doing = {
        pointer: ({ turns, pointer }) =>
          pointer <= perTurn / 2
            ? { turns: turns - 1, pointer: perTurn - pointer }
            : { turns: turns + 1, pointer: perTurn - pointer },
      };
      return job.dial.face === 'balanced' ? [complement, mirrored] : [complement];
    },
  },
  {
    mistake: 'neighbouring-numeral',
    moment: 'pointer',
    forms: ({ perTurn }) =>
      [10, -10].map((off) => ({
        pointer: ({ turns, pointer }) => ({ turns, pointer: (pointer + off + perTurn) % perTurn }),
      })),
  },
  {
    mistake: 'digits-swapped',
    moment: 'pointer',
    forms: ({ perTurn }) => [
      {
        pointer: ({ turns, pointer }) => {
          const digits = String(Math.round(pointer)).padStart(2, '0');
          const swapped = swapAt(digits, digits.length - 2);
          return { turns, pointer: swapped < perTurn ? swapped : pointer };
        },
      },
    ],
  },
  {
    mistake: 'digits-swapped',
    moment: 'lift',
    forms: (on) => {
      const { step } = writtenDigits(on);
      const length = String(Math.round(on.high * step)).length;
      return Array.from({ length: length - 1 }, (_, at) => ({
        lift: (reading: number) => {
          const digits = String(Math.round(reading * step));
          return at + 2 <= digits.length ? swapAt(digits, at) / step : reading;
        },
      }));
    },
  },
  {
    mistake: 'preload-included',
    moment: 'looking',
    forms: ({ high, preload }) => (preload === null ? [] : [{ looksAt: high + preload }]),
  },
  {
    mistake: 'preload-included',
    moment: 'lift',
    forms: ({ preload }) => (preload === null ? [] : [{ lift: (reading) => reading + Math.round(preload) }]),
  },
  {
    mistake: 'another-lobe',
    moment: 'looking',
    forms: ({ others }) => others.map((looksAt) => ({ looksAt, counterBefore: (looksAt % 7) / 5 + 0.2 })),
  },
  {
    mistake: 'not-the-high-point',
    moment: 'looking',
    // Only a lobe has one: the pointer of a drill stands still where it came to.
    forms: ({ what, high }) =>
      (what === 'drill' ? [] : [0.012, 0.03, 0.06, 0.1, 0.18, 0.3, 0.5]).map((part) => ({
        looksAt: high - Math.max(2, part * high),
        stillRising: true,
      })),
  },
  {
    mistake: 'decimal-place',
    moment: 'lift',
    forms: () => [10, 0.1, 10, 0.1, 100, 0.01].map((factor) => ({ lift: (reading) => reading * factor })),
  },
  {
    mistake: 'graduation-value',
    moment: 'lift',
    forms: () => [2, 0.5].map((factor) => ({ lift: (reading) => Math.round(reading * factor) })),
  },
  {
    mistake: 'inch-millimetre',
    moment: 'lift',
    forms: ({ job }) => {
      const { unit, graduation } = job.dial;
      const other = (reading: number) =>
        unit === 'in' ? rounded(reading * graduation * 25.4, 2) : rounded((reading * graduation) / 25.4, 4);
      return [{ lift: (reading) => other(reading) / graduation }];
    },
  },
  {
    mistake: 'arithmetic',
    moment: 'lift',
    forms: ({ perTurn }) =>
      [-perTurn, perTurn, 10, -10, 20, -20, 30, 3, -3, 7, -7, 13, 41, -27].map((off) => ({
        lift: (reading) => reading + off,
      })),
  },
];
