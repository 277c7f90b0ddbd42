import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { taxRule } from '../../seed/company.ts';
import { faultCodeSchema, taskCodeSchema } from '../../src/trade/index.ts';
import { assertAddsUp } from '../harness/assert-adds-up.ts';
import { findOpenFloatSwitch, findOpenFuse, findTrippedBreaker } from '../harness/findings.ts';
import { addSite, arriveAtJob, type Job } from '../harness/job.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';

const FEE_CENTS = 8_900;
/** A fuse costs 0.45, its price is three times that, and nobody may raise it. */
const FUSE_CENTS_MAX = 135;
const RESET_TASKS = ['reset_breaker', 'replace_control_fuse', 'reset_float_switch'];

let service: TestService;
let job: Job;
/** Findings of the visit that only set something back, whatever they were asked to be. */
const resets: string[] = [];

beforeAll(async () => {
  service = await createTestService();
  const jurisdiction = 'all_taxed_county';
  const taxableClasses = ['visit_fee', 'part', 'labor', 'access'];
  const rule = { ...taxRule, jurisdiction, taxableClasses };
  expectStatus(await service.as('owner').post('/v1/tax-rules', rule), 201);
  job = await arriveAtJob(service, await addSite(service, { jurisdiction }));
  resets.push(
    await findTrippedBreaker(service, job),
    await findOpenFuse(service, job),
    await findOpenFloatSwitch(service, job),
  );
});
afterAll(() => service.close());

describe('a reset never costs more than the fee and its materials', () => {
  it('whatever a finding is asked to be', async () => {
    const partCodes = ['FUSE-3A', 'FUSE-5A', 'CON-2P-30-24', 'CAP-45-5-440', 'CAP-40-440'];
    const work = fc.oneof(
      fc.constantFrom(
        { faultCode: 'tripped_breaker', taskCode: 'reset_breaker' },
        { faultCode: 'open_control_fuse', taskCode: 'replace_control_fuse' },
        { faultCode: 'open_float_switch', taskCode: 'reset_float_switch' },
      ),
      fc.record({
        faultCode: fc.constantFrom(...faultCodeSchema.options),
        taskCode: fc.constantFrom(...taskCodeSchema.options),
      }),
    );
    const parts = fc.oneof(
      fc.constantFrom([], [{ partCode: 'FUSE-3A', quantity: 1 }]),
      fc.array(
        fc.record({ partCode: fc.constantFrom(...partCodes), quantity: fc.integer({ max: 12 }) }),
        { maxLength: 5 },
      ),
    );
    const invented = fc.oneof(
      { weight: 4, arbitrary: fc.constant({}) },
      fc.record({ remedyClass: fc.constantFrom('repair', 'replace', 'reset') }),
      fc.record({ priceCents: fc.nat(100_000) }),
    );
    const request = fc.record({
      equipmentId: fc.constantFrom('outdoorId' as const, 'indoorId' as const),
      work,
      parts,
      invented,
    });
    await fc.assert(
      fc.asyncProperty(request, async (asked) => {
        const answer = await service.as('technician').post(`/v1/visits/${job.visitId}/findings`, {
          ...asked.work,
          ...asked.invented,
          parts: asked.parts,
          equipmentId: job[asked.equipmentId],
        });
        if (answer.status !== 201) {
          expect([400, 422]).toContain(answer.status);
          return;
        }
        if (!RESET_TASKS.includes(asked.work.taskCode)) return;
        expect(asked.invented).toEqual({});
        expect(answer.body.remedyClass).toBe('reset');
        if (answer.body.priceable) resets.push(answer.body.id);
      }),
      { numRuns: 100, seed: 20_260_714 },
    );
    // A law that every request was refused under would say nothing.
    expect(resets.length).toBeGreaterThan(5);
  });

  it('whatever a quote of resets asks for', async () => {
    const known = [...resets];
    const finding = fc.nat(known.length - 1).map((at) => known[at] ?? '');
    const task = fc.constantFrom(...RESET_TASKS);
    const time = fc.oneof(
      fc.tuple(finding, task).map(([id, code]) => `labor:${id}:${code}`),
      fc.constantFrom('electrical_panel', 'indoor_unit_cabinet').map((group) => `access:${group}`),
      fc.constantFrom('tax', 'credit:visit_fee', 'labor', 'nothing'),
    );
    const materials = finding.map((id) => `part:${id}:replace_control_fuse:FUSE-3A`);
    const adjustment = (aim: fc.Arbitrary<string>) =>
      fc.record({
        aimedAt: aim,
        amountCents: fc.oneof(
          fc.integer({ min: -20, max: 20 }),
          fc.integer({ min: -9_999, max: 99_999 }),
        ),
        reason: fc.constantFrom('Hard to reach', 'Long way', 'It took long'),
      });
    const trifle = fc.record({
      aimedAt: fc.constant(`part:${known[1]}:replace_control_fuse:FUSE-3A`),
      amountCents: fc.integer({ min: -4, max: 4 }),
      reason: fc.constant('Hard to reach'),
    });
    // Nobody may add to the fee or to a fuse, and that is so for the owner too.
    const asked = fc.record({
      who: fc.constantFrom('technician' as const, 'owner' as const),
      aim: fc.constant(fc.oneof(time, materials, fc.constant('visit_fee'))),
    });
    const request = asked.chain(({ who, aim }) =>
      fc.record({
        who: fc.constant(who),
        options: fc.uniqueArray(
          fc.record(
            {
              title: fc.constantFrom('Reset', 'Full electrical repair'),
              findingIds: fc.oneof(
                { weight: 4, arbitrary: fc.shuffledSubarray(known.slice(0, 3)) },
                fc.array(finding, { maxLength: 4 }),
              ),
              adjustments: fc.oneof(
                { weight: 3, arbitrary: fc.constant([]) },
                { weight: 2, arbitrary: fc.array(trifle, { maxLength: 3 }) },
                fc.array(adjustment(aim), { maxLength: 3 }),
              ),
            },
            { requiredKeys: ['title', 'findingIds'] },
          ),
          { minLength: 1, maxLength: 3, selector: workOf },
        ),
      }),
    );
    let priced = 0;
    await fc.assert(
      fc.asyncProperty(request, async ({ who, options }) => {
        const answer = await service.as(who).post('/v1/quotes', { visitId: job.visitId, options });
        if (answer.status !== 201) {
          expect(answer.status).toBe(422);
          return;
        }
        priced += 1;
        for (const option of answer.body.options) {
          assertAddsUp(option);
          expect(option.classTotals).toMatchObject({ labor: 0, access: 0 });
          expect(option.totalCents).toBeLessThanOrEqual(taxed(FEE_CENTS + FUSE_CENTS_MAX));
          if (option.classTotals.part === 0) {
            expect(option.totalCents).toBeLessThanOrEqual(taxed(FEE_CENTS));
          }
        }
      }),
      { numRuns: 150, seed: 20_260_714 },
    );
    expect(priced).toBeGreaterThan(30);
  }, 120_000);
});

/** With 8.25 % on everything, rounded half up. */
function taxed(baseCents: number): number {
  return baseCents + Math.floor((baseCents * 825 + 5_000) / 10_000);
}

interface AskedOption {
  findingIds: readonly string[];
  adjustments?: readonly object[];
}

/** Two options of the same work are refused for that alone, and would say nothing of prices. */
function workOf({ findingIds, adjustments = [] }: AskedOption): string {
  return JSON.stringify([[...new Set(findingIds)].sort(), adjustments]);
}
