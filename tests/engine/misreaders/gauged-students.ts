import {
  type BenchOf,
  brief,
  gradeAttempt,
  judgeBacklash,
  type KindName,
  largestStep,
  type SheetOf,
  totalReading,
} from '../../../server/engine/index.ts';
import { type Chance, chanceFor } from '../../../server/engine/random.ts';
import {
  observeBacklash,
  observeEndPlay,
  observeLiners,
  observeRunOut,
} from '../../support/gauged-observers.ts';
import type { Naming } from './gauged-count.ts';

/** Jobs with an indicator on a stand whose sheet is readings and what is worked out from them. */
export const JOBS = ['run-out', 'end-play', 'backlash', 'liner-protrusion'] as const;
export type Job = (typeof JOBS)[number];

/** A rightly measured attempt, its readings in graduations, and its sheet as it would be with other readings. */
interface Measured {
  /** What the pointer said, to half a graduation. */
  readonly right: readonly number[];
  /** What the gauge itself showed, box by box. */
  readonly shown: readonly number[];
  readonly sheetWith: (readings: readonly number[]) => unknown;
  readonly namings: (sheet: unknown) => readonly Naming[];
}

const mean = (values: readonly number[]) => values.reduce((sum, one) => sum + one, 0) / values.length;

function measuredOf<K extends KindName>(
  attempt: { bench: BenchOf<K>; actions: readonly unknown[]; sheet: SheetOf<K> },
  graduation: number,
  readings: readonly (number | null)[],
  boxes: readonly string[],
  sheetWith: (lengths: readonly number[]) => SheetOf<K>,
): Measured {
  const grade = (sheet: unknown) =>
    gradeAttempt(attempt.bench as never, attempt.actions as never, sheet as never);
  const items = grade(attempt.sheet).items ?? [];
  const shown = boxes.map((box) => {
    const [item = '1', name = ''] = box.split('/');
    return (items.find((one) => one.item === Number(item))?.shown[name] ?? 0) / graduation;
  });
  return {
    right: readings.map((reading) => (reading ?? 0) / graduation),
    shown,
    sheetWith: (values) => sheetWith(values.map((value) => value * graduation)),
    namings: (sheet) => grade(sheet).mistakes,
  };
}

const MEASURE: Readonly<Record<Job, (seed: number) => Measured>> = {
  'end-play': (seed) => {
    const attempt = observeEndPlay({ kind: 'end-play' }, seed);
    const { sheet, bench } = attempt;
    return measuredOf<'end-play'>(
      attempt,
      brief(bench).dial.graduation,
      sheet.readings,
      ['1/reading-1', '1/reading-2'],
      (readings) => ({ ...sheet, readings, endPlay: mean(readings) }),
    );
  },
  'run-out': (seed) => {
    const attempt = observeRunOut({ kind: 'run-out', subject: seed % 2 === 0 ? 'shaft' : 'housing' }, seed);
    const { sheet, bench } = attempt;
    return measuredOf<'run-out'>(
      attempt,
      brief(bench).dial.graduation,
      sheet.places.flatMap(({ highest, lowest }) => [highest, lowest]),
      sheet.places.flatMap(({ item }) => [`${item}/highest`, `${item}/lowest`]),
      (readings) => ({
        places: sheet.places.map((place, index) => {
          const [highest = 0, lowest = 0] = readings.slice(2 * index, 2 * index + 2);
          const tir = highest - lowest;
          return {
            ...place,
            highest,
            lowest,
            tir,
            eccentricity: place.eccentricity === null ? null : tir / 2,
          };
        }),
      }),
    );
  },
  backlash: (seed) => {
    const attempt = observeBacklash({ kind: 'backlash' }, seed);
    const { sheet, bench } = attempt;
    const { dial, specification, spread } = brief(bench);
    return measuredOf<'backlash'>(
      attempt,
      dial.graduation,
      sheet.teeth,
      sheet.teeth.map((_, index) => `1/tooth-${index + 1}`),
      (teeth) => ({
        ...sheet,
        teeth,
        smallest: Math.min(...teeth),
        largest: Math.max(...teeth),
        spread: totalReading(teeth),
        verdict: judgeBacklash(teeth, specification, spread, dial),
      }),
    );
  },
  'liner-protrusion': (seed) => {
    const attempt = observeLiners({ kind: 'liner-protrusion' }, seed);
    const { sheet, bench } = attempt;
    return measuredOf<'liner-protrusion'>(
      attempt,
      brief(bench).dial.graduation,
      sheet.liners.flatMap(({ points }) => points),
      sheet.liners.flatMap(({ liner, points }) => points.map((_, index) => `${liner}/point-${index + 1}`)),
      (readings) => {
        const liners = sheet.liners.map((liner, index) => {
          const points = readings.slice(4 * index, 4 * index + 4);
          return { ...liner, points, mean: mean(points), within: totalReading(points) };
        });
        return { ...sheet, liners, between: largestStep(liners.map((liner) => liner.mean)) };
      },
    );
  },
};

interface Wrong {
  readonly mistake: string;
  readonly makes: (reading: number) => number;
  /** Does it happen to one reading, or to whoever reads so all along? */
  readonly to: 'all' | 'one';
}

const ALL_ALONG: readonly Wrong[] = [
  { mistake: 'halved', makes: (reading) => reading / 2, to: 'all' },
  { mistake: 'doubled', makes: (reading) => reading * 2, to: 'all' },
  { mistake: 'decimal-place', makes: (reading) => reading * 10, to: 'all' },
  { mistake: 'decimal-place', makes: (reading) => reading / 10, to: 'all' },
  { mistake: 'inch-millimetre', makes: (reading) => reading * 25.4, to: 'all' },
];
const ONCE: readonly Wrong[] = [{ mistake: 'decimal-place', makes: (reading) => reading * 10, to: 'one' }];
const TURNED: Wrong = { mistake: 'sign-turned', makes: (reading) => -reading, to: 'all' };

const WRONGS: Readonly<Record<Job, readonly Wrong[]>> = {
  'run-out': [...ALL_ALONG, ...ONCE],
  'end-play': [...ALL_ALONG, ...ONCE, TURNED],
  backlash: [...ALL_ALONG, ...ONCE],
  'liner-protrusion': [...ALL_ALONG, ...ONCE, TURNED],
};

const BENCHES = 24;
const sofar = new Map<string, Measured>();

/** Rightly measured, once for each bench. */
function measured(job: Job, chance: Chance): Measured {
  const seed = Math.floor(chance.uniform(0, BENCHES));
  const key = `${job}/${seed}`;
  const one = sofar.get(key) ?? MEASURE[job](seed);
  sofar.set(key, one);
  return one;
}

/** A change by less than this is within what a careless eye is off by, and is nobody's mistake. */
const SEEN_FROM = 5;

/** One student with one misreading and a careful eye, in half graduations; null where nothing is off by enough to be seen. */
export function misreads(job: Job, seed: string): { truth: string; said: readonly Naming[] } | null {
  const chance = chanceFor(seed, job);
  const wrong = chance.pick(WRONGS[job]);
  const { shown, sheetWith, namings } = measured(job, chance);
  const at = Math.floor(chance.uniform(0, shown.length));
  const read = shown.map((value, index) => {
    const careful = Math.round(value + chance.uniform(-0.4, 0.4));
    const misread = wrong.to === 'all' || index === at ? wrong.makes(careful) : careful;
    return Math.round(2 * misread) / 2;
  });
  const isSeen = read.some((value, index) => Math.abs(value - (shown[index] ?? 0)) >= SEEN_FROM + 1);
  return isSeen ? { truth: wrong.mistake, said: namings(sheetWith(read)) } : null;
}

/** Names given to a student who reads with an eye like this and writes down just that. */
export function eyed(
  job: Job,
  seed: string,
  eye: (reading: number, chance: Chance) => number,
): readonly Naming[] {
  const chance = chanceFor(seed, `${job}/eye`);
  const { shown, sheetWith, namings } = measured(job, chance);
  return namings(sheetWith(shown.map((value) => eye(value, chance))));
}
