import { defineConfig } from 'vitest/config';
import { mutateSource } from './mutate-source.ts';
import { mutations } from './mutations.ts';

const mutation = mutations[Number(process.env['MUTATION'])];
const isMade = process.env['MUTATION_MADE'] === 'yes';

/** The project's own tests with one deliberate mistake in the program, or without it. */
export default defineConfig({
  root: new URL('../..', import.meta.url).pathname,
  plugins: mutation !== undefined && isMade ? [mutateSource(mutation)] : [],
  test: {
    include: ['tests/**/*.test.ts'],
    globalSetup: mutation?.database ? ['tests/harness/global-setup.ts'] : [],
    testTimeout: 120_000,
    hookTimeout: 60_000,
  },
});
