import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/browser/**', 'node_modules/**'],
    // Every test has a database of its own, so files may share a process; that is five times faster.
    isolate: false,
    // No test is about time: on a busy machine a slow one must still pass.
    testTimeout: 60_000,
  },
});
