import { describe, expect, it } from 'vitest';
import {
  brief,
  type FaultAnswer,
  type FaultFindingDefinition,
  type FaultFindingSheet,
  generateBench,
  gradeAttempt,
} from '../../server/engine/index.ts';
import { gaugedRemarkWords, isGaugedRemarkCode, isRemarkCode } from '../../server/web/words/index.ts';
import { type FaultHabits, observeFault } from '../support/fault-observer.ts';

const HIDDEN: readonly FaultAnswer[] = [
  ...(['tappet-hung', 'slot-off-pin', 'tappet-sticky', 'indicator-leans', 'tip-caught'] as const),
  ...(['arm-loose', 'base-loose', 'rod-loose', 'none', 'worn-lobe'] as const),
];
const seeds = (count: number) => Array.from({ length: count }, (_, seed) => seed);

function gradeOf(definition: FaultFindingDefinition, seed: number, habits: FaultHabits = {}) {
  const { bench, actions, sheet } = observeFault(definition, seed, habits);
  return { bench, sheet, grade: gradeAttempt(bench, actions, sheet) };
}

const writing = (change: Partial<FaultFindingSheet>): FaultHabits => ({
  writes: (sheet) => ({ ...sheet, ...change }),
});

describe.each(HIDDEN)('with %s hidden', { timeout: 60_000 }, (fault) => {
  const definition = { kind: 'fault-finding', level: 3, fault } as const;

  it('a careful diagnostician names it, proves it, and loses nothing', () => {
    for (const seed of seeds(2)) {
      const { grade, sheet } = gradeOf(definition, seed);
      const charged = grade.remarks.filter(({ pointsLost }) => pointsLost > 0).map(({ code }) => code);
      expect({ seed, fault: sheet.fault, charged, stops: grade.stops, total: grade.total }).toEqual({
        ...{ seed, fault, charged: [], stops: [], total: 100 },
      });
    }
  });

  it('any other name is told what the gauge would have done under it', () => {
    const other = HIDDEN.find((one) => one !== fault && one !== 'worn-lobe') ?? 'none';
    const { grade, bench } = gradeOf(definition, 1, writing({ fault: other }));
    const remark = grade.remarks.find(({ code }) => code === 'fault-not-there');
    if (remark === undefined || !isGaugedRemarkCode(remark.code))
      throw new Error('The wrong name has a remark.');
    expect(remark.values).toMatchObject({ written: other, hidden: fault });
    expect(remark.pointsLost).toBe(12);
    const { seen, why } = gaugedRemarkWords(remark, bench.dial);
    for (const text of [seen, why]) expect(text).not.toMatch(/undefined|-loose|-hung/);
  });
});

describe('fault finding', { timeout: 60_000 }, () => {
  it.each<[FaultAnswer, FaultHabits]>([
    ['indicator-leans', { leavesOut: ['look', 'correct'] }],
    ['tip-caught', { leavesOut: ['look', 'correct'] }],
  ])('gives half for %s named without the look that shows it, and says so', (fault, habits) => {
    const { grade } = gradeOf({ kind: 'fault-finding', level: 3, fault }, 2, {
      ...habits,
      ...writing({ fault }),
    });
    const remark = grade.remarks.find(({ code }) => code === 'fault-guessed');
    expect(remark?.pointsLost).toBe(6);
  });

  it('says which two cannot be told apart where the stand was never tightened', () => {
    const either = seeds(4).flatMap((seed) => {
      const habits = { leavesOut: ['tighten', 'correct'], ...writing({ fault: 'arm-loose' }) } as const;
      const { grade } = gradeOf({ kind: 'fault-finding', level: 1, fault: 'base-loose' }, seed, habits);
      return grade.remarks.filter(({ code }) => code === 'could-be-either');
    });
    expect(either.length).toBeGreaterThan(2);
    for (const { values } of either)
      expect([...(values.either as string[])].sort()).toEqual(['arm-loose', 'base-loose']);
  });

  it('asks for the measurement as found and for the one after, each once', () => {
    const definition = { kind: 'fault-finding', level: 1, fault: 'tappet-hung' } as const;
    const codes = (habits: FaultHabits) =>
      gradeOf(definition, 3, habits).grade.remarks.map(({ code }) => code);
    expect(codes({ leavesOut: ['as-found'] })).toContain('not-measured-as-found');
    const after = codes({ leavesOut: ['correct'] });
    expect(after).toContain('not-measured-after');
    expect(after).not.toContain('tappet-hung');
  });

  it('has words for every remark of a clumsy attempt, those of the set-up among them', () => {
    const clumsy: FaultHabits[] = [
      { leavesOut: ['tip', 'press', 'look', 'tighten', 'correct'] },
      { leavesOut: ['as-found'] },
      writing({ fault: null, foundHigh: null, effectGraduations: 99, next: null }),
      writing({ trueHigh: null, next: 'replace' }),
    ];
    const codes = clumsy.flatMap((habits, seed) =>
      gradeOf({ kind: 'fault-finding', level: 3 }, seed, habits).grade.remarks.map(({ code }) => code),
    );
    expect(codes.length).toBeGreaterThan(6);
    expect(codes.filter((code) => !isGaugedRemarkCode(code) && !isRemarkCode(code))).toEqual([]);
  });

  it('stops a run that returns a worn lobe to service, whatever its points', () => {
    const { grade } = gradeOf(
      { kind: 'fault-finding', level: 3, fault: 'worn-lobe' },
      0,
      writing({ fault: 'none', next: 'return-to-service' }),
    );
    expect(grade.stops.map(({ code }) => code)).toEqual(['bad-lobe-passed']);
    expect(grade.points.verdict).toBe(0);
  });

  it('stops a reading that was never taken and one that is a whole turn off', () => {
    const definition = { kind: 'fault-finding', level: 1 } as const;
    const { bench, sheet } = observeFault(definition, 5);
    expect(gradeAttempt(bench, [], sheet).stops.map(({ code }) => code)).toEqual([
      'reading-without-measurement',
    ]);
    const turnOff = gradeOf(definition, 5, {
      writes: (one) => ({ ...one, trueHigh: (one.trueHigh ?? 0) - 0.1 }),
    });
    expect(turnOff.grade.stops.map(({ code }) => code)).toEqual(['whole-turn-error']);
  });

  it('hides what its level says, offers it on the sheet, and no one answer is right every time', () => {
    for (const level of [1, 2, 3] as const) {
      const hidden = seeds(90).map((seed) => {
        const { fault, offered } = generateBench({ kind: 'fault-finding', level }, seed);
        expect(offered).toContain(fault);
        return fault;
      });
      const kinds = new Set(hidden);
      expect({ level, kinds: kinds.size, none: kinds.has('none'), worn: kinds.has('worn-lobe') }).toEqual({
        ...{ level, kinds: [4, 9, 10][level - 1], none: level >= 2, worn: level === 3 },
      });
      for (const one of kinds) expect(hidden.filter((fault) => fault === one).length).toBeLessThan(45);
    }
  });

  it('says nothing of the hidden fault in the brief, whatever is hidden', () => {
    const [one, other] = (['arm-loose', 'base-loose'] as const).map((fault) =>
      JSON.stringify(brief(generateBench({ kind: 'fault-finding', level: 2, fault }, 1))),
    );
    expect(other).toBe(one);
  });
});
