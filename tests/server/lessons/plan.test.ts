import { describe, expect, it } from 'vitest';
import { dayOf, moved, type PlanRow, planned, together, withOwn } from '../../../server/lessons/plan.ts';
import { readPlan } from '../../../server/lessons/plan-form.ts';

const TODAY = '2026-11-26';
const row = (key: string, releaseOn: string | null = null, hidden = false): PlanRow => ({
  key,
  releaseOn,
  hidden,
});
const told = (plan: ReturnType<typeof planned>) => plan.map(({ key, open }) => `${key} ${open}`);

describe('the course of a section', () => {
  it('is the course as it ships while nobody has said anything', () => {
    expect(told(planned(['a', 'b'], [], TODAY))).toEqual(['a true', 'b true']);
  });

  it('opens a lesson on its day, not before, and never one left out', () => {
    const rows = [row('a', '2026-11-27'), row('b', TODAY), row('c', '2026-01-01', true)];
    expect(told(planned(['a', 'b', 'c'], rows, TODAY))).toEqual(['a false', 'b true', 'c false']);
  });

  it('puts what an upgrade brought at the end, and forgets what it took away', () => {
    expect(told(planned(['a', 'b', 'new'], [row('b'), row('gone'), row('a')], TODAY))).toEqual([
      'b true',
      'a true',
      'new true',
    ]);
  });

  it('holds an instructor’s own lesson only where it was put in', () => {
    expect(told(planned(['a', 'own-1'], [], TODAY))).toEqual(['a true']);
    expect(told(planned(['a', 'own-1'], [row('own-1'), row('a')], TODAY))).toEqual(['own-1 true', 'a true']);
  });

  it('lets a student of two sections read what either has opened, and else names the earlier day', () => {
    const one = planned(
      ['a', 'b', 'c'],
      [row('a', '2026-12-24'), row('b', '2026-12-24'), row('c', null, true)],
      TODAY,
    );
    const other = planned(['a', 'b', 'c'], [row('b', '2026-12-01'), row('a'), row('c', null, true)], TODAY);
    const both = together([one, other]);
    expect(told(both)).toEqual(['a true', 'b false']);
    expect(both[1]?.releaseOn).toBe('2026-12-01');
  });

  it('puts a version of ours where ours stood, which is left out from then on, and any other last', () => {
    const rows = [row('a'), row('b', '2026-12-01'), row('c')];
    expect(withOwn(rows, 'own-1', 'b')).toEqual([
      row('a'),
      row('own-1', '2026-12-01'),
      row('b', '2026-12-01', true),
      row('c'),
    ]);
    expect(withOwn(rows, 'own-1', null).at(-1)).toEqual(row('own-1'));
    expect(withOwn(rows, 'a', 'b')).toBe(rows);
  });

  it('moves a lesson a place, and nothing past the ends', () => {
    const rows = [row('a'), row('b'), row('c')];
    const keys = (moving: readonly PlanRow[]) => moving.map(({ key }) => key).join('');
    expect(keys(moved(rows, 'c', -1))).toBe('acb');
    expect(keys(moved(rows, 'a', -1))).toBe('abc');
    expect(keys(moved(rows, 'c', 1))).toBe('abc');
    expect(keys(moved(rows, 'z', 1))).toBe('abc');
  });

  it('counts days in UTC', () => {
    expect(dayOf(new Date('2026-11-26T23:59:59Z'), 'UTC')).toBe('2026-11-26');
    expect(dayOf(new Date('2026-11-26T23:59:59Z'), 'Pacific/Auckland')).toBe('2026-11-27');
    expect(dayOf(new Date('2026-11-27T05:00:00Z'), 'America/Denver')).toBe('2026-11-26');
  });
});

describe('the form of a plan', () => {
  it('reads order, days and what is left out', () => {
    const { rows, what } = readPlan(
      { order: 'b,a', 'shown-a': 'on', 'release-a': '2026-12-01', 'release-b': ' ', do: 'keep' },
      ['a', 'b'],
    );
    expect(rows).toEqual([row('b', null, true), row('a', '2026-12-01')]);
    expect(what).toBe('keep');
  });

  it('says what is no day, and keeps what was typed', () => {
    for (const typed of ['tomorrow', '2026-02-30', '2026-13-01', '01/12/2026']) {
      const { problems, typed: kept } = readPlan({ order: 'a', 'shown-a': 'on', 'release-a': typed }, ['a']);
      expect(problems.a, typed).toContain('like 2026-09-14');
      expect(kept.a).toBe(typed);
    }
  });

  it('passes over lessons that are not there, and buttons it does not know', () => {
    const read = readPlan({ order: 'a,a,zzz', do: 'drop a' }, ['a']);
    expect(read.rows.map(({ key }) => key)).toEqual(['a']);
    expect([read.what, readPlan({ order: 'a', do: 'up zzz' }, ['a']).what]).toEqual(['keep', 'keep']);
    expect(readPlan(undefined, ['a']).rows).toEqual([]);
  });
});
