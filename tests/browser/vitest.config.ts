import { defineConfig } from 'vitest/config';

/** What only a real browser can tell. Apart from the others: a fresh machine has no browser. */
export default defineConfig({
  root: new URL('../..', import.meta.url).pathname,
  test: {
    include: ['tests/browser/**/*.browser.ts'],
    globalSetup: ['tests/harness/global-setup.ts'],
    testTimeout: 60_000,
    hookTimeout: 120_000,
    retry: 0,
  },
});
