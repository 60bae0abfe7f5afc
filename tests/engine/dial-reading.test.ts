import { describe, expect, it } from 'vitest';
import {
  brief,
  type DialReadingDefinition,
  generateBench,
  gradeAttempt,
  graduationsPerTurn,
  lookAt,
  startBench,
  type WrittenDrill,
} from '../../server/engine/index.ts';
import { drillMistakeWords, drillStopWords } from '../../server/web/words/index.ts';
import { observeDialReading } from '../support/dial-reader.ts';

const seeds = (count: number) => Array.from({ length: count }, (_, seed) => seed);
const drillsAt = (definition: Omit<DialReadingDefinition, 'kind'>, count = 60) =>
  seeds(count).flatMap((seed) => [
    ...generateBench({ kind: 'dial-reading', drills: 20, ...definition }, seed).drills,
  ]);

describe('the levels of the drills', () => {
  const turnsOf = ({ movement, dial }: ReturnType<typeof drillsAt>[number]) => movement / dial.rangePerTurn;

  it('go in, up to two turns, small hand from zero, at the first', () => {
    for (const drill of drillsAt({ level: 1 })) {
      expect(turnsOf(drill)).toBeGreaterThan(0.2);
      expect(turnsOf(drill)).toBeLessThanOrEqual(2);
      expect(drill.dial.counterAtZero).toBeCloseTo(0, 9);
      expect([drill.dial.face, drill.dial.counter]).toEqual(['continuous', 'forwards']);
    }
  });

  it('go both ways, up to four turns, small hand not at zero, at the second', () => {
    const drills = drillsAt({ level: 2 });
    for (const drill of drills) {
      expect(Math.abs(turnsOf(drill))).toBeLessThanOrEqual(4);
      expect(drill.dial.counterAtZero).toBeGreaterThan(0.3);
      expect(drill.dial.face).toBe('continuous');
      const off = Math.abs(turnsOf(drill) - Math.round(turnsOf(drill)));
      expect(off).toBeGreaterThan(0.09);
    }
    const outwards = drills.filter(({ movement }) => movement < 0).length / drills.length;
    expect(outwards).toBeGreaterThan(0.4);
    expect(outwards).toBeLessThan(0.6);
  });

  it('use every face, small hand and unit, up to seven turns and often near zero, at the third', () => {
    const drills = drillsAt({ level: 3 });
    const share = (is: (drill: (typeof drills)[number]) => boolean) =>
      drills.filter(is).length / drills.length;
    expect(Math.max(...drills.map((drill) => Math.abs(turnsOf(drill))))).toBeGreaterThan(6);
    expect(Math.max(...drills.map((drill) => Math.abs(turnsOf(drill))))).toBeLessThanOrEqual(7);
    for (const found of [
      share(({ dial }) => dial.face === 'balanced'),
      share(({ dial }) => dial.counter === 'backwards'),
      share(({ dial }) => dial.counter === 'none'),
      share(({ dial }) => dial.unit === 'mm'),
      share((drill) => Math.abs(turnsOf(drill) - Math.round(turnsOf(drill))) <= 0.1),
    ]) {
      expect(found).toBeGreaterThan(0.25);
      expect(found).toBeLessThan(0.7);
    }
    expect(new Set(drills.map(({ dialName }) => dialName)).size).toBe(18);
  });

  it('stay a quarter turn inside the travel at both ends, and two graduations off a whole turn', () => {
    for (const level of [1, 2, 3] as const)
      for (const { dial, movement } of drillsAt({ level })) {
        for (const place of [dial.plungerAtZero, dial.plungerAtZero + movement]) {
          expect(place / dial.rangePerTurn).toBeGreaterThanOrEqual(0.25 - 1e-9);
          expect((dial.travel - place) / dial.rangePerTurn).toBeGreaterThanOrEqual(0.25 - 1e-9);
        }
        const turns = movement / dial.rangePerTurn;
        const off = Math.abs(turns - Math.round(turns)) * graduationsPerTurn(dial);
        expect(off).toBeGreaterThanOrEqual(2 - 1e-6);
      }
  });

  it('keep to the dial, face and unit asked for, and refuse what there is not', () => {
    for (const { dial } of drillsAt({ unit: 'mm', face: 'balanced' }, 5))
      expect([dial.unit, dial.face]).toEqual(['mm', 'balanced']);
    for (const { dialName } of drillsAt({ level: 3, dial: 'metric-0.01-5' }, 5))
      expect(dialName).toBe('metric-0.01-5');
    for (const drills of [0, 21, 1.5])
      expect(() => generateBench({ kind: 'dial-reading', drills }, 1)).toThrow(RangeError);
    expect(() => generateBench({ kind: 'dial-reading', dial: 'metric-0.01-5', unit: 'in' }, 1)).toThrow(
      RangeError,
    );
  });

  it('show nothing of the movement before it is watched', () => {
    for (const seed of seeds(40)) {
      const bench = generateBench({ kind: 'dial-reading', level: 3 }, seed);
      const still = { ...bench, drills: bench.drills.map((drill) => ({ ...drill, movement: 0 })) };
      expect(lookAt(bench, startBench(bench))).toEqual(lookAt(still, startBench(still)));
      expect(brief(bench)).toEqual(brief(still));
    }
  });
});

/** A line changed on an otherwise careful sheet of one drill with three turns or more, on many benches. */
function misread(
  definition: Omit<DialReadingDefinition, 'kind'>,
  change: (line: WrittenDrill, range: number, graduation: number) => Partial<WrittenDrill>,
) {
  return seeds(80).flatMap((seed) => {
    const { bench, actions, sheet } = observeDialReading(
      { kind: 'dial-reading', level: 2, drills: 1, ...definition },
      seed,
    );
    const [line, drill] = [sheet.drills[0], bench.drills[0]];
    if (line === undefined || drill === undefined || (line.turns ?? 0) < 3) return [];
    const { rangePerTurn, graduation } = drill.dial;
    const changed = { ...line, ...change(line, rangePerTurn, graduation) };
    return [{ grade: gradeAttempt(bench, actions, { drills: [changed] }), drill }];
  });
}

/** The reading that goes with turns and pointer, in the direction of the right one. */
const added = (
  line: WrittenDrill,
  turns: number,
  pointer: number,
  range: number,
  graduation: number,
): Partial<WrittenDrill> => ({
  turns,
  pointer,
  reading: Math.sign(line.reading ?? 1) * (turns * range + pointer * graduation),
});

describe('a misread drill', () => {
  type Change = Parameters<typeof misread>[1];
  const turnsBy =
    (by: (turns: number) => number): Change =>
    (line, range, graduation) =>
      added(line, by(line.turns ?? 0), line.pointer ?? 0, range, graduation);
  const pointerBy =
    (by: (pointer: number, perTurn: number) => number): Change =>
    (line, range, graduation) =>
      added(line, line.turns ?? 0, by(line.pointer ?? 0, Math.round(range / graduation)), range, graduation);

  it.each<[string, Change, string, boolean]>([
    ['a turn not counted', turnsBy((turns) => turns - 1), 'missed-turn', true],
    ['a turn too many', turnsBy((turns) => turns + 1), 'extra-turn', true],
    ['no turns at all', turnsBy(() => 0), 'remainder-only', true],
    ['twice the turns', turnsBy((turns) => 2 * turns), 'up-and-down', true],
    ['the face the other way', pointerBy((pointer, perTurn) => perTurn - pointer), 'wrong-way', false],
    ['the next numeral', pointerBy((pointer) => pointer - 10), 'neighbouring-numeral', false],
    ['the point', (line) => ({ reading: (line.reading ?? 0) / 10 }), 'decimal-place', false],
    ['plus for minus', (line) => ({ reading: -(line.reading ?? 0) }), 'sign-turned', false],
  ])('is told so: %s', (_, change, mistake, stops) => {
    const all = misread({ dial: 'inch-0.001-1' }, change);
    expect(all.length).toBeGreaterThan(15);
    const told = all.filter(({ grade }) => grade.mistakes.some(({ mistakes }) => mistakes.includes(mistake)));
    // One in ten may look like another mistake too, or be too near to right to be one at all.
    expect(told.length / all.length).toBeGreaterThanOrEqual(0.9);
    for (const { grade, drill } of told) {
      expect(grade.points.reading).toBe(0);
      expect(grade.stops.map(({ code }) => code)).toEqual(stops ? ['whole-turn-error'] : []);
      for (const one of grade.mistakes)
        expect(drillMistakeWords(one).seen).toMatch(/^It looks as if [a-z].*\.$/);
      for (const stop of grade.stops)
        expect(drillStopWords(stop, drill.dial).seen).toMatch(/turns? of the pointer/);
    }
  });

  it.each(['inch-0.001-1-backwards', 'metric-0.01-10', 'inch-0.001-1'] as const)(
    'is told that the small hand of %s was read as if from zero, in and out',
    (dial) => {
      const all = misread({ dial }, (line, range, graduation) => {
        const turns = Math.floor(line.counterAfter ?? 0);
        return { counterBefore: 0, ...added(line, turns, line.pointer ?? 0, range, graduation) };
      }).filter(({ grade }) => grade.points.reading === 0);
      const named = all.filter(({ grade }) =>
        grade.mistakes.some(({ mistakes }) => mistakes.includes('counter-from-zero')),
      );
      expect(all.length).toBeGreaterThan(10);
      expect(all.some(({ drill }) => drill.movement < 0)).toBe(true);
      expect(all.some(({ drill }) => drill.movement > 0)).toBe(true);
      expect(named.length / all.length).toBeGreaterThanOrEqual(0.95);
    },
  );

  it('is told both where plus is minus and a turn is missed', () => {
    const all = misread({ dial: 'metric-0.01-10' }, (line, range, graduation) => {
      const missed = added(line, (line.turns ?? 0) - 1, line.pointer ?? 0, range, graduation);
      return { ...missed, reading: -(missed.reading ?? 0) };
    });
    const told = all.filter(({ grade }) => grade.mistakes[0]?.mistakes.join() === 'sign-turned,missed-turn');
    expect(told.length / all.length).toBeGreaterThan(0.9);
    for (const { grade } of told)
      expect(grade.mistakes.map((one) => drillMistakeWords(one).seen).join()).toMatch(/ as well\.$/);
  });

  it('is right within one graduation, half right within two, and never accused when right', () => {
    for (const [by, points] of [
      [0.9, 90],
      [1.9, 45],
      [3, 0],
    ] as const) {
      const { bench, actions, sheet } = observeDialReading({ kind: 'dial-reading', drills: 20 }, 7);
      const drills = sheet.drills.map((line, index) => ({
        ...line,
        reading: (bench.drills[index]?.movement ?? 0) + by * (bench.drills[index]?.dial.graduation ?? 0),
      }));
      const grade = gradeAttempt(bench, actions, { drills });
      expect(grade.points.reading).toBeCloseTo(points, 6);
      expect(grade.mistakes).toHaveLength(points === 90 ? 0 : 20);
    }
  });
});

describe('drills that were not read', () => {
  const definition = { kind: 'dial-reading', level: 2 } as const;

  it('stop the run where a reading is written and the movement was not watched, even a right one', () => {
    const { bench, sheet } = observeDialReading(definition, 3);
    const grade = gradeAttempt(bench, [], sheet);
    expect(grade.total).toBe(0);
    expect(grade.stops.map(({ code }) => code)).toEqual(
      Array.from({ length: 5 }, () => 'reading-without-measurement'),
    );
    for (const stop of grade.stops)
      expect(drillStopWords(stop, bench.drills[0]?.dial ?? raise()).seen).toMatch(/never watched/);
  });

  it('give no reading points for a blank sheet, and none for one number guessed everywhere', () => {
    for (const seed of seeds(30)) {
      const { bench, actions } = observeDialReading(definition, seed);
      const blank = gradeAttempt(bench, actions, { drills: [] });
      expect(blank.points).toEqual({ setUp: 0, procedure: 10, reading: 0, verdict: 0 });
      expect(blank.stops).toEqual([]);
      const guessed = bench.drills.map(({ dial }, index) => ({
        ...{ drill: index + 1, turns: null, pointer: null, counterBefore: null, counterAfter: null },
        reading: 2.37 * dial.rangePerTurn,
      }));
      expect(gradeAttempt(bench, actions, { drills: guessed }).total).toBeLessThan(50);
    }
  });

  it('cost their procedure where the reading was written before the movement was watched', () => {
    const { bench, actions, sheet } = observeDialReading(definition, 4);
    const notes = actions.filter(({ type }) => type === 'note');
    const others = actions.filter(({ type }) => type !== 'note');
    const grade = gradeAttempt(bench, [...notes, ...others], sheet);
    expect(grade.points).toEqual({ setUp: 0, procedure: 0, reading: 90, verdict: 0 });
    expect(new Set(grade.remarks.map(({ code }) => code))).toEqual(new Set(['written-before-watching']));
  });

  it('keep points that add up to 100', () => {
    const { bench, actions, sheet } = observeDialReading(definition, 5);
    const { outOf, total } = gradeAttempt(bench, actions, sheet);
    expect(Object.values(outOf).reduce((sum, points) => sum + points, 0)).toBe(100);
    expect(total).toBe(100);
  });
});

function raise(): never {
  throw new Error('A bench has a drill.');
}
