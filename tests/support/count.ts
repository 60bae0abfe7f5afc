import { z } from 'zod';

export interface Count {
  readonly passed: number;
  readonly failed: number;
}

const vitestReport = z.looseObject({
  numPassedTests: z.number(),
  numFailedTests: z.number(),
  testResults: z.array(z.looseObject({ status: z.string(), assertionResults: z.array(z.unknown()) })),
});

/** Counts from Vitest's JSON report. A file that could not even be read counts as one failure. */
export function vitestCount(report: unknown): Count {
  const { numPassedTests, numFailedTests, testResults } = vitestReport.parse(report);
  const unread = testResults.filter(
    (file) => file.status === 'failed' && file.assertionResults.length === 0,
  ).length;
  return { passed: numPassedTests, failed: numFailedTests + unread };
}

const playwrightReport = z.looseObject({
  stats: z.looseObject({ expected: z.number(), unexpected: z.number(), flaky: z.number() }),
});

/** Counts from Playwright's JSON report. A test that passed only at a second go is a failure. */
export function playwrightCount(report: unknown): Count {
  const { expected, unexpected, flaky } = playwrightReport.parse(report).stats;
  return { passed: expected, failed: unexpected + flaky };
}

export function total(counts: readonly Count[]): Count {
  return counts.reduce((sum, one) => ({ passed: sum.passed + one.passed, failed: sum.failed + one.failed }), {
    passed: 0,
    failed: 0,
  });
}

/** The line that a run ends with. */
export function lastLine(count: Count): string {
  return `${count.passed} passed, ${count.failed} failed`;
}
