import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { offerChange } from '../harness/change-order.ts';
import { findCompressor, proveGroundedCompressor } from '../harness/compressor.ts';
import {
  chargedPlate,
  findLowCharge,
  findOpenFuse,
  findPluggedDrain,
  findWornContactor,
} from '../harness/findings.ts';
import {
  addSite,
  arriveAtJob,
  findCapacitor,
  type Job,
  outdoorPlate,
  type QuoteAt,
} from '../harness/job.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import {
  acceptOnly,
  addCounty,
  addSecondSystem,
  billAs,
  charge,
  closeTicket,
  declineAll,
  doAll,
  expectCharges,
  moveMoney,
  offer,
  offerPart,
} from '../harness/whole-job.ts';
import { comeBack, sendReopen } from '../harness/work.ts';
import * as sheets from './sheets.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
beforeEach(() => service.clock.set('2026-07-14T18:00:00Z'));
afterAll(() => service.close());

describe('a whole ticket, from the call to the money, comes to what a pencil makes of it', () => {
  it('several faults: each task but the dearest at less, each cabinet opened once', async () => {
    const job = await arriveAtJob(service);
    const found = await findThree(job);
    const quote = await offer(service, job, [...found]);
    await acceptAndSettle(job, quote, sheets.severalFaults);
  });

  it('a partial yes: only what was wanted, the dearest of it whole', async () => {
    const job = await arriveAtJob(service);
    const [capacitor, contactor, drain] = await findThree(job);
    const offered = await offer(service, job, [capacitor, contactor, drain]);
    expectCharges(offered.body.options[0], sheets.partialYes.offered);
    const wanted = await offerPart(service, offered, [contactor, drain]);
    await acceptAndSettle(job, wanted, sheets.partialYes);
  });

  it('a no: the fee with its tax and nothing else', async () => {
    const jurisdiction = await addCounty(service, sheets.declinedTax);
    const job = await arriveAtJob(service, await addSite(service, { jurisdiction }));
    const quote = await offer(service, job, [await findCapacitor(service, job)]);
    expectCharges(quote.body.options[0], sheets.declined.offered);
    await declineAll(service, quote);
    await closeAndSettle(job, sheets.declined);
  });

  it('two systems of one house: opened, and paid, one by one', async () => {
    const jurisdiction = await addCounty(service, sheets.twoSystemsTax);
    const site = await addSite(service, { jurisdiction });
    const job = await arriveAtJob(service, site);
    const upstairs = { ...job, ...(await addSecondSystem(service, site)) };
    const found = [await findCapacitor(service, job), await findCapacitor(service, upstairs)];
    await acceptAndSettle(job, await offer(service, job, found), sheets.twoSystems);
  });

  it('a recall: the same fault ten days later costs nothing, and neither does the trip', async () => {
    const job = await arriveAtJob(service);
    const quote = await offer(service, job, [await findCapacitor(service, job)]);
    await acceptAndSettle(job, quote, sheets.beforeRecall);
    service.clock.set('2026-07-24T18:00:00Z');
    const again = await calledBack(job);
    const recalled = await offer(service, again, [await findCapacitor(service, again)]);
    await acceptAndSettle(again, recalled, sheets.recall);
  });

  it('a Sunday: its own fee, and labor and access at one and a half', async () => {
    service.clock.set('2026-07-19T18:00:00Z');
    const nameplate = { ...outdoorPlate, ...chargedPlate };
    const site = await addSite(service, { outdoor: { nameplate } });
    const job = await arriveAtJob(service, site, {
      windowStart: '2026-07-19T18:00:00Z',
      windowEnd: '2026-07-19T20:00:00Z',
      toldFeeCents: 12_900,
    });
    const found = [await findLowCharge(service, job), await findPluggedDrain(service, job)];
    const quote = await offer(service, job, found);
    await acceptAndSettle(job, quote, sheets.afterHours, 36);
  });

  it('cash in three parts: a receipt for each, and never more than is owed', async () => {
    const job = await arriveAtJob(service);
    const found = [await findCapacitor(service, job), await findOpenFuse(service, job)];
    const quote = await offer(service, job, found);
    const { body } = await acceptAndSettle(job, quote, sheets.cashInParts);
    const receipts = body.payments.map((paid: { receiptNumber: number }) => paid.receiptNumber);
    expect(new Set(receipts).size).toBe(3);
  });

  it('a lump sum: a compressor, and no tax to the customer', async () => {
    const jurisdiction = await addCounty(service, sheets.lumpSumTax);
    const job = await arriveAtJob(service, await addSite(service, { jurisdiction }));
    await proveGroundedCompressor(service, job);
    const quote = await offer(service, job, [await findCompressor(service, job)]);
    await acceptAndSettle(job, quote, sheets.lumpSum, 104);
  });

  it('two change orders: access paid once, each task but the dearest of the visit at less', async () => {
    const [first, second, third] = sheets.changeOrders.documents;
    const job = await arriveAtJob(service);
    const root = await offer(service, job, [await findPluggedDrain(service, job)]);
    expectCharges(root.body.options[0], first);
    const accepted = await acceptOnly(service, root);
    await doAll(service, job, accepted);
    for (const [find, sheet] of [
      [findCapacitor, second],
      [findWornContactor, third],
    ] as const) {
      const change = await offerChange(service, job, accepted, [await find(service, job)]);
      expectCharges(change.body.options[0], sheet);
      await doAll(service, job, await acceptOnly(service, change));
    }
    await closeAndSettle(job, sheets.changeOrders);
  });

  it('two credit memos: what a line came to after its discount, the tax to the last cent', async () => {
    const job = await arriveAtJob(service);
    const found = [await findCapacitor(service, job), await findWornContactor(service, job)];
    const quote = await offer(service, job, found);
    await acceptAndSettle(job, quote, sheets.creditMemos);
  });
});

async function findThree(job: Job): Promise<[string, string, string]> {
  return [
    await findCapacitor(service, job),
    await findWornContactor(service, job),
    await findPluggedDrain(service, job),
  ];
}

/** The yes to a quote of one option, its work, the closing, the invoice and the money. */
async function acceptAndSettle(
  job: Job,
  quote: QuoteAt,
  sheet: sheets.Sheet,
  chargedOz = 0,
): Promise<QuoteAt> {
  expectCharges(quote.body.options[0], sheet.documents[0]);
  const accepted = await acceptOnly(service, quote);
  if (chargedOz > 0) await charge(service, job, chargedOz);
  await doAll(service, job, accepted);
  return closeAndSettle(job, sheet);
}

async function closeAndSettle(job: Job, sheet: sheets.Sheet): Promise<QuoteAt> {
  const invoice = await billAs(service, await closeTicket(service, job), sheet);
  return moveMoney(service, invoice, sheet.money);
}

/** The customer calls again: the ticket is reopened and the technician comes back. */
async function calledBack(job: Job): Promise<Job> {
  expectStatus(await sendReopen(service, job.ticketId), 200);
  return comeBack(service, job, 'callback');
}
