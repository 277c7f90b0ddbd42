import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    globalSetup: ['tests/harness/global-setup.ts'],
    setupFiles: ['tests/harness/same-cases.ts'],
    // A test waits for the database half of its time: on two cores two files at once take little more
    // than half as long as one after the other.
    maxWorkers: Math.max(2, availableParallelism() - 1),
    testTimeout: 30_000,
    hookTimeout: 60_000,
    // A flaky test is a defect to be found, not to be tried again.
    retry: 0,
  },
});
