import { describe, expect, it } from 'vitest';
import { studyIndicatorCheck } from './misreaders/indicator-check.ts';
import { sharesOf, type Told } from './misreaders/tally.ts';
import { studyTorqueAdapter } from './misreaders/torque-adapter.ts';

/** Students who go wrong in a known way, by kind: mistakes on whole sheets, on one line, and in what is worked out. */
const STUDIES: Readonly<Record<string, () => readonly Told[]>> = {
  'indicator-check': () => studyIndicatorCheck(30),
  'torque-adapter': () => studyTorqueAdapter(60),
};

describe.each(Object.entries(STUDIES))('students who misread, %s', (_, study) => {
  it('are told what went wrong', () => {
    const told = study();
    expect(new Set(told.map(({ mistake }) => mistake)).size).toBeGreaterThan(7);
    const shares = sharesOf(told);
    expect(shares.count).toBeGreaterThan(400);
    expect(shares.orAmong).toBeGreaterThanOrEqual(0.98);
    expect(shares.named).toBeGreaterThanOrEqual(0.92);
  }, 60_000);
});
