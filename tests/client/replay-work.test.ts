import { describe, expect, it } from 'vitest';
import { type ReplayFrame, shareOfAction } from '../../views/client/models/replay.ts';
import { sectionAt, viewAt } from '../../views/client/models/replay-work.ts';

const frame = (at: number, crankDeg: number): ReplayFrame => ({ at, crankDeg, graduations: 0 });

describe('how much of an action is gone', () => {
  const frames = [frame(0, 0), frame(1, 90), frame(1, 180), frame(1, 360), frame(2, 360), frame(2, 360)];

  it('follows the crank from where the action before left it', () => {
    expect(frames.map((_, index) => shareOfAction(frames, index))).toEqual([1, 0.25, 0.5, 1, 0, 1]);
    expect(shareOfAction(frames, 1, 0.5)).toBe(0.375);
  });

  it('follows it backwards too', () => {
    expect(shareOfAction([frame(0, 90), frame(1, 60), frame(1, -30)], 1)).toBe(0.25);
  });

  it('is over where there is no such frame', () => {
    expect(shareOfAction(frames, 9)).toBe(1);
    expect(shareOfAction([], 0)).toBe(1);
  });
});

describe('the work at an action', () => {
  it('stands as it was last seen to change', () => {
    const views = [null, 'a', null, 'b'];
    expect([-1, 0, 1, 2, 3, 9].map((at) => viewAt('first', views, at))).toEqual([
      'first',
      'first',
      'a',
      'a',
      'b',
      'b',
    ]);
  });

  it('is cut open where the lobe last looked at lies', () => {
    const still = { camDeg: [], tappetMm: [] };
    const sections = [still, { ...still, svg: 'lobe 2' }, still, { ...still, svg: 'lobe 4' }];
    expect([0, 1, 2, 3].map((at) => sectionAt(sections, at))).toEqual([null, 'lobe 2', 'lobe 2', 'lobe 4']);
  });
});
