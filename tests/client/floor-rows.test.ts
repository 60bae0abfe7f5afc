import { expect, it } from 'vitest';
import { changedRows } from '../../views/client/models/floor-rows.ts';

const row = (id: string, text: string) => ({ id, text });

it('swaps the rows that differ, adds those that are new, and leaves the others', () => {
  const there = [row('a', 'works'), row('b', 'works'), row('c', 'idle')];
  const next = [row('b', 'waits'), row('a', 'works'), row('d', 'new'), row('c', 'idle')];
  expect(changedRows(there, next)).toEqual([
    { id: 'b', isNew: false },
    { id: 'd', isNew: true },
  ]);
  expect(changedRows(next, next)).toEqual([]);
});
