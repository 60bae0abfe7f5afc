import { describe, expect, it } from 'vitest';
import { type Grade, gradeAttempt } from '../../server/engine/index.ts';
import {
  type GaugedHabits,
  observeBacklash,
  observeEndPlay,
  observeLiners,
  observeRunOut,
} from '../support/gauged-observers.ts';

/** Work on many benches, all done with the same habits; gives for each bench the codes of the remarks that cost points. */
type Work = (seed: number, habits: GaugedHabits) => Grade;

const endPlay: Work = (seed, habits) => {
  const { bench, actions, sheet } = observeEndPlay({ kind: 'end-play' }, seed, habits);
  return gradeAttempt(bench, actions, sheet);
};
const runOut: Work = (seed, habits) => {
  const { bench, actions, sheet } = observeRunOut({ kind: 'run-out', subject: 'housing' }, seed, habits);
  return gradeAttempt(bench, actions, sheet);
};
const backlash: Work = (seed, habits) => {
  const { bench, actions, sheet } = observeBacklash({ kind: 'backlash' }, seed, habits);
  return gradeAttempt(bench, actions, sheet);
};
const liners: Work = (seed, habits) => {
  const { bench, actions, sheet } = observeLiners({ kind: 'liner-protrusion' }, seed, habits);
  return gradeAttempt(bench, actions, sheet);
};

const SEEDS = Array.from({ length: 25 }, (_, index) => index);

/** Share of benches on which the remark was made. */
function shareWith(work: Work, habits: GaugedHabits, code: string): number {
  const made = SEEDS.filter((seed) =>
    work(seed, habits).remarks.some((remark) => remark.code === code && remark.pointsLost > 0),
  );
  return made.length / SEEDS.length;
}

describe('one step done badly brings its own remark, on every bench', () => {
  it.each<[string, Work, GaugedHabits, string]>([
    ['end play: the tip is not tried', endPlay, { leavesOut: ['tip'] }, 'tip-not-tried'],
    ['end play: hardly any preload', endPlay, { preloadTurns: 0.1 }, 'little-preload'],
    ['end play: pried too lightly', endPlay, { effort: 0.1 }, 'not-pried-fully'],
    ['run-out: half a turn only', runOut, { turnsOnly: 180 }, 'not-a-whole-turn'],
    ['backlash: the other gear is not held', backlash, { leavesOut: ['hold'] }, 'gear-not-held'],
    ['backlash: one tooth only', backlash, { teethOnly: 1 }, 'one-tooth-only'],
    ['backlash: rocked too lightly', backlash, { effort: 0.1 }, 'not-rocked-fully'],
    ['liners: not clamped down', liners, { leavesOut: ['press'] }, 'liner-not-pressed'],
    ['liners: zeroed on the liner', liners, { zeroOnLiner: true }, 'zero-off-the-deck'],
  ])('%s', (_, work, habits, code) => {
    expect(shareWith(work, habits, code)).toBe(1);
    // The careful one is never told so.
    expect(shareWith(work, {}, code)).toBe(0);
  });
});

describe('one step left out brings its remark where it could be seen to matter', () => {
  it.each<[string, Work, GaugedHabits, string]>([
    ['end play: the bezel is left free', endPlay, { leavesOut: ['clamp'] }, 'bezel-left-free'],
    [
      'end play: zeroed anywhere, then pried one way only',
      endPlay,
      { zeroAnywhere: true, leavesOut: ['return'] },
      'zero-off-the-stop',
    ],
    ['end play: not seen back at the stop', endPlay, { leavesOut: ['return'] }, 'zero-not-seen-again'],
    [
      'backlash: zeroed anywhere, then rocked one way only',
      backlash,
      { zeroAnywhere: true, leavesOut: ['return'] },
      'zero-off-the-flank',
    ],
    ['run-out: the shaft is not pushed one way', runOut, { leavesOut: ['push'] }, 'not-pushed-one-way'],
    ['liners: the place is not wiped', liners, { leavesOut: ['wipe'] }, 'base-not-wiped'],
  ])('%s', (_, work, habits, code) => {
    expect(shareWith(work, habits, code)).toBeGreaterThan(0);
    expect(shareWith(work, {}, code)).toBe(0);
  });
});
