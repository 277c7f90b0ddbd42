import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    globalSetup: ['tests/harness/global-setup.ts'],
    setupFiles: ['tests/harness/same-cases.ts'],
    testTimeout: 30_000,
    hookTimeout: 60_000,
    // A flaky test is a defect to be found, not to be tried again.
    retry: 0,
  },
});
