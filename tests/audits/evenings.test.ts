import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { judgeJob } from '../../src/auditing/index.ts';
import { nothingKnown } from '../../src/audits/known-terms.ts';
import { loadJobs } from '../../src/audits/load-jobs.ts';
import { storeOf } from '../../src/audits/store.ts';
import { arriveAtJob, findCapacitor, type Site } from '../harness/job.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import { closeTicket, declineAll, offer } from '../harness/whole-job.ts';
import { billedJob } from './billed-job.ts';
import { flaggedJob } from './judged.ts';
import { pastGuards } from './past-guards.ts';

/*
 * The company works in America/Chicago: half past eleven in the evening of July 14 is half past four
 * in the morning of July 15 in UTC. PRODUCT.md, "Words": days are the company's own.
 */
const LATE_ON_JULY_14 = '2026-07-15T04:30:00Z';

let service: TestService;

beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());
beforeEach(() => service.clock.set('2026-07-14T18:00:00Z'));

describe('a yes late in the evening', () => {
  it('is of that evening: its part is still warranted on the last day', async () => {
    service.clock.set(LATE_ON_JULY_14);
    const job = await billedJob(service);
    await partsWarrantedUntil(job, '2026-07-14');
    expect(await load(job.ticketId)).toMatchObject({
      documents: [{ agreed: { acceptedAt: LATE_ON_JULY_14_EXACTLY, acceptedOn: '2026-07-14' } }],
      findings: [{ foundOn: '2026-07-14' }],
    });
    expect(await flagged(job.ticketId)).toEqual(['warranted_part_charged']);
    await partsWarrantedUntil(job, '2026-07-13');
    expect(await flagged(job.ticketId)).toEqual([]);
  });

  it('is of that evening: our own work that comes back is still warranted on the last day', async () => {
    const first = await billedJob(service);
    await laborWarrantedUntil(first.findingId, '2026-07-01');
    service.clock.set(LATE_ON_JULY_14);
    const again = await billedJob(service, first);
    expect(await flagged(again.ticketId)).not.toContain('recall_charged');
    await laborWarrantedUntil(first.findingId, '2026-07-14');
    expect(await flagged(again.ticketId)).toContain('recall_charged');
  });
});

describe('a no late in the evening', () => {
  it('has a fee for a trip of that evening: the last day on which our own work is free', async () => {
    const first = await billedJob(service);
    await laborWarrantedUntil(first.findingId, '2026-07-01');
    service.clock.set(LATE_ON_JULY_14);
    const again = await declinedJob(first);
    expect(await flagged(again)).toEqual([]);
    await laborWarrantedUntil(first.findingId, '2026-07-14');
    expect(await flagged(again)).toContain('recall_charged');
  });
});

describe('a job that ended late in the evening', () => {
  it('is of the period that ends with that day, in the sum and among the flags', async () => {
    service.clock.set(LATE_ON_JULY_14);
    const { job } = await flaggedJob(service);
    const [within, after] = ['from=2026-07-14&to=2026-07-14', 'from=2026-07-15'];
    expect(await ticketsOfFlags(within)).toContain(job.ticketId);
    expect(await ticketsOfFlags(after)).not.toContain(job.ticketId);
    const sum = (period: string) => service.as('owner').get(`/v1/audit?${period}`);
    expect(expectStatus(await sum(within), 200).body.tickets.flagged).toBeGreaterThan(0);
    const none = { ended: 0, judged: 0, flagged: 0 };
    expect(expectStatus(await sum(after), 200).body.tickets).toEqual(none);
  });
});

const LATE_ON_JULY_14_EXACTLY = '2026-07-15T04:30:00.000Z';

/** A trip after which the customer said no, with the fee billed. */
async function declinedJob(site: Site): Promise<string> {
  const job = await arriveAtJob(service, site);
  const findingId = await findCapacitor(service, job);
  await declineAll(service, await offer(service, job, [findingId]));
  const { body, tag } = await closeTicket(service, job, 'no');
  const path = `/v1/invoices/${body.id}/issue`;
  expectStatus(await service.as('dispatcher').post(path, {}, { ifMatch: tag }), 200);
  return job.ticketId;
}

async function ticketsOfFlags(period: string): Promise<string[]> {
  const listed = await service.as('owner').get(`/v1/audit/flags?limit=100&${period}`);
  const { items } = expectStatus(listed, 200).body;
  return items.map(({ ticketId }: { ticketId: string }) => ticketId);
}

/** As somebody learns of it who looks at the nameplate again. */
function partsWarrantedUntil({ outdoorId }: Site, day: string): Promise<void> {
  const until = 'UPDATE equipment SET parts_warranty_until = $2::date WHERE id = $1';
  return pastGuards(service, [until], [outdoorId, day]);
}

/** What was sold again was priced while the warranty seemed to be over. */
function laborWarrantedUntil(findingId: string, day: string): Promise<void> {
  const until = 'UPDATE work_outcome SET labor_warranty_until = $2::date WHERE finding_id = $1';
  return pastGuards(service, [until], [findingId, day]);
}

async function load(ticketId: string) {
  const [loaded] = await service.db.transact(
    (tx) => loadJobs(storeOf(tx), [ticketId], nothingKnown()),
    'ReadCommitted',
  );
  if (loaded === undefined) throw new Error('the ticket is not over');
  return loaded.facts;
}

async function flagged(ticketId: string): Promise<string[]> {
  return judgeJob(await load(ticketId)).flags.map(({ ruleCode }) => ruleCode);
}
