import { describe, expect, it } from 'vitest';
import { ActionQueue, type SendResult, stillUnsaved } from '../../views/client/models/action-queue.ts';

/** A server that keeps a log, and can be told to be away, to lose an answer, or to refuse. */
function fakeServer(faults: ('away' | 'answer-lost' | 'refuse')[] = []) {
  const log: string[] = [];
  const told: string[] = [];
  const kept: ({ from: number; actions: readonly string[] } | null)[] = [];
  const send = async (from: number, actions: readonly string[]): Promise<SendResult<string>> => {
    const fault = faults.shift();
    if (fault === 'away') return { how: 'away' };
    if (fault === 'refuse') return { how: 'refused', message: 'Reload the page.' };
    if (from > log.length) throw new Error('a gap in the log');
    actions.forEach((action, index) => {
      const held = log[from + index];
      if (held !== undefined && held !== action) throw new Error('another action at that place');
      log[from + index] = action;
    });
    if (fault === 'answer-lost') return { how: 'away' };
    return { how: 'done', answer: { next: log.length, seen: actions.map((action) => `saw ${action}`) } };
  };
  const queue = new ActionQueue<string, string>(0, {
    send,
    keep: (unsaved) => kept.push(unsaved),
    wait: async () => undefined,
    tell: (state) => told.push(state),
  });
  return { queue, log, told, kept };
}

describe('actions on their way to the server', () => {
  it('arrive in order, each once, and each gets its own answer', async () => {
    const { queue, log } = fakeServer();
    const answers = await Promise.all(['a', 'b', 'c', 'd'].map((action) => queue.do(action)));
    expect(log).toEqual(['a', 'b', 'c', 'd']);
    expect(answers).toEqual(['saw a', 'saw b', 'saw c', 'saw d']);
    expect(queue.idle).toBe(true);
  });

  it('are tried again while the connection is away, and the person is told', async () => {
    const { queue, log, told } = fakeServer(['away', 'away', 'away']);
    expect(await queue.do('a')).toBe('saw a');
    expect(log).toEqual(['a']);
    expect(told.filter((state) => state === 'away')).toHaveLength(3);
    expect(told.at(-1)).toBe('saved');
  });

  it('are not done twice when only the answer was lost', async () => {
    const { queue, log } = fakeServer(['answer-lost']);
    const both = await Promise.all([queue.do('a'), queue.do('b')]);
    expect(both).toEqual(['saw a', 'saw b']);
    expect(log).toEqual(['a', 'b']);
  });

  it('are kept for a reload until they are saved', async () => {
    const { queue, kept } = fakeServer(['away']);
    await queue.do('a');
    expect(kept[0]).toEqual({ from: 0, actions: ['a'] });
    expect(kept.at(-1)).toBeNull();
  });

  it('stop when the server refuses one: nothing after it is sent', async () => {
    const { queue, log, told } = fakeServer(['refuse']);
    await expect(queue.do('a')).rejects.toThrow('Reload the page.');
    await expect(queue.do('b')).rejects.toThrow('Reload the page.');
    expect(log).toEqual([]);
    expect(told.at(-1)).toBe('refused');
    expect(queue.idle).toBe(true);
  });
});

describe('what a reloaded page still has to send', () => {
  it.each([
    ['nothing was kept', null, 5, []],
    ['none of it arrived', { from: 5, actions: ['x', 'y'] }, 5, ['x', 'y']],
    ['part of it arrived', { from: 5, actions: ['x', 'y'] }, 6, ['y']],
    ['all of it arrived', { from: 5, actions: ['x', 'y'] }, 7, []],
    ['the log is shorter than it was', { from: 5, actions: ['x'] }, 3, []],
  ])('%s', (_, kept, next, expected) => {
    expect(stillUnsaved(kept, next)).toEqual(expected);
  });
});
