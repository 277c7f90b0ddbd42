import { defineConfig } from 'vitest/config';

/** What only programs of others can tell. Apart from the rest: a fresh machine has none of them. */
export default defineConfig({
  root: new URL('../..', import.meta.url).pathname,
  test: {
    include: ['tests/browser/**/*.browser.ts', 'tests/**/*.outside.ts'],
    globalSetup: ['tests/harness/global-setup.ts'],
    setupFiles: ['tests/harness/same-cases.ts'],
    testTimeout: 60_000,
    hookTimeout: 120_000,
    retry: 0,
  },
});
