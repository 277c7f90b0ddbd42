import { afterAll, beforeAll, beforeEach, describe, it } from 'vitest';
import { findCompressor, proveGroundedCompressor } from '../harness/compressor.ts';
import {
  chargedPlate,
  findLowCharge,
  findOpenFuse,
  findPluggedDrain,
  findWornContactor,
} from '../harness/findings.ts';
import { addSite, arriveAtJob, findCapacitor, outdoorPlate } from '../harness/job.ts';
import { createTestService, type TestService } from '../harness/test-service.ts';
import {
  acceptOnly,
  addCounty,
  addSecondSystem,
  declineAll,
  expectCharges,
  offer,
} from '../harness/whole-job.ts';
import * as sheets from './sheets.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
beforeEach(() => service.clock.set('2026-07-14T18:00:00Z'));
afterAll(() => service.close());

describe('whole tickets come to the cent to what a pencil makes of them', () => {
  it('several faults, the second and third task at less', async () => {
    const job = await arriveAtJob(service);
    const found = [
      await findCapacitor(service, job),
      await findWornContactor(service, job),
      await findPluggedDrain(service, job),
    ];
    const quote = await offer(service, job, found);
    expectCharges(quote.body.options[0], sheets.severalFaults.documents[0]);
    await acceptOnly(service, quote);
  });

  it('a no: the fee and its tax', async () => {
    const jurisdiction = await addCounty(service, sheets.declinedTax);
    const job = await arriveAtJob(service, await addSite(service, { jurisdiction }));
    const quote = await offer(service, job, [await findCapacitor(service, job)]);
    expectCharges(quote.body.options[0], sheets.declined.offered);
    await declineAll(service, quote);
  });

  it('two systems of one house: access for each', async () => {
    const jurisdiction = await addCounty(service, sheets.twoSystemsTax);
    const site = await addSite(service, { jurisdiction });
    const job = await arriveAtJob(service, site);
    const upstairs = { ...job, ...(await addSecondSystem(service, site)) };
    const found = [await findCapacitor(service, job), await findCapacitor(service, upstairs)];
    const quote = await offer(service, job, found);
    expectCharges(quote.body.options[0], sheets.twoSystems.documents[0]);
  });

  it('a Sunday: its fee, and labor at one and a half', async () => {
    const site = await addSite(service, {
      outdoor: { nameplate: { ...outdoorPlate, ...chargedPlate } },
    });
    const job = await arriveAtJob(service, site, {
      windowStart: '2026-07-19T18:00:00Z',
      windowEnd: '2026-07-19T20:00:00Z',
      toldFeeCents: 12_900,
    });
    const quote = await offer(service, job, [
      await findLowCharge(service, job),
      await findPluggedDrain(service, job),
    ]);
    expectCharges(quote.body.options[0], sheets.afterHours.documents[0]);
  });

  it('a control fuse beside a capacitor: its material alone', async () => {
    const job = await arriveAtJob(service);
    const quote = await offer(service, job, [
      await findCapacitor(service, job),
      await findOpenFuse(service, job),
    ]);
    expectCharges(quote.body.options[0], sheets.cashInParts.documents[0]);
  });

  it('a lump sum: a compressor without tax to the customer', async () => {
    const jurisdiction = await addCounty(service, sheets.lumpSumTax);
    const job = await arriveAtJob(service, await addSite(service, { jurisdiction }));
    await proveGroundedCompressor(service, job);
    const quote = await offer(service, job, [await findCompressor(service, job)]);
    expectCharges(quote.body.options[0], sheets.lumpSum.documents[0]);
  });

  it('the quote that change orders follow', async () => {
    const job = await arriveAtJob(service);
    const quote = await offer(service, job, [await findPluggedDrain(service, job)]);
    expectCharges(quote.body.options[0], sheets.changeOrders.documents[0]);
  });

  it('a capacitor and a contactor behind one cabinet', async () => {
    const job = await arriveAtJob(service);
    const quote = await offer(service, job, [
      await findCapacitor(service, job),
      await findWornContactor(service, job),
    ]);
    expectCharges(quote.body.options[0], sheets.creditMemos.documents[0]);
  });
});
