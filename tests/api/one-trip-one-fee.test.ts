import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { taxRule } from '../../seed/company.ts';
import { consumerRules } from '../../seed/consumer-rules.ts';
import { offerChange, sendTo } from '../harness/change-order.ts';
import { findPluggedDrain, findWornContactor } from '../harness/findings.ts';
import { closeSoldJob, issueInvoice } from '../harness/invoice.ts';
import { addSite, arriveAtJob, findCapacitor, type Job, type QuoteAt } from '../harness/job.ts';
import { tagged } from '../harness/tagged.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import { acceptOnly, closeTicket, declineAll, doAll, offer } from '../harness/whole-job.ts';
import {
  bookNext,
  comeBack,
  finishVisit,
  fitCapacitor,
  sellCapacitor,
  sendOutcome,
  sendReopen,
} from '../harness/work.ts';

/*
 * What a trip and its fee come to, whatever happened at it. Worked with a pencil from the invented
 * price book, in cents:
 *
 *   visit fee 8,900; half of it, 4,450, is credited when work is accepted
 *   capacitor: part 5,520, tax on it 455, labor 7,549, access 2,516             16,040
 *   contactor alone: part 6,525, tax 538, labor 8,807, access 2,516             18,386
 *   contactor as the second task, the way in paid already                       14,360
 */
const FEE = 8_900;
const CREDIT = 4_450;
const CAPACITOR = 16_040;
const CONTACTOR = 18_386;

const NOON = '2026-07-14T18:00:00Z';
let service: TestService;
beforeAll(async () => {
  service = await createTestService();
  const jurisdiction = 'cancel_county';
  const owner = service.as('owner');
  const right = { ...consumerRules[0], jurisdiction };
  expectStatus(await owner.post('/v1/consumer-rules', right), 201);
  expectStatus(await owner.post('/v1/tax-rules', { ...taxRule, jurisdiction }), 201);
});
beforeEach(() => service.clock.set(NOON));
afterAll(() => service.close());

const undone = { outcome: 'not_done', reason: 'The part did not fit the bracket.' };

async function bill(job: Job): Promise<QuoteAt> {
  return issueInvoice(service, await closeTicket(service, job));
}

function creditPutBack({ body }: QuoteAt): number {
  const lines = body.documents.flatMap(({ lines }: { lines: object[] }) => lines);
  const found = lines.find(({ key }: { key: string }) => key === 'undone:credit:visit_fee');
  return found?.amountCents ?? 0;
}

describe('the fee is credited for the work of a visit, whichever paper sold it', () => {
  it('work that was not done and is sold again bills what selling it once would', async () => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    expectStatus(await sendOutcome(service, job.visitId, sold, undone), 201);
    const again = await acceptOnly(
      service,
      await offerChange(service, job, sold.quote, [sold.findingId]),
    );
    await doAll(service, job, again);
    expect((await bill(job)).body.totalCents).toBe(FEE - CREDIT + CAPACITOR);
  });

  it('a quote of which nothing was done keeps the credit that its change order earns', async () => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    const contactor = [await findWornContactor(service, job)];
    const change = await acceptOnly(
      service,
      await offerChange(service, job, sold.quote, contactor),
    );
    expectStatus(await sendOutcome(service, job.visitId, sold, undone), 201);
    await doAll(service, job, change);
    const invoice = await bill(job);
    expect(creditPutBack(invoice)).toBe(0);
    expect(invoice.body.totalCents).toBe(FEE - CREDIT + change.body.acceptance.totalCents);
    expect(invoice.body.totalCents).toBeLessThanOrEqual(FEE - CREDIT + CONTACTOR);
  });
});

describe('a trip for our own work that came back has no fee', () => {
  async function mendedBefore() {
    const first = await arriveAtJob(service);
    const sold = await sellCapacitor(service, first);
    await fitCapacitor(service, first.visitId, sold);
    await finishVisit(service, first.visitId);
    service.clock.set('2026-07-20T18:00:00Z');
    return arriveAtJob(service, first);
  }

  it('when that is found before the paper and when it is found after it, to the same cent', async () => {
    const before = await mendedBefore();
    const both = [await findPluggedDrain(service, before), await findCapacitor(service, before)];
    const atOnce = await acceptOnly(service, await offer(service, before, both));
    await doAll(service, before, atOnce);
    const expected = (await bill(before)).body.totalCents;

    service.clock.set(NOON);
    const after = await mendedBefore();
    const drain = [await findPluggedDrain(service, after)];
    const root = await acceptOnly(service, await offer(service, after, drain));
    service.clock.advance(60_000);
    const recalled = [await findCapacitor(service, after)];
    const change = await acceptOnly(service, await offerChange(service, after, root, recalled));
    await doAll(service, after, root);
    await doAll(service, after, change);
    expect((await bill(after)).body.totalCents).toBe(expected);
  });

  it('also when the paper of it was declined before', async () => {
    const job = await mendedBefore();
    await declineAll(service, await offer(service, job, [await findPluggedDrain(service, job)]));
    service.clock.advance(60_000);
    await findCapacitor(service, job);
    expect((await bill(job)).body).toMatchObject({ documents: [], totalCents: 0 });
  });
});

describe('one fee for one trip', () => {
  it('none for a trip that was booked as a call and did what was agreed to before it', async () => {
    const job = await arriveAtJob(service);
    const quote = await offer(service, job, [await findCapacitor(service, job)]);
    await finishVisit(service, job.visitId, 'waiting_for_answer');
    const told = { toldFeeCents: FEE, agreedBy: 'Winifred Ashgrove' };
    const booked = await bookNext(service, job.ticketId, { feeDisclosure: told });
    const accepted = await acceptOnly(service, quote);
    let tag = expectStatus(booked, 201).headers['etag'] ?? '';
    for (const verb of ['start-travel', 'arrive']) {
      const path = `/v1/visits/${booked.body.id}/${verb}`;
      const moved = await service.as('technician').post(path, {}, { ifMatch: tag });
      tag = expectStatus(moved, 200).headers['etag'] ?? '';
    }
    const back = { ...job, visitId: booked.body.id, visitTag: tag };
    await doAll(service, back, accepted);
    expect((await bill(back)).body.totalCents).toBe(FEE - CREDIT + CAPACITOR);
  });

  it('no second one after a yes was billed, taken back and credited', async () => {
    const site = await addSite(service, { jurisdiction: 'cancel_county' });
    const first = await closeSoldJob(service, site);
    await issueInvoice(service, first.draft);
    const path = `/v1/quotes/${first.quote.body.id}`;
    const quote = tagged(expectStatus(await service.as('technician').get(path), 200));
    const notice = { cancelledByName: 'Winifred Ashgrove', noticeText: 'I take it back.' };
    expectStatus(await sendTo(service, quote, 'cancel-acceptance', notice), 200);
    expectStatus(await sendReopen(service, first.ticketId), 200);
    const back = await comeBack(service, first, 'callback');
    const contactor = [await findWornContactor(service, back)];
    const right = await acceptOnly(service, await offer(service, back, contactor));
    await doAll(service, back, right);
    const invoice = await bill(back);
    expect(invoice.body.documents).toHaveLength(1);
    expect(invoice.body.totalCents).toBe(CONTACTOR);
  });
});
