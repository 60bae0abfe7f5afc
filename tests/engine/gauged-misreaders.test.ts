import { describe, expect, it } from 'vitest';
import { countNamings, erringEye, rightEye, shareNamed } from './misreaders/gauged-count.ts';
import { eyed, JOBS, misreads } from './misreaders/gauged-students.ts';

describe.each(JOBS)('students who misread %s in a known way', (job) => {
  it('are told their mistake and no other', { timeout: 60_000 }, () => {
    const students = Array.from({ length: 400 }, (_, n) => misreads(job, `student ${n}`));
    const { attempts, named, amongThem, others } = countNamings(students);
    expect(attempts).toBeGreaterThan(250);
    const isEnough = amongThem >= 0.98 && named >= 0.92;
    expect({ isEnough, others: isEnough ? [] : [named, amongThem, ...others] }).toEqual({
      isEnough: true,
      others: [],
    });
  });

  it('are never accused where they read rightly, and hardly ever for a careless eye', {
    timeout: 60_000,
  }, () => {
    expect(shareNamed(150, (seed) => eyed(job, seed, rightEye))).toBe(0);
    expect(shareNamed(400, (seed) => eyed(job, seed, erringEye(1.5)))).toBeLessThanOrEqual(0.015);
  });
});
