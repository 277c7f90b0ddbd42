import { fileURLToPath } from 'node:url';
import { defineConfig, type Plugin } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';
import { keepWorker } from './kept-worker.ts';
import { roomOfProcess } from './mutated-rooms.ts';

/** The tests of one room, for one mutant of it after the other. */
export default defineConfig({
  plugins: [
    useInstead('fast-check', 'fewer-cases.ts'),
    useInstead('./kept-answers.ts', 'answers-of-test.ts'),
    keepWorker(),
  ],
  test: {
    include: [...(roomOfProcess?.tests ?? [])],
    exclude: [...(roomOfProcess?.countingTests ?? [])],
    setupFiles: ['tests/harness/same-cases.ts', 'tests/mutants/begin-file.ts'],
    sequence: { sequencer: createSlowLast() },
    // The core keeps nothing between two tests, and to read it anew for each file takes hours.
    isolate: false,
    // How long a mutant may take is said by who runs it, from how long its tests take without.
    testTimeout: 600_000,
    hookTimeout: 600_000,
    retry: 0,
  },
});

/** Whoever asks for one gets the other, which alone gets what was asked for. */
function useInstead(asked: string, other: string): Plugin {
  const instead = fileURLToPath(new URL(other, import.meta.url));
  return {
    name: other,
    enforce: 'pre',
    resolveId: (id, importer) => (id === asked && importer !== instead ? instead : undefined),
  };
}

/** The first test that fails ends a mutant, so the quick ones go first. */
function createSlowLast() {
  const isSlow = ({ moduleId }: TestSpecification) =>
    roomOfProcess?.slowTests.some((part) => moduleId.includes(part)) ? 1 : 0;
  return class extends BaseSequencer {
    override async sort(files: TestSpecification[]) {
      return [...files].sort((one, other) => isSlow(one) - isSlow(other));
    }
  };
}
