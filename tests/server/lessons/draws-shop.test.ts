import { describe, it } from 'vitest';
import { checkAnswers, checkVerdicts, type Numbers } from './draws-shop-support.ts';

const CLOCK = ['first', 'second', 'third', 'fourth'];
const all = (value: Numbers, keys = CLOCK) => keys.map(value);
const apart = (values: readonly number[]) => Math.max(...values) - Math.min(...values);

describe('numbers drawn for shafts', () => {
  it('the whole reading of a turn is highest less lowest, zero among them', () =>
    checkAnswers(
      'run-out-tir',
      (value) => apart([0, ...all(value, ['three', 'six', 'nine'])]),
      [0.003, 0.012],
    ));
  it('a bend is half of the whole reading', () =>
    checkAnswers('run-out-bend', (value) => (value('high') - value('low')) / 2, [0.01, 0.09]));
  it('a housing’s vertical run-out is 12 plus the lift', () =>
    checkAnswers('housing-bore', (value) => value('twelve') + value('lift'), [-0.008, -0.001]));
  it('a limit on the bend is held against half of the whole reading', () =>
    checkVerdicts('run-out-limit', (value) => (value('whole') / 2 > value('limit') ? 'above' : 'inside'), [
      'above',
      'inside',
    ]));
  it('end play is the whole way from stop to stop', () =>
    checkAnswers('end-play-both-ways', (value) => value('front') - value('rear'), [0.0015, 0.014]));
  it('a pointer that went backwards is counted from 50', () =>
    checkAnswers('end-play-backwards', (value) => (50 - value('pointer')) * 0.0005, [0.0045, 0.014]));
  it('a used crankshaft is held against the row for used ones', () =>
    checkVerdicts(
      'end-play-row',
      (value) => (value('play') < 0.004 ? 'below' : value('play') > 0.018 ? 'above' : 'inside'),
      ['above', 'below', 'inside'],
    ));
});

describe('numbers drawn for gears and liners', () => {
  it('a spread is the largest tooth less the smallest', () =>
    checkAnswers('backlash-spread', (value) => apart(all(value)), [0.001, 0.0025]));
  it('four teeth get one verdict: above, then below, then uneven', () =>
    checkVerdicts(
      'backlash-verdict',
      (value) => {
        const teeth = all(value);
        if (Math.max(...teeth) > 0.012) return 'above';
        if (Math.min(...teeth) < 0.004) return 'below';
        return apart(teeth) > 0.002 + 1e-9 ? 'uneven' : 'inside';
      },
      ['above', 'below', 'inside', 'uneven'],
    ));
  it('a mean is of all four points', () =>
    checkAnswers(
      'liner-mean',
      (value) => all(value).reduce((sum, one) => sum + one, 0) / 4,
      [0.0012, 0.005],
    ));
  it('a step is between neighbours', () =>
    checkAnswers(
      'liner-step',
      (value) =>
        Math.max(...[1, 2, 3].map((at) => Math.abs((all(value)[at] ?? 0) - (all(value)[at - 1] ?? 0)))),
      [0.0009, 0.0012],
    ));
  it('four points get one verdict: above, then below, then uneven', () =>
    checkVerdicts(
      'liner-verdict',
      (value) => {
        const points = all(value);
        if (Math.max(...points) > 0.004) return 'above';
        if (Math.min(...points) < 0.001) return 'below';
        return apart(points) > 0.002 + 1e-9 ? 'uneven' : 'inside';
      },
      ['above', 'below', 'inside', 'uneven'],
    ));
});
