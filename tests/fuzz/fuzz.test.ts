import { afterAll, beforeAll, expect, it } from 'vitest';
import { sealJournal } from '../../src/journal/seal-journal.ts';
import { verifyJournal } from '../../src/journal/verify-journal.ts';
import { expectNothingBroken } from '../model/invariants.ts';
import { type FuzzReport, fuzz } from './fuzz.ts';
import { SHARE_MIN, shareOf, tableOf } from './tally.ts';

/** `npm run fuzz` sets these; a plain run is the same every time. */
const REQUESTS = Number(process.env['FUZZ_REQUESTS'] ?? 3_000);
const SEED = Number(process.env['FUZZ_SEED'] ?? 20_260_714);
const ONLY = process.env['FUZZ_ONLY'];
const isLong = 'FUZZ_SEED' in process.env;

/** No run takes as long; a test that hangs should end all the same. */
const LONGEST_MS = 4 * 3_600_000;

/** It happens once, and this company is at work already; `tests/company` has it. */
const doneBefore = ['setUpCompany'];

let report: FuzzReport;
beforeAll(async () => {
  report = await fuzz({
    requests: REQUESTS,
    seed: SEED,
    ...(ONLY !== undefined && { only: Number(ONLY) }),
    ...(isLong && { onProgress: (done: number) => console.log(`${done} requests`) }),
  });
  if (report.only !== undefined) console.log(JSON.stringify(report.only, null, 2));
  else if (isLong) console.log(`seed ${SEED}\n${tableOf(report.tallies)}`);
}, LONGEST_MS);
afterAll(() => report.world.service.close());

it('whatever is asked, the answer is in the contract, fits it, and is never our mistake', () => {
  expect(report.failures.map((failure) => JSON.stringify(failure))).toEqual([]);
});

it('every operation let one in five in of those who meant well, or it was only knocked at', () => {
  // A few requests say nothing about a share; the plain run has to make enough.
  const isEnough = ONLY === undefined && (!isLong || REQUESTS >= 10 * report.tallies.size);
  const shut = [...report.tallies].filter(([, tally]) => shareOf(tally) < SHARE_MIN);
  const names = shut.map(([operationId]) => operationId);
  expect(isEnough ? names.filter((name) => !doneBefore.includes(name)) : []).toEqual([]);
});

it('the journal is whole, and every law of the database holds', async () => {
  const { service } = report.world;
  while ((await sealJournal(service.db.pool)) > 0);
  const { faults, unsealed } = await verifyJournal(service.owner);
  expect({ faults, unsealed }).toEqual({ faults: [], unsealed: 0 });
  await expectNothingBroken(service);
});
