import fc from 'fast-check';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { consumerRules } from '../../seed/consumer-rules.ts';
import { assertReprices } from '../harness/assert-reprices.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import { expectNothingBroken, reached } from './invariants.ts';
import { anyBeginning, anyCommands } from './life-commands.ts';
import { beginLife } from './life-world.ts';

/** How many lives; MODEL_RUNS=1000 is the long run. */
const RUNS = Number(process.env['MODEL_RUNS'] ?? 300);

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
  for (const rule of consumerRules) {
    expectStatus(await service.as('owner').post('/v1/consumer-rules', rule), 201);
  }
});
afterAll(() => service.close());

const lives = fc.tuple(anyBeginning, fc.commands(anyCommands, { maxCommands: 20 }));

it(`in ${RUNS} random lives, every act goes through or is refused as the product says`, async () => {
  await fc.assert(
    fc.asyncProperty(lives, async ([beginning, commands]) => {
      const { world, model } = await beginLife(service);
      for (const command of beginning) await command.run(model, world);
      await fc.asyncModelRun(() => ({ model, real: world }), commands);
    }),
    { numRuns: RUNS, endOnFailure: true },
  );
  await expectNothingBroken(service);
  await assertReprices(service);
  const counts = await reached(service);
  const never = Object.keys(counts).filter((what) => counts[what] === 0);
  expect(never, JSON.stringify(counts)).toEqual([]);
}, 3_600_000);
