import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  DIALS,
  type Dial,
  gradeAttempt,
  isKnown,
  learn,
  nextDrill,
  type Observation,
  observationsFrom,
  observationsFromReading,
  type ShownReading,
  SKILLS,
  type Skill,
  startLearner,
  USUAL_PARAMETERS,
  type WrittenBoxes,
} from '../../server/engine/index.ts';
import { LAW } from '../support/arbitraries/settings.ts';
import { type GaugedHabits, observeEndPlay } from '../support/gauged-observers.ts';
import { type Habits, observe, type SeenReading, writeWhatIsSeen } from '../support/observer.ts';
import { adaptive, fits, fixedPlanFor, off, slow } from './learners/study.ts';

const anySkill = fc.constantFrom(...SKILLS);
const anyDrills = fc.array(fc.record({ skill: anySkill, right: fc.boolean() }), { maxLength: 60 });
const drilled = (drills: readonly Observation[]) => drills.reduce(learn, startLearner());

describe('a learner', () => {
  it('is believed in probabilities, whatever was seen; only the skill drilled changes', () => {
    fc.assert(
      fc.property(anyDrills, anySkill, fc.boolean(), (drills, skill, right) => {
        const before = drilled(drills);
        const next = learn(before, { skill, right });
        for (const one of SKILLS) {
          expect(next.known[one]).toBeGreaterThanOrEqual(0);
          expect(next.known[one]).toBeLessThanOrEqual(1);
          if (one !== skill) expect(next.known[one]).toBe(before.known[one]);
        }
        expect(next.seen[skill]).toBe(before.seen[skill] + 1);
      }),
      LAW,
    );
  });

  it('is believed to know more after a right drill than after a wrong one', () => {
    fc.assert(
      fc.property(anyDrills, anySkill, (drills, skill) => {
        const before = drilled(drills);
        const [right, wrong] = [true, false].map((one) => learn(before, { skill, right: one }).known[skill]);
        expect(right).toBeGreaterThan(wrong ?? 1);
      }),
      LAW,
    );
  });

  it('is left alone by a drill', () => {
    const before = startLearner();
    learn(before, { skill: 'verdict', right: true });
    expect(before).toEqual(startLearner());
  });

  it('cannot be believed in what is no probability, or where being right speaks against knowing', () => {
    const verdict = USUAL_PARAMETERS.verdict;
    for (const bad of [
      { ...verdict, prior: 1.2 },
      { ...verdict, learn: -0.1 },
      { ...verdict, guess: 0.6, slip: 0.4 },
      { ...verdict, slip: Number.NaN },
    ])
      expect(() => startLearner({ ...USUAL_PARAMETERS, verdict: bad })).toThrow(RangeError);
  });
});

describe('the next drill', () => {
  it('is of a skill that is not known, easier the less it is known; none when all are', () => {
    fc.assert(
      fc.property(anyDrills, (drills) => {
        const learner = drilled(drills);
        const next = nextDrill(learner);
        if (next === null) expect(SKILLS.every((skill) => isKnown(learner, skill))).toBe(true);
        else {
          expect(isKnown(learner, next.skill)).toBe(false);
          expect(next.level).toBe(next.known < 0.5 ? 1 : next.known < 0.8 ? 2 : 3);
        }
      }),
      LAW,
    );
    const done = SKILLS.flatMap((skill) => Array.from({ length: 12 }, () => ({ skill, right: true })));
    expect(nextDrill(drilled(done))).toBeNull();
  });

  it('settles first what one drill may settle', () => {
    const nearly = drilled([{ skill: 'graduation-value', right: true }]);
    expect(nextDrill(nearly)?.skill).toBe('graduation-value');
  });
});

describe('simulated learners', () => {
  const LEARNERS = 400;

  it('know what the model says they know, and need half the drills of a fixed plan', () => {
    const result = adaptive(LEARNERS, fits, USUAL_PARAMETERS, 'test');
    expect(result.settled).toBe(1);
    expect(result.known).toBeGreaterThanOrEqual(0.95);
    const fixed = fixedPlanFor(result.known, LEARNERS, fits, 'test');
    expect(result.drillsEach / fixed).toBeLessThanOrEqual(0.5);
  });

  it.each([
    ['off', off],
    ['slow', slow],
  ] as const)('know 85 % of it where the parameters are %s', (_, truthOf) => {
    const result = adaptive(LEARNERS, truthOf, USUAL_PARAMETERS, 'test');
    expect(result.known).toBeGreaterThanOrEqual(0.85);
  });
});

describe('what an attempt says', () => {
  function said(habits: Habits = {}, seed = 3): Map<Skill, boolean[]> {
    const { bench, actions, sheet } = observe(
      { kind: 'cam-lift', tappetFaults: false, setUpFaults: false },
      seed,
      habits,
    );
    const found = new Map<Skill, boolean[]>();
    for (const { skill, right } of observationsFrom(gradeAttempt(bench, actions, sheet)))
      found.set(skill, [...(found.get(skill) ?? []), right]);
    return found;
  }
  const writes = (change: (seen: SeenReading) => Partial<ReturnType<typeof writeWhatIsSeen>>): Habits => ({
    write: (seen) => ({ ...writeWhatIsSeen(seen), ...change(seen) }),
  });

  it('speaks for every skill a good one asked for, once a lobe', () => {
    const found = said();
    expect([...found.keys()].sort()).toEqual(SKILLS.filter((skill) => skill !== 'revolution-counter').sort());
    for (const seen of found.values()) expect(seen).toEqual([true, true]);
  });

  it('speaks against the skill that a named mistake shows', () => {
    const missed = said(
      writes(({ turns, rangePerTurn, pointer, graduation }) => ({
        turns: turns - 1,
        lift: (turns - 1) * rangePerTurn + pointer * graduation,
      })),
    );
    expect(missed.get('counting-turns')).toEqual([false, false]);
    expect(missed.get('direction')).toEqual([true, true]);
    expect(said({ leavesOut: ['press'], preloadTurns: 0 }).get('zero-and-preload')).toContain(false);
    expect(said({ verdict: () => 'above' }).get('verdict')).toContain(false);
    expect(said({ stopsShortBy: 12 }).get('high-point')).toContain(false);
  });

  it('says nothing of what was not measured, and nothing of the reader where no mistake has a name', () => {
    const skipped = said({ skip: () => true });
    expect(skipped.get('counting-turns')).toBeUndefined();
    const odd = said(writes(({ rangePerTurn }) => ({ turns: 7, pointer: 61, lift: 7.3 * rangePerTurn })));
    expect(odd.get('counting-turns')).toBeUndefined();
    expect(said(writes(() => ({}))).get('counting-turns')).toEqual([true, true]);
  });
});

describe('what one reading says', () => {
  const dial = { ...DIALS['inch-0.001-1'], counter: 'forwards' as const };
  /** Two turns and fourteen, the small hand having begun at 1.3. */
  const shown = { high: 0.214, preload: 0.03, counterAtZero: 1.3 };
  const said = (written: WrittenBoxes, of: ShownReading = shown) =>
    Object.fromEntries(observationsFromReading(dial, of, written).map(({ skill, right }) => [skill, right]));

  it('speaks for what it asked for: no high point where none was looked for, no turns where there are none', () => {
    expect(said({ turns: 2, pointer: 14, lift: 0.214 })).toEqual({
      direction: true,
      interpolating: true,
      'graduation-value': true,
      'counting-turns': true,
    });
    expect(said({ lift: 0.057 }, { high: 0.057 })).not.toHaveProperty('counting-turns');
    expect(said({ lift: 0.214 }, { ...shown, noted: 0.214 })).toMatchObject({ 'high-point': true });
    expect(said({ turns: 2, pointer: 14 })).not.toHaveProperty('graduation-value');
  });

  it('says nothing where the boxes are blank', () => {
    expect(said({})).toEqual({});
    expect(said({ turns: 2, pointer: null, lift: null })).toEqual({});
    expect(said({ counterBefore: 1.3 })).toEqual({});
  });

  it('speaks against the skill a mistake shows and for the others', () => {
    expect(said({ turns: 1, pointer: 14, lift: 0.114 })).toEqual({
      direction: true,
      interpolating: true,
      'graduation-value': true,
      'counting-turns': false,
    });
    expect(said({ turns: 2, pointer: 86, lift: 0.286 })).toMatchObject({
      direction: false,
      'counting-turns': true,
    });
  });

  it('speaks of the small hand where both its boxes are written, whichever way it runs', () => {
    const reading = { turns: 2, pointer: 14, lift: 0.214 };
    const counter = (before: number, high: number, of: Dial = dial, atZero = 1.3) =>
      observationsFromReading(
        of,
        { ...shown, counterAtZero: atZero },
        { ...reading, counterBefore: before, counterHigh: high },
      ).find(({ skill }) => skill === 'revolution-counter')?.right;
    expect(counter(1.3, 3.4)).toBe(true);
    expect(counter(0, 2.1)).toBe(false);
    expect(counter(1.3, 2.1)).toBe(false);
    const backwards = { ...dial, counter: 'backwards' as const };
    expect(counter(1.3, 9.2, backwards)).toBe(true);
    expect(counter(1.3, 3.4, backwards)).toBe(false);
    // Across its own zero: 9.9 and 10.1 turns are near each other.
    expect(counter(0.1, 2, dial, 9.9)).toBe(true);
    expect(counter(1.3, 3.4, { ...dial, counter: 'none' })).toBeUndefined();
  });
});

describe('what an attempt of another kind says', () => {
  const seen = (habits: GaugedHabits) => {
    const { bench, actions, sheet } = observeEndPlay({ kind: 'end-play', level: 1 }, 5, habits);
    const found = observationsFrom(gradeAttempt(bench, actions, sheet));
    return Object.fromEntries(found.map(({ skill, right }) => [skill, right]));
  };

  it('speaks against a set-up without preload, a return not looked at, and for both otherwise', () => {
    expect(seen({})).toMatchObject({ 'zero-and-preload': true, 'return-to-zero': true, verdict: true });
    expect(seen({ preloadTurns: 0.05 })).toMatchObject({ 'zero-and-preload': false });
    expect(seen({ leavesOut: ['return'] })).toMatchObject({
      'zero-and-preload': true,
      'return-to-zero': false,
    });
  });
});
