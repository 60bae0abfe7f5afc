import { describe, expect, it } from 'vitest';
import {
  act,
  type CamLiftSeen,
  gradeAttempt,
  graduationsPerTurn,
  lookAt,
  startBench,
} from '../../../server/engine/index.ts';
import { camLiftGraded } from '../../../server/review/cam-lift-graded.ts';
import { logLines } from '../../../server/review/log-lines.ts';
import { replayOf } from '../../../server/review/replay-frames.ts';
import {
  dueTimes,
  frameDue,
  holdTimes,
  nextAction,
  packFrames,
  shownAt,
  unpackFrames,
} from '../../../views/client/models/replay.ts';
import { type ObservedAttempt, observe } from '../../support/observer.ts';

function seenIn({ bench, actions }: ObservedAttempt): CamLiftSeen[] {
  let state = startBench(bench);
  return actions.map((action) => {
    const result = act(bench, state, action);
    state = result.state;
    return result.seen;
  });
}

describe('the replay', () => {
  for (const [dial, seed] of [
    ['inch-0.001-1', 'replay-1'],
    ['inch-0.0005-0.5', 'replay-2'],
    ['metric-0.01-10', 'replay-3'],
  ] as const) {
    const observed = observe({ kind: 'cam-lift', dial, positions: 1 }, seed);
    const { bench, actions, sheet } = observed;
    const seen = seenIn(observed);
    const replay = replayOf(lookAt(bench, startBench(bench)), seen, () => bench.dial);
    if (replay === null) throw new Error('Cam lift has a dial.');
    const { frames } = replay;
    const data = { ...replay.data, plot: [], point: [] };

    it(`shows on ${dial} the high point and the return that the grade's own trace holds`, () => {
      const { trace } = gradeAttempt(bench, actions, sheet);
      const highs = trace.flatMap(({ marks }) => marks).filter(({ what }) => what === 'high');
      expect(highs.length).toBeGreaterThanOrEqual(2);
      for (const mark of highs) {
        const own = frames.filter(({ at }) => at === mark.at).map(({ graduations }) => graduations);
        // Both are rounded: the trace to a millionth, what is seen to a hundredth of a graduation.
        expect(Math.abs(Math.max(...own) - mark.travel / bench.dial.graduation)).toBeLessThan(0.03);
      }
    });

    it(`puts pointer, small hand and plunger of ${dial} where they were seen after every action`, () => {
      const unpacked = unpackFrames(data);
      const perTurn = graduationsPerTurn(bench.dial);
      seen.forEach(({ now }, at) => {
        if (now.indicator === 'off') return;
        const index = unpacked.findLastIndex((frame) => frame.at === at);
        const shown = shownAt(data, unpacked, index);
        if (shown === null) throw new Error('There is a frame for every action.');
        const apart = (a: number, b: number, turn: number) =>
          Math.abs(((a - b + 1.5 * turn) % turn) - turn / 2);
        expect(apart(shown.pointer, now.sample.pointer, perTurn)).toBeLessThan(0.08);
        expect(apart((shown.counter ?? 0) + 100, (now.sample.counter ?? 0) + 100, 10)).toBeLessThan(0.03);
        expect(Math.abs(shown.plungerMm - now.sample.plungerMm)).toBeLessThan(0.6);
        expect(shown.clamped).toBe(now.clamped);
        expect(shown.position).toBe(now.position);
      });
    });

    it(`never lets the pointer of ${dial} jump further than can be followed while barring`, () => {
      const perTurn = graduationsPerTurn(bench.dial);
      frames.forEach((frame, index) => {
        const before = frames[index - 1];
        if (before === undefined || before.at !== frame.at) return;
        expect(Math.abs(frame.graduations - before.graduations)).toBeLessThan(perTurn / 2);
      });
    });

    it(`keeps an attempt on ${dial} small enough for a slow line`, () => {
      expect(JSON.stringify(data).length).toBeLessThan(60_000);
    });
  }
});

describe('packing', () => {
  const frames = [
    { at: 0, crankDeg: 350, graduations: 12.3 },
    { at: 0, crankDeg: 361.5, graduations: -4 },
    { at: 2, crankDeg: 361.5, graduations: 214.1 },
  ];

  it('gives back what was packed, to a tenth', () => {
    expect(unpackFrames(packFrames(frames))).toEqual(frames);
  });

  it('gives back nothing for nothing', () => {
    expect(unpackFrames(packFrames([]))).toEqual([]);
    expect(nextAction([], 0, 1)).toBe(0);
  });

  it('stops at the first frame of a told line for its words, and at the last for what was heard', () => {
    const told = [0, 0, 0, 1, 2].map((at) => ({ at, crankDeg: 0, graduations: 0 }));
    const holds = holdTimes(told, [
      { from: 0, words: 'Clamped the bezel.', heard: 'It clicks.' },
      { from: 2, words: 'Barred on.', heard: '' },
    ]);
    expect(holds.map((hold) => hold > 0)).toEqual([true, false, false, true, true]);
    expect(holds[0]).toBeGreaterThan(holds[3] ?? 0);
    const [plain, slow] = [dueTimes(told, 20), dueTimes(told, 20, holds)];
    expect((slow[1] ?? 0) - (plain[1] ?? 0)).toBeCloseTo(holds[0] ?? 0);
    expect((slow[4] ?? 0) - (plain[4] ?? 0)).toBeCloseTo((holds[0] ?? 0) + (holds[3] ?? 0));
  });

  it('times barring by the crank, and gives what stands still a moment', () => {
    const due = dueTimes(frames, 20);
    expect(due[0]).toBe(0);
    expect(due[1]).toBeCloseTo(575);
    expect(due[2]).toBeGreaterThan(575);
    expect([
      frameDue(due, -1),
      frameDue(due, 0),
      frameDue(due, 574),
      frameDue(due, 576),
      frameDue(due, 1e9),
    ]).toEqual([0, 0, 0, 1, 2]);
  });

  it('steps from action to action and stops at the ends', () => {
    expect(nextAction(frames, 0, 1)).toBe(2);
    expect(nextAction(frames, 2, -1)).toBe(1);
    expect(nextAction(frames, 1, -1)).toBe(0);
    expect(nextAction(frames, 2, 1)).toBe(2);
  });
});

describe('the log in words', () => {
  const WORDS = camLiftGraded(observe({ kind: 'cam-lift' }, 'words').bench).logWords;
  const nothing = (count: number): CamLiftSeen[] =>
    Array.from(
      { length: count },
      () => ({ ...seenIn(observe({ kind: 'cam-lift' }, 'x'))[0], said: [] }) as CamLiftSeen,
    );

  it('makes one line of pulls in a row, and breaks it where the way or the speed changes or the bar is let go', () => {
    const actions = [
      { type: 'bar', degrees: 100, speed: 20 },
      { type: 'bar', degrees: 114, speed: 20 },
      { type: 'bar', degrees: -30, speed: 20 },
      { type: 'bar', degrees: 10, speed: 6, hold: 3 },
      { type: 'bar', degrees: 10, speed: 6 },
    ] as const;
    expect(logLines(actions, nothing(5), WORDS).map(({ from, to, words }) => [from, to, words])).toEqual([
      [0, 1, 'Barred 214° clockwise at 20°/s.'],
      [2, 2, 'Barred 30° back at 20°/s.'],
      [3, 3, 'Barred 10° clockwise at 6°/s, held for 3 s and let go.'],
      [4, 4, 'Barred 10° clockwise at 6°/s.'],
    ]);
  });

  it('makes one line of boxes written together, and covers every action once', () => {
    const actions = [
      { type: 'note', position: 4, reading: 1, box: 'turns' },
      { type: 'note', position: 4, reading: 1, box: 'pointer' },
      { type: 'note', position: 4, reading: 2, box: 'pointer' },
    ] as const;
    expect(logLines(actions, nothing(3), WORDS).map(({ words }) => words)).toEqual([
      'Wrote turns and pointer, reading 1, position 4.',
      'Wrote pointer, reading 2, position 4.',
    ]);
    const observed = observe({ kind: 'cam-lift' }, 'log');
    const lines = logLines(observed.actions, seenIn(observed), camLiftGraded(observed.bench).logWords);
    expect(
      lines.flatMap(({ from, to }) => Array.from({ length: to - from + 1 }, (_, n) => from + n)),
    ).toEqual(observed.actions.map((_, at) => at));
  });
});
