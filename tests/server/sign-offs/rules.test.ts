import { describe, expect, it } from 'vitest';
import type { ShopWork } from '../../../server/labsheets/index.ts';
import type { Reference } from '../../../server/shop/index.ts';
import { gradeShopReading, readShopReading, type ShopReading } from '../../../server/sign-offs/reading.ts';
import { rotationOf } from '../../../server/sign-offs/rotation.ts';
import { outcomeOf } from '../../../server/sign-offs/rules.ts';
import type { StepState } from '../../../server/sign-offs/tables.ts';

const WORK: ShopWork = {
  ...{ kind: 'shop-engine', version: 1, prompts: 2, agreement: { unit: 'in', value: 0.002 } },
  steps: [
    { text: 'glasses', hold: false, alone: true },
    { text: 'power off', hold: true, alone: true },
    ...Array.from({ length: 6 }, (_, n) => ({ text: `plain ${n}`, hold: false, alone: false })),
  ],
};
const READING: ShopReading = {
  ...{ high: 0.214, back: 0, second: 0.2145, lift: 0.214, verdict: 'inside', followUp: 'return-to-service' },
  ...{ reason: '', torques: '' },
};
// The check values of common practice, no source: 0.214 in read, within 0.004 in of the specification.
const GIVEN: Parameters<typeof gradeShopReading>[1] & { readonly reference: Reference } = {
  ...{ unit: 'in', limits: { lower: 0.21, upper: 0.218 }, agreement: 0.002, graduation: 0.001 },
  reference: {
    unit: 'in',
    mean: 0.2135,
    spread: 0.001,
    expanded: 0.0015,
    k: 3,
    at: '2026-09-01T08:00:00.000Z',
  },
};
const graded = (
  over: Partial<ShopReading> = {},
  given: Partial<Parameters<typeof gradeShopReading>[1]> = {},
) => gradeShopReading({ ...READING, ...over }, { ...GIVEN, ...given });
const states = (over: Readonly<Record<number, StepState | null>> = {}) =>
  new Map(
    WORK.steps.flatMap((_, index) => {
      const state = over[index] === undefined ? 'alone' : over[index];
      return state === null ? [] : [[index, state] as const];
    }),
  );
const outcome = (over: Readonly<Record<number, StepState | null>>, reading: Partial<ShopReading> = {}) =>
  outcomeOf(WORK, states(over), { ...READING, ...reading }, graded(reading), []);

describe('passing work on a shop engine', () => {
  it('asks for nothing but what is asked for', () => {
    expect(outcome({})).toMatchObject({ passed: true, against: [] });
    expect(outcome({ 2: 'with-prompt', 3: 'with-prompt', 4: 'not-seen' }).passed).toBe(true);
  });

  it.each<[string, Readonly<Record<number, StepState | null>>, string, boolean]>([
    [
      'three prompts',
      { 2: 'with-prompt', 3: 'with-prompt', 4: 'with-prompt' },
      '3 prompts; at most 2 are allowed.',
      false,
    ],
    [
      'a prompt where it must be done alone',
      { 0: 'with-prompt' },
      'Step 1: with a prompt, and must be done alone.',
      false,
    ],
    ['an essential step not seen', { 0: 'not-seen' }, 'Step 1: not seen, and must be.', false],
    ['a step not done', { 5: 'not-done' }, 'Step 6: not done.', false],
    ['a step not ticked', { 7: null }, 'Step 8: not ticked.', false],
    ['a hold point skipped', { 1: 'not-done' }, 'Step 2: a hold point that was skipped.', true],
    ['a hold point not seen', { 1: 'not-seen' }, 'Step 2: a hold point that was not seen.', true],
    ['a hold point not ticked', { 1: null }, 'Step 2: a hold point that nobody has ticked.', true],
  ])('is refused for %s', (_, over, text, stop) => {
    const found = outcome(over);
    expect(found.passed).toBe(false);
    expect(found.against.map(({ text: said, stop: is }) => [said, is])).toEqual([[text, stop]]);
  });

  it('asks for a reading that agrees, repeats and is judged right', () => {
    const said = (reading: Partial<ShopReading>) => outcome({}, reading).against.map(({ text }) => text);
    expect(said({ lift: 0.2155 })).toEqual([]);
    expect(said({ lift: 0.2156 })).toEqual(['The lift does not lie within 0.002 in of the reference.']);
    expect(said({ lift: null })).toEqual(['No lift is written down.']);
    expect(said({ second: 0.2151 })).toEqual(['The second reading does not agree with the first.']);
    expect(said({ second: null })).toEqual(['Two readings are asked for.']);
    expect(said({ verdict: 'below' })).toEqual(['The verdict is not what the limits say.']);
    expect(outcome({}, { lift: 0.114 }).against).toMatchObject([{ stop: true }]);
  });

  it('says that all was ticked within ten seconds, and judges nobody by it', () => {
    const at = (seconds: number) => new Date(Date.UTC(2026, 8, 1, 8, 0, seconds)).toISOString();
    const ticks = (step: number) => WORK.steps.map((_, index) => at(index * step));
    const facts = (times: string[]) => outcomeOf(WORK, states(), READING, graded(), times);
    expect(facts(ticks(1))).toMatchObject({
      passed: true,
      facts: ['All steps were ticked within ten seconds.'],
    });
    expect(facts(ticks(2)).facts).toEqual([]);
  });
});

describe('a reading at a shop engine', () => {
  it('is held against the reference with its uncertainty', () => {
    expect(graded()).toMatchObject({
      agrees: true,
      difference: expect.closeTo(0.0005, 9),
      verdictRight: true,
      repeats: true,
    });
    // The difference is 0.0005 and u = 0.0015/3: by the normal distribution 99.87 % lie below +0.002, and nearly all above −0.002.
    expect(graded().probability).toBeCloseTo(0.99865, 4);
  });

  it('is explained where it does not agree: one turn of the pointer is 0.100 in', () => {
    expect(graded({ lift: 0.1135 })).toMatchObject({ agrees: false, mistake: 'missed-turn' });
    expect(graded({ lift: 0.3135 })).toMatchObject({ agrees: false, mistake: 'extra-turn' });
    expect(graded({}, { reference: null })).toMatchObject({
      agrees: null,
      mistake: null,
      verdictRight: true,
    });
  });

  it('may be judged either way where it is too close to a limit to call', () => {
    const near = { reference: { ...GIVEN.reference, mean: 0.2105 } };
    for (const verdict of ['inside', 'below', 'too-close-to-call'] as const)
      expect(graded({ lift: 0.2105, verdict }, near).verdictRight).toBe(true);
    expect(graded({ lift: 0.2105, verdict: 'above' }, near).verdictRight).toBe(false);
    expect(graded({ lift: 0.2135, verdict: 'too-close-to-call' }).verdictRight).toBe(false);
  });

  it('is read from its boxes in the engine’s unit, what is no length beside its box', () => {
    const { reading, problems } = readShopReading(
      { high: '5.4356 mm', lift: ',214', second: 'many', verdict: 'fine' },
      'in',
    );
    expect(reading).toMatchObject({ high: 0.214, lift: 0.214, second: null, verdict: null });
    expect(problems).toEqual({ second: 'Write a length in in.' });
  });
});

describe('the rotation list', () => {
  const places = ['E1', 'E2', 'E3'].map((number) => ({ number, name: number }));
  const students = Array.from({ length: 20 }, (_, n) => `student ${n + 1}`);
  const turns = rotationOf(students, places, { minutes: 25, begin: '08:00' });

  it('lets twenty students read once each at three engines in seven turns of 25 minutes', () => {
    expect(turns.map(({ from }) => from)).toEqual([
      '08:00',
      '08:25',
      '08:50',
      '09:15',
      '09:40',
      '10:05',
      '10:30',
    ]);
    expect(turns.flatMap(({ places: at }) => at.map(({ reads }) => reads))).toEqual(students);
  });

  it('never has anybody at two places at once, and always somebody to bar', () => {
    for (const { places: at } of turns) {
      const there = at.flatMap(({ reads, bars }) => [reads, bars]);
      expect(there).not.toContain(null);
      expect(new Set(there).size).toBe(there.length);
    }
  });

  it('stands without a partner where there is nobody, and without engines is empty', () => {
    expect(rotationOf(['one'], places, { minutes: 25, begin: '23:50' })).toMatchObject([
      { from: '23:50', to: '00:15', places: [{ reads: 'one', bars: null }] },
    ]);
    expect(rotationOf(students, [], { minutes: 25, begin: '08:00' })).toEqual([]);
  });
});
