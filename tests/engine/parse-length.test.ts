import { describe, expect, it } from 'vitest';
import { parseLength } from '../../server/engine/index.ts';

/** Typed into a box of a 1 in gauge. */
function check(text: string, expected: number | null) {
  expect(parseLength(text, 'in', 2)).toEqual({ ok: true, value: expected });
}

describe('a length is read as people write it', () => {
  it.each([
    '.237',
    '0.237',
    '0,237',
    '237 thou',
    '0.237 in',
    '0.237"',
    ' 0.237 ',
    '0.2370',
    '+0.237',
    '6.0198 mm',
    '0.237 inch',
    '0.237 inches',
    '0.237 in.',
    '0.237 IN',
    '237mil',
    '6019.8 um',
    '6019.8 \u00b5m',
    '6019.8 \u03bcm',
  ])('%s', (text) => check(text, 0.237));
  it('with nothing behind its point', () => check('1.', 1));
  it('below zero, with either sign', () => {
    check('-0.004', -0.004);
    check('−0.004', -0.004);
  });
  it('as nothing when it is blank', () => check('  ', null));
  it('as zero when it is zero', () => check('0', 0));
});

describe('a length that cannot be', () => {
  it('is asked about, not guessed at', () => {
    expect(parseLength('237', 'in', 2)).toEqual({ ok: false, why: 'implausible', meant: 0.237 });
    expect(parseLength('504', 'mm', 20)).toEqual({ ok: false, why: 'implausible', meant: 5.04 });
  });
  it('is asked about only past the most that could be, and only where the guess could be', () => {
    expect(parseLength('2', 'in', 2)).toEqual({ ok: true, value: 2 });
    expect(parseLength('-2', 'in', 2)).toEqual({ ok: true, value: -2 });
    expect(parseLength('-237', 'in', 2)).toMatchObject({ ok: false, meant: -0.237 });
    expect(parseLength('2000', 'in', 2)).toMatchObject({ ok: false, meant: 2 });
    expect(parseLength('2001', 'in', 2)).toMatchObject({ ok: false, meant: null });
  });
  it('has no guess where a unit was written', () => {
    expect(parseLength('237 in', 'in', 2)).toEqual({ ok: false, why: 'implausible', meant: null });
  });
  it.each(['about 0.2', '-', '.', 'in', '0.2.3', '1e3', '0x10', 'NaN', '0.237 ft'])(
    '%s is no length',
    (text) => {
      expect(parseLength(text, 'in', 2)).toEqual({ ok: false, why: 'not-a-length', meant: null });
    },
  );
});
