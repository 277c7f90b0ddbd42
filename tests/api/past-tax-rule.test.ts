import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { taxRule } from '../../seed/company.ts';
import { type BilledJob, billedJob } from '../audits/billed-job.ts';
import { auditDepsOf, judged } from '../audits/judged.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

/*
 * A bill carries the tax of its yes for good, and a tax rule cannot be taken back. So a rule that
 * begins before today is not added without a word where bills of that time were taxed by another.
 */

let service: TestService;
let job: BilledJob;

beforeAll(async () => {
  service = await createTestService();
  service.clock.set('2026-07-14T18:00:00Z');
  job = await billedJob(service);
  service.clock.set('2026-07-20T18:00:00Z');
});
afterAll(() => service.close());

function addRule(change: object) {
  return service.as('owner').post('/v1/tax-rules', { ...taxRule, rate: '0.095', ...change });
}

describe('a tax rule that begins in the past', () => {
  it('is added where nothing was billed in its days', async () => {
    expectStatus(await addRule({ effectiveFrom: '2026-07-01', effectiveTo: '2026-07-05' }), 201);
    expectStatus(await addRule({ jurisdiction: 'elsewhere', effectiveFrom: '2026-01-01' }), 201);
  });

  it('is refused where bills of those days were taxed by another, and says how many', async () => {
    const { body } = expectProblem(
      await addRule({ effectiveFrom: '2026-07-14' }),
      'validation-failed',
    );
    expect(body.errors).toEqual([
      {
        in: 'body',
        pointer: '/confirmPast',
        code: 'invoices_of_those_days',
        message:
          '1 invoice of those days was taxed by another rule. It stays as it is, and the audit shows what differs. A tax rule cannot be taken back: choose a later day, or send true here to add it all the same.',
      },
    ]);
    // Nothing of it is left behind: the rule before it goes on.
    const path = `/v1/tax-rules?jurisdiction=${taxRule.jurisdiction}&limit=100`;
    const { items } = expectStatus(await service.as('owner').get(path), 200).body;
    expect(items.map(({ effectiveTo }: { effectiveTo: string | null }) => effectiveTo)).toContain(
      null,
    );
  });

  it('is added once the owner confirms it, and the audit shows what differs', async () => {
    const confirmed = await addRule({ effectiveFrom: '2026-07-14', confirmPast: true });
    expect(expectStatus(confirmed, 201).body).not.toHaveProperty('confirmPast');
    await judged(auditDepsOf(service));
    const flags = expectStatus(
      await service.as('owner').get('/v1/audit/flags?limit=100&state=open'),
      200,
    );
    expect(flags.body.items).toMatchObject([
      {
        ticketId: job.ticketId,
        rule: { code: 'tax_wrong', severity: 'look' },
        sentences: [expect.stringContaining('of tax is short on')],
        overCents: 0,
      },
    ]);
  });

  it('of today needs no word: that is the day on which a new rate is entered', async () => {
    expectStatus(await addRule({ rate: '0.0975', effectiveFrom: '2026-07-20' }), 201);
  });
});
