import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { z } from 'zod';
import type { Mutation } from './mutation.ts';
import { mutations } from './mutations.ts';

/*
 * npm run mutate [words of a mutation]
 *
 * Makes every deliberate mistake of the list in turn and runs the test that must notice it. Each
 * test is run without any mistake first: one that fails anyway would prove nothing. Ends with
 * status 0 when every mistake was noticed.
 */

const reportSchema = z.object({ numPassedTests: z.int(), numFailedTests: z.int() });

/** A mistake may make a program or the search for its smallest example run on and on. */
const testMinutesMax = 4;

const folder = mkdtempSync(path.join(tmpdir(), 'evenhand-mutations-'));
try {
  process.exitCode = main(process.argv.slice(2).join(' ').toLowerCase());
} finally {
  rmSync(folder, { recursive: true, force: true });
}

function main(words: string): 0 | 1 {
  const chosen = mutations
    .map((mutation, at) => ({ mutation, at }))
    .filter(({ mutation }) => mutation.breaks.toLowerCase().includes(words));
  const sound = new Map<string, boolean>();
  let missed = 0;
  for (const { mutation, at } of chosen) {
    const test = JSON.stringify(mutation.caughtBy);
    if (!sound.has(test)) sound.set(test, runTest(mutation, at, false) === 'passed');
    const outcome = sound.get(test) ? runTest(mutation, at, true) : 'no sound test';
    if (outcome !== 'failed') missed += 1;
    console.log(`${outcome === 'failed' ? 'noticed' : `MISSED (${outcome})`}  ${mutation.breaks}`);
  }
  console.log(`${chosen.length - missed} of ${chosen.length} deliberate mistakes noticed.`);
  return missed === 0 && chosen.length > 0 ? 0 : 1;
}

/** What became of the named test: only a failed assertion counts, not a program that cannot load. */
function runTest({ caughtBy }: Mutation, at: number, isMade: boolean) {
  const report = path.join(folder, 'report.json');
  rmSync(report, { force: true });
  spawnSync(
    process.execPath,
    [
      'node_modules/vitest/vitest.mjs',
      'run',
      caughtBy.file,
      '--config=tests/mutations/vitest.config.ts',
      `--testNamePattern=${escapePattern(caughtBy.name)}`,
      '--reporter=json',
      `--outputFile=${report}`,
    ],
    {
      env: { ...process.env, MUTATION: String(at), MUTATION_MADE: isMade ? 'yes' : 'no' },
      stdio: 'ignore',
      timeout: testMinutesMax * 60_000,
      killSignal: 'SIGKILL',
    },
  );
  if (!existsSync(report)) return 'ran on and on';
  const { numPassedTests, numFailedTests } = reportSchema.parse(
    JSON.parse(readFileSync(report, 'utf8')),
  );
  if (numFailedTests > 0) return 'failed';
  return numPassedTests > 0 ? 'passed' : 'no such test';
}

function escapePattern(text: string): string {
  return text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
}
