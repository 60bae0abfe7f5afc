import { describe, expect, it } from 'vitest';
import {
  fitnessOf,
  referenceIn,
  referenceOf,
  referenceState,
  type ShopGauge,
} from '../../../server/shop/index.ts';

const AT = '2026-09-01T08:00:00.000Z';

describe('a reference of three set-ups', () => {
  it('is their mean, with the uncertainty of a mean of three and of reading the dial', () => {
    const { mean, spread, expanded, k } = referenceOf(
      { unit: 'in', readings: [0.213, 0.214, 0.215], at: AT },
      0.001,
    );
    expect(mean).toBeCloseTo(0.214, 12);
    expect(spread).toBeCloseTo(0.002, 12);
    // By hand: s = 0.001, s/√3 = 0.00057735; reading 0.0005/√3 = 0.00028868; u = 0.00064550.
    const u = Math.sqrt(0.001 ** 2 / 3 + 0.0005 ** 2 / 3);
    expect(expanded / k).toBeCloseTo(u, 12);
    // Welch–Satterthwaite: u⁴ / ((s/√3)⁴ / 2) = 3.125, cut to 3; t of 95 % with 3 degrees of freedom is 3.18 (GUM table G.2).
    expect(k).toBeCloseTo(3.182, 3);
  });

  it('is the same in the other unit', () => {
    const inches = referenceOf({ unit: 'in', readings: [0.213, 0.214, 0.215], at: AT }, 0.001);
    const metric = referenceIn(inches, 'mm');
    expect(metric.mean).toBeCloseTo(5.4356, 10);
    expect(metric.expanded / metric.mean).toBeCloseTo(inches.expanded / inches.mean, 12);
  });

  it.each([
    ['holds on the day', 0.002, null, '2026-09-01T08:00:00.000Z', 'holds'],
    ['holds for 30 days', 0.002, null, '2026-10-01T08:00:00.000Z', 'holds'],
    ['and not a minute longer', 0.002, null, '2026-10-01T08:01:00.000Z', 'too-old'],
    ['does not hold with a wide spread', 0.0021, null, AT, 'spread-too-wide'],
    [
      'does not hold after work on the engine',
      0.001,
      '2026-09-02T08:00:00.000Z',
      '2026-09-03T08:00:00.000Z',
      'worked-on',
    ],
    ['holds after work that came before it', 0.001, '2026-08-31T08:00:00.000Z', AT, 'holds'],
  ])('%s', (_, spread, workedOnAt, now, state) => {
    expect(referenceState({ unit: 'in', spread, at: AT }, workedOnAt, now)).toBe(state);
  });

  it('takes 0.214 and 0.216 for two thousandths apart', () => {
    const { spread } = referenceOf({ unit: 'in', readings: [0.214, 0.216, 0.215], at: AT }, 0.001);
    expect(referenceState({ unit: 'in', spread, at: AT }, null, AT)).toBe('holds');
  });
});

describe('whether a gauge may be used', () => {
  const gauge: ShopGauge = {
    ...{
      id: 1,
      kind: 'indicator',
      number: 'G1',
      what: '0 to 1 in',
      graduation: 0.001,
      unit: 'in',
      archivedAt: null,
    },
    ...{ whenOverdue: 'block', checkedOn: '2026-01-10', dueOn: '2027-01-10', passed: true },
  };
  it.each([
    ['in date', {}, '2027-01-10', 'free'],
    ['a day overdue, blocked', {}, '2027-01-11', 'block'],
    ['a day overdue, with a warning', { whenOverdue: 'warn' as const }, '2027-01-11', 'warn'],
    ['never checked', { checkedOn: null, dueOn: null, passed: null }, '2026-01-01', 'block'],
    ['failed, whatever was set', { whenOverdue: 'warn' as const, passed: false }, '2026-02-01', 'block'],
  ])('%s', (_, over, day, use) => {
    expect(fitnessOf({ ...gauge, ...over }, day).use).toBe(use);
  });
});
