import { spawn } from 'node:child_process';
import { parseArgs } from 'node:util';

const USAGE = `Makes requests from the contract, and holds every answer against it.

  npm run fuzz -- [--requests 50000] [--seed 7]
  npm run fuzz -- --seed 7 --only 4711

  --requests  how many; what only prepares a state is not counted
  --seed      another one finds other things; the same one makes the same requests
  --only      runs up to the request of this number, and tells all of it

Prints, for each operation, how many requests were made, how many of those that were meant to
succeed did, and which statuses were answered. Ends with status 1 when something is wrong.`;

const { values } = parseArgs({
  options: {
    requests: { type: 'string', default: '50000' },
    seed: { type: 'string', default: String(Date.now() % 2 ** 31) },
    only: { type: 'string' },
    help: { type: 'boolean' },
  },
});
if (values.help) console.log(USAGE);
else {
  process.exitCode = await runTest({
    FUZZ_REQUESTS: values.requests,
    FUZZ_SEED: values.seed,
    ...(values.only !== undefined && { FUZZ_ONLY: values.only }),
  });
}

/** The test that also runs with the others, on a database made for it. */
function runTest(settings: Record<string, string>): Promise<number> {
  const vitest = ['node_modules/vitest/vitest.mjs', 'run', 'tests/fuzz/fuzz.test.ts'];
  const running = spawn(process.execPath, [...vitest, '--disable-console-intercept'], {
    stdio: 'inherit',
    env: { ...process.env, ...settings },
  });
  return new Promise((resolve) => running.on('close', (code) => resolve(code ?? 1)));
}
