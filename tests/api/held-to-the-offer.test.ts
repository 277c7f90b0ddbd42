import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { offerChange, sendTo } from '../harness/change-order.ts';
import { findWornContactor } from '../harness/findings.ts';
import { arriveAtJob, findCapacitor, type Job, yesTo } from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import { offer } from '../harness/whole-job.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());
beforeEach(() => service.clock.set('2026-07-14T18:00:00Z'));

/** Another meter shows the compressor section of the capacitor as good as new. */
async function measureGoodCapacitor({ visitId, outdoorId }: Job): Promise<void> {
  const reading = {
    equipmentId: outdoorId,
    point: 'capacitor_herm',
    method: 'capacitance_meter_disconnected',
    quantity: 'capacitance',
    value: 45.1,
    unit: 'uF',
  };
  const path = `/v1/visits/${visitId}/readings`;
  expectStatus(await service.as('technician').post(path, { readings: [reading] }), 201);
}

async function recordWarranty({ outdoorId }: Job, partsWarrantyUntil: string): Promise<void> {
  const path = `/v1/equipment/${outdoorId}`;
  const ifMatch = (await service.as('dispatcher').get(path)).headers['etag'] ?? '';
  const body = { partsWarrantyUntil };
  expectStatus(await service.as('dispatcher').patch(path, body, { ifMatch }), 200);
}

async function agree({ siteId }: Job): Promise<void> {
  const agreement = {
    planCode: 'two_visits',
    startsOn: '2026-01-01',
    endsOn: '2030-01-01',
    agreedByName: 'Winifred Ashgrove',
  };
  const path = `/v1/sites/${siteId}/agreements`;
  expectStatus(await service.as('dispatcher').post(path, agreement), 201);
}

describe('a yes is not taken', () => {
  it('to work that what was measured since the paper speaks against', async () => {
    const job = await arriveAtJob(service);
    const quote = await offer(service, job, [await findCapacitor(service, job)]);
    service.clock.advance(600_000);
    await measureGoodCapacitor(job);
    expectProblem(await sendTo(service, quote, 'accept', yesTo(quote)), 'evidence-missing');
  });

  it('to an added repair that what was measured since the paper speaks against', async () => {
    const job = await arriveAtJob(service);
    const contactor = await findWornContactor(service, job);
    const root = await offer(service, job, [contactor]);
    const accepted = expectStatus(await sendTo(service, root, 'accept', yesTo(root)), 200);
    const change = await offerChange(service, job, { body: accepted.body, tag: '' }, [
      await findCapacitor(service, job),
    ]);
    service.clock.advance(600_000);
    await measureGoodCapacitor(job);
    expectProblem(await sendTo(service, change, 'accept', yesTo(change)), 'evidence-missing');
  });

  it('at the old price when a warranty recorded since the paper makes the part free', async () => {
    const job = await arriveAtJob(service);
    const quote = await offer(service, job, [await findWornContactor(service, job)]);
    await recordWarranty(job, '2030-01-01');
    expectProblem(await sendTo(service, quote, 'accept', yesTo(quote)), 'price-outdated');
  });

  it('at the old price when an agreement made since the paper takes something off', async () => {
    const job = await arriveAtJob(service);
    const quote = await offer(service, job, [await findCapacitor(service, job)]);
    await agree(job);
    expectProblem(await sendTo(service, quote, 'accept', yesTo(quote)), 'price-outdated');
  });
});

describe('a yes is taken at the price on the paper', () => {
  it('when other readings taken since the paper bear it out', async () => {
    const job = await arriveAtJob(service);
    const quote = await offer(service, job, [await findCapacitor(service, job)]);
    service.clock.advance(600_000);
    await findCapacitor(service, job);
    expectStatus(await sendTo(service, quote, 'accept', yesTo(quote)), 200);
  });

  it('when the warranty that makes the part free ends before the yes', async () => {
    const job = await arriveAtJob(service);
    await recordWarranty(job, '2026-07-14');
    const quote = await offer(service, job, [await findWornContactor(service, job)]);
    service.clock.set('2026-07-15T18:00:00Z');
    const accepted = expectStatus(await sendTo(service, quote, 'accept', yesTo(quote)), 200);
    expect(accepted.body.acceptance.totalCents).toBe(quote.body.options[0].totalCents);
  });

  it('when a warranty is recorded of a machine that is not worked on', async () => {
    const job = await arriveAtJob(service);
    const quote = await offer(service, job, [await findWornContactor(service, job)]);
    await recordWarranty({ ...job, outdoorId: job.indoorId }, '2030-01-01');
    expectStatus(await sendTo(service, quote, 'accept', yesTo(quote)), 200);
  });
});
