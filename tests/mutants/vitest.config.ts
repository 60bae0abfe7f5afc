import { defineConfig } from 'vitest/config';

/** The tests that stand nearest to the folder being mutated, as `run.ts` names them. */
const nearest = process.env.MUTANTS_TESTS?.split(',') ?? [];

export default defineConfig({
  test: {
    root: new URL('../..', import.meta.url).pathname,
    include: nearest,
    // A busy machine must not look like a test that noticed something.
    testTimeout: 120_000,
  },
});
