import { describe, expect, it } from 'vitest';
import { countNamings, erringEye, rightEye, shareNamed } from './misreaders/gauged-count.ts';
import { valveEye, valveStudent } from './misreaders/valve-students.ts';

describe('students who misread a valve train in a known way', () => {
  it('are told their mistake and no other', { timeout: 180_000 }, () => {
    const students = Array.from({ length: 450 }, (_, n) => valveStudent(`student ${n}`));
    const { attempts, named, amongThem, others } = countNamings(students);
    expect(attempts).toBeGreaterThan(400);
    expect({
      amongThem: amongThem >= 0.98,
      others: [...others].slice(0, amongThem >= 0.98 ? 0 : 30),
    }).toEqual({ amongThem: true, others: [] });
    expect(named).toBeGreaterThanOrEqual(0.92);
  });

  it('are never accused where they read rightly, and hardly ever for a careless eye', {
    timeout: 180_000,
  }, () => {
    expect(shareNamed(60, (seed) => valveEye(seed, rightEye))).toBe(0);
    expect(shareNamed(150, (seed) => valveEye(seed, erringEye(1.5)))).toBeLessThanOrEqual(0.015);
  });
});
