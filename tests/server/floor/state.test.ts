import { describe, expect, it } from 'vitest';
import { inOrder, placeOf, type Seen } from '../../../server/floor/state.ts';

const NOW = '2026-09-14T10:00:00.000Z';
const ago = (minutes: number) => new Date(Date.parse(NOW) - minutes * 60_000).toISOString();
const seen = (over: Partial<Seen> = {}): Seen => ({
  ...{ waitingSince: null, open: null, handedInAt: null, lastPoints: [], outOfTries: false, ...over },
});
const open = (started: number, action: number | null, written: number | null) => ({
  startedAt: ago(started),
  lastActionAt: action === null ? null : ago(action),
  lastWrittenAt: written === null ? null : ago(written),
});

describe('where a student stands', () => {
  it.each<[string, Partial<Seen>, string, string | null]>([
    ['not begun', {}, 'not-begun', null],
    ['just begun', { open: open(1, null, null) }, 'working', ago(1)],
    ['at work', { open: open(20, 1, 5) }, 'working', ago(1)],
    ['writing, no hand on the engine', { open: open(20, 15, 1) }, 'working', ago(1)],
    ['three minutes without anything', { open: open(20, 3, 5) }, 'idle', ago(3)],
    ['idle from the start', { open: open(4, null, null) }, 'idle', ago(4)],
    ['twelve minutes at it and nothing written', { open: open(30, 1, 12) }, 'stuck', ago(12)],
    ['twelve minutes from the start and nothing written', { open: open(12, 1, null) }, 'stuck', ago(12)],
    [
      'two poor tries, the last no better',
      { open: open(2, 1, 1), lastPoints: [90, 60, 55] },
      'stuck',
      ago(2),
    ],
    ['two poor tries, the last better', { open: open(2, 1, 1), lastPoints: [55, 60] }, 'working', ago(1)],
    ['one poor try', { open: open(2, 1, 1), lastPoints: [10] }, 'working', ago(1)],
    ['handed in', { handedInAt: ago(2), lastPoints: [90] }, 'handed-in', ago(2)],
    ['out of tries', { handedInAt: ago(2), outOfTries: true }, 'out-of-tries', ago(2)],
    [
      'waiting, whatever else',
      { waitingSince: ago(7), open: open(30, 9, 20), outOfTries: true },
      'waiting',
      ago(7),
    ],
  ])('%s', (_, over, state, since) => {
    expect(placeOf(seen(over), NOW)).toMatchObject({ state, since });
  });

  it('says why somebody is stuck', () => {
    expect(placeOf(seen({ open: open(30, 1, 12) }), NOW).why).toBe('at work, and nothing written since');
    expect(placeOf(seen({ open: open(2, 1, 1), lastPoints: [60, 55] }), NOW).why).toBe(
      'two tries below 80, the last no better',
    );
  });
});

it('puts those who need somebody first, whoever waits longest at their head, the others as they came', () => {
  const student = (name: string, over: Partial<Seen>) => ({ name, placed: placeOf(seen(over), NOW) });
  const students = [
    student('works', { open: open(5, 1, 1) }),
    student('stuck', { open: open(30, 1, 13) }),
    student('waits 2', { waitingSince: ago(2) }),
    student('idle', { open: open(30, 8, 9) }),
    student('waits 9', { waitingSince: ago(9) }),
    student('out', { handedInAt: ago(50), outOfTries: true }),
    student('new', {}),
  ];
  expect(inOrder(students).map(({ name }) => name)).toEqual([
    'waits 9',
    'waits 2',
    'out',
    'stuck',
    'works',
    'idle',
    'new',
  ]);
});
