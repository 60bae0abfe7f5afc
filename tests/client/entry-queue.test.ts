import { expect, it } from 'vitest';
import { type BenchEntry, type EntryAnswer, EntryQueue } from '../../views/client/models/entry-queue.ts';
import { fittedSize } from '../../views/client/models/shrink.ts';

interface Entry extends BenchEntry {
  readonly step: number;
}
const entry = (n: number, kind: Entry['kind'] = 'tick', step = n): Entry => ({
  ...{ kind, step, clientId: `client-${n}`, madeAt: '2026-09-14T08:00:00.000Z' },
});

/** A queue whose answers are handed out by the test. */
function given(left: readonly Entry[] = []) {
  const sent: string[][] = [];
  const kept: string[][] = [];
  const told: string[] = [];
  const answers: ((answer: EntryAnswer) => void)[] = [];
  const queue = new EntryQueue<Entry>(
    left,
    (later, earlier) => later.kind === 'tick' && later.step === earlier.step,
    {
      send: (entries) => {
        sent.push(entries.map(({ clientId }) => clientId));
        return new Promise((resolve) => answers.push(resolve));
      },
      keep: (unsent) => kept.push(unsent.map(({ clientId }) => clientId)),
      wait: () => Promise.resolve(),
      tell: (state, waiting) => told.push(`${state} ${waiting}`),
      arrived: () => {},
    },
  );
  const answer = async (one: EntryAnswer) => {
    answers.shift()?.(one);
    await new Promise((resolve) => setTimeout(resolve));
  };
  return { queue, sent, kept, told, answer };
}
const DONE: EntryAnswer = { how: 'done', against: [], signatures: [] };

it('sends what was put down in order, and again after the network was away', async () => {
  const { queue, sent, told, answer } = given();
  queue.put(entry(1));
  queue.put(entry(2));
  await answer({ how: 'away' });
  expect(told).toContain('away 2');
  await answer(DONE);
  expect(sent).toEqual([['client-1'], ['client-1', 'client-2']]);
  expect(queue.waiting).toBe(0);
  expect(told.at(-1)).toBe('sent 0');
});

it('sends only the last of a box that is written over before it left, and never touches one under way', async () => {
  const { queue, sent, answer } = given();
  queue.put(entry(1, 'tick', 7));
  queue.put(entry(2, 'tick', 8));
  queue.put(entry(3, 'tick', 8));
  queue.put(entry(4, 'tick', 7));
  await answer(DONE);
  expect(sent).toEqual([['client-1'], ['client-3', 'client-4']]);
});

it('keeps what waits where a reload finds it, and never a signature', async () => {
  const { queue, kept, answer } = given([entry(1)]);
  queue.put(entry(2, 'signature'));
  expect(kept.at(-1)).toEqual(['client-1']);
  await answer(DONE);
  await answer(DONE);
  expect(kept.at(-1)).toEqual([]);
  expect(queue.waiting).toBe(0);
});

it('drops a signature that is refused and sends the rest', async () => {
  const { queue, sent, told, answer } = given();
  queue.put(entry(1));
  queue.put(entry(2, 'signature'));
  queue.put(entry(3));
  await answer(DONE);
  await answer({ how: 'refused', message: 'not the PIN' });
  await answer(DONE);
  expect(sent).toEqual([['client-1'], ['client-2', 'client-3'], ['client-3']]);
  expect(told.at(-1)).toBe('refused 0');
});

it('fits a picture into a square without stretching it, and makes none larger', () => {
  expect(fittedSize(4000, 3000, 1280)).toEqual({ width: 1280, height: 960 });
  expect(fittedSize(300, 900, 1280)).toEqual({ width: 300, height: 900 });
  expect(fittedSize(9000, 2, 1280)).toEqual({ width: 1280, height: 1 });
});
