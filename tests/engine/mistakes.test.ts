import { describe, expect, it } from 'vitest';
import {
  brief,
  type CamLiftBrief,
  type CamLiftDefinition,
  type Grade,
  gradeAttempt,
  type Mistake,
  type WrittenReading,
} from '../../server/engine/index.ts';
import { LONG_DIALS } from '../support/arbitraries/cam-lift.ts';
import {
  type Habits,
  type ObservedAttempt,
  observe,
  type SeenReading,
  writeSheet,
  writeWhatIsSeen,
} from '../support/observer.ts';

const SEEDS = Array.from({ length: 4 }, (_, seed) => 300 + seed);
const attempts = new Map<string, ObservedAttempt>();

/** The same barring serves every mistake made on paper. */
function observed(definition: CamLiftDefinition, seed: number, habits: Habits = {}): ObservedAttempt {
  const key = JSON.stringify([definition, seed, habits]);
  const attempt = attempts.get(key) ?? observe(definition, seed, habits);
  attempts.set(key, attempt);
  return attempt;
}

type Write = (seen: SeenReading, right: WrittenReading) => WrittenReading;

interface Case {
  readonly mistake: Mistake;
  readonly name: string;
  readonly write: Write;
  /** Mistakes that put the same on the sheet for this reading. */
  readonly sameSheet?: (seen: SeenReading) => readonly Mistake[];
  readonly habits?: Habits;
  /** Readings on which the mistake shows at all. */
  readonly shows?: (seen: SeenReading) => boolean;
}

const withTurns = (seen: SeenReading, right: WrittenReading, turns: number): WrittenReading => ({
  ...right,
  turns,
  lift: turns * seen.rangePerTurn + seen.pointer * seen.graduation,
});
const liftTimes =
  (factor: number): Write =>
  (_, right) => ({ ...right, lift: (right.lift ?? 0) * factor });
const onlyTheLift =
  (write: Write): Write =>
  (seen, right) => ({ ...write(seen, right), turns: null, pointer: null });
/** Small hand as it stands at the high point, brought to the nearest turn the pointer allows. */
const turnsFromZero = (seen: SeenReading) => Math.round(seen.counterHigh - seen.pointer / seen.perTurn);

const CASES: Case[] = [
  {
    mistake: 'missed-turn',
    name: 'a turn missed',
    write: (seen, right) => withTurns(seen, right, seen.turns - 1),
    sameSheet: ({ turns }) => (turns === 1 ? ['remainder-only'] : []),
  },
  {
    mistake: 'extra-turn',
    name: 'a turn too many',
    write: (seen, right) => withTurns(seen, right, seen.turns + 1),
    sameSheet: (seen) => [
      ...(Math.floor(seen.counterHigh) !== seen.turns ? (['counter-from-zero'] as const) : []),
      ...(seen.turns === 1 ? (['up-and-down'] as const) : []),
    ],
  },
  {
    mistake: 'remainder-only',
    name: 'only what the pointer shows',
    write: (seen, right) => withTurns(seen, right, 0),
    // Of one turn, none counted is one turn missed.
    shows: ({ turns }) => turns > 1,
  },
  {
    mistake: 'counter-from-zero',
    name: 'the small hand read from zero, its start left at nothing',
    write: (seen, right) => ({ ...withTurns(seen, right, turnsFromZero(seen)), counterBefore: 0 }),
    habits: { preloadTurns: 1.5 },
  },
  {
    mistake: 'counter-from-zero',
    name: 'the small hand read from zero, its start left blank',
    write: (seen, right) => ({ ...withTurns(seen, right, turnsFromZero(seen)), counterBefore: null }),
    sameSheet: () => ['extra-turn'],
    habits: { preloadTurns: 1.5 },
    // Of one turn, up and down is a third that leaves this sheet, and then nothing can be named.
    shows: ({ turns }) => turns > 1,
  },
  { mistake: 'decimal-place', name: 'the point one place to the right', write: liftTimes(10) },
  { mistake: 'decimal-place', name: 'the point one place to the left', write: liftTimes(0.1) },
  {
    mistake: 'decimal-place',
    name: 'the point one place to the right and no boxes',
    write: onlyTheLift(liftTimes(10)),
  },
  {
    mistake: 'decimal-place',
    name: 'the point one place to the left and no boxes',
    write: onlyTheLift(liftTimes(0.1)),
    // Pointer and a tenth of the lift may stand close together.
    sameSheet: nearTenth,
    shows: isNoTie,
  },
  {
    mistake: 'arithmetic',
    name: 'the boxes right and the sum wrong by 13 graduations',
    write: (seen, right) => ({ ...right, lift: (right.lift ?? 0) + 13 * seen.graduation }),
  },
  {
    mistake: 'arithmetic',
    name: 'the boxes right and the sum wrong by a whole turn',
    write: (seen, right) => ({ ...right, lift: (right.lift ?? 0) - seen.rangePerTurn }),
    // Of one turn that leaves the pointer alone.
    shows: ({ turns }) => turns > 1,
  },
  {
    mistake: 'not-the-high-point',
    name: 'written 6 short of the high point',
    write: (_, right) => right,
    habits: { stopsShortBy: 6 },
  },
  {
    mistake: 'not-the-high-point',
    name: 'written 30 short of the high point',
    write: (_, right) => right,
    habits: { stopsShortBy: 30 },
  },
  {
    mistake: 'not-the-high-point',
    name: 'written 12 short of the high point, with no note of when',
    write: (_, right) => right,
    sameSheet: () => ['neighbouring-numeral'],
    habits: { stopsShortBy: 12, takesNoNotes: true },
  },
];

function nearTenth(seen: SeenReading): readonly Mistake[] {
  const tenth = (seen.turns * seen.perTurn + seen.pointer) / 10;
  return Math.abs(tenth - seen.pointer) <= 2.5 ? ['remainder-only'] : [];
}

/** On a lift of one turn a missed turn, the remainder and a tenth of it all may come to the same: then nothing can be named. */
function isNoTie(seen: SeenReading): boolean {
  return seen.turns !== 1 || nearTenth(seen).length === 0;
}

function gradeWith(attempt: ObservedAttempt, write: Write): Grade {
  const { plate } = attempt;
  const sheet = writeSheet(plate, attempt.seen, { write: (seen) => write(seen, writeWhatIsSeen(seen)) });
  return gradeAttempt(attempt.bench, attempt.actions, sheet);
}

describe.each(LONG_DIALS)('a student who makes one mistake, on %s', (dial) => {
  it.each(CASES)(
    'is told of $mistake: $name',
    ({ mistake, write, sameSheet = () => [], habits = {}, shows = () => true }) => {
      for (const seed of SEEDS) {
        const attempt = observed({ kind: 'cam-lift', dial }, seed, habits);
        const grade = gradeWith(attempt, write);
        for (const { position, readings } of attempt.seen) {
          for (const [index, seen] of readings.entries()) {
            if (!shows(seen)) continue;
            const named = grade.mistakes.find(
              (one) => one.position === position && one.reading === index + 1,
            );
            const where = `seed ${seed}, position ${position}, reading ${index + 1}: ${JSON.stringify(named)}`;
            expect(named?.mistakes, where).toContain(mistake);
            if (named?.how === 'either') {
              const other = named.mistakes.find((one) => one !== mistake) as Mistake;
              expect(sameSheet(seen), where).toContain(other);
            } else expect(named?.how, where).toBe('one');
          }
        }
      }
    },
  );

  it('with a whole turn wrong, loses the reading and is stopped', () => {
    for (const seed of SEEDS.slice(0, 4)) {
      const attempt = observed({ kind: 'cam-lift', dial }, seed);
      const grade = gradeWith(attempt, (seen, right) => withTurns(seen, right, seen.turns + 1));
      expect(grade.points.reading).toBe(0);
      expect(new Set(grade.stops.map(({ code }) => code))).toContain('whole-turn-error');
      expect(grade.stops.find(({ code }) => code === 'whole-turn-error')?.values).toEqual({ wholeTurns: 1 });
    }
  });

  it('filling a line in without measuring is told so, never guessed at from the numbers', () => {
    for (const seed of SEEDS.slice(0, 4)) {
      const { bench, actions, sheet } = observe({ kind: 'cam-lift', dial }, seed, {
        skip: (position) => position === first(bench0(dial, seed)),
      });
      const grade = gradeAttempt(bench, actions, sheet);
      const position = first(brief(bench));
      expect(grade.mistakes.filter((one) => one.position === position)).toEqual([
        {
          position,
          reading: null,
          how: 'one',
          mistakes: ['nothing-measured'],
          offGraduations: null,
          at: null,
        },
      ]);
      expect(grade.stops.map(({ code }) => code)).toContain('reading-without-measurement');
      expect(grade.points.reading).toBe(15);
    }
  });

  it('reading within one graduation is never accused', () => {
    for (const seed of SEEDS.slice(0, 2)) {
      const attempt = observed({ kind: 'cam-lift', dial }, seed);
      for (const { position } of attempt.seen) {
        for (const within of [-0.99, -0.5, 0.5, 0.99]) {
          // So many graduations from what the gauge showed on that pass.
          const shown =
            gradeAttempt(attempt.bench, attempt.actions, attempt.sheet).lobes.find(
              (lobe) => lobe.position === position,
            )?.shown ?? [];
          const lines = attempt.sheet.lobes.map((line) => {
            if (line.position !== position) return line;
            const readings = line.readings.map((reading, index) => ({
              ...reading,
              turns: null,
              pointer: null,
              lift: (shown[index] ?? 0) + within * (attempt.seen[0]?.readings[0]?.graduation ?? 0),
            }));
            return { ...line, readings, lift: null };
          });
          const grade = gradeAttempt(attempt.bench, attempt.actions, { lobes: lines });
          expect(grade.mistakes).toEqual([]);
          expect(grade.points.reading).toBe(30);
        }
      }
    }
  });
});

const bench0 = (dial: CamLiftDefinition['dial'] & string, seed: number): CamLiftBrief =>
  brief(observed({ kind: 'cam-lift', dial: dial as never }, seed).bench);
const first = (plate: CamLiftBrief): number => plate.positions[0] ?? 0;
