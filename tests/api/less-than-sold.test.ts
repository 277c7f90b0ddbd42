import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { chargedPlate, findLowCharge, findOpenFuse } from '../harness/findings.ts';
import { creditOf, issueInvoice, move } from '../harness/invoice.ts';
import {
  addSite,
  arriveAtJob,
  findCapacitor,
  type Job,
  outdoorPlate,
  type QuoteAt,
} from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import { acceptOnly, charge, closeTicket, doAll, offer } from '../harness/whole-job.ts';
import {
  capacitor,
  finishVisit,
  fitCapacitor,
  sellCapacitor,
  sendClose,
  sendOutcome,
  sendPart,
} from '../harness/work.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
beforeEach(() => service.clock.set('2026-07-14T18:00:00Z'));
afterAll(() => service.close());

const { partCode } = capacitor;
const TASK = 'replace_dual_run_capacitor';
const REASON = { reason: 'The old one was sound after all.' };

function sendLeftOver(job: Job, sold: { quoteId: string; findingId: string }, change: object = {}) {
  const { quoteId, findingId } = sold;
  const body = { quoteId, findingId, partCode, quantity: 1, ...REASON, ...change };
  return service.as('technician').post(`/v1/visits/${job.visitId}/parts-left-over`, body);
}

function linesOf({ body }: QuoteAt, kind: string): [string, number][] {
  const document = body.documents.find((each: { kind: string }) => each.kind === kind);
  return document.lines.map((line: { key: string; amountCents: number }) => [
    line.key,
    line.amountCents,
  ]);
}

describe('a part that was sold and did not go in', () => {
  it('comes off the bill with its tax, and the ticket may be closed', async () => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    expectStatus(await sendOutcome(service, job.visitId, sold), 201);
    const leftOver = expectStatus(await sendLeftOver(job, sold), 201).body;
    expect(leftOver).toMatchObject({ partCode, quantity: 1, measured: null, ...REASON });
    const work = await service.as('technician').get(`/v1/visits/${job.visitId}/work`);
    expect(work.body.partsLeftOver).toEqual([leftOver]);
    const invoice = await issueInvoice(service, await closeTicket(service, job));
    // 55.20 and 8.25 % of it, 4.554.
    expect(linesOf(invoice, 'work_not_done')).toEqual([
      [`undone:part:${sold.findingId}:${TASK}:${partCode}`, -5_520],
      ['undone:tax', -455],
    ]);
    expect(invoice.body.totalCents).toBe(sold.quote.body.acceptance.totalCents - 5_975);
  });

  it('is not also used, and what was used is not also left over', async () => {
    const [first, second] = [await arriveAtJob(service), await arriveAtJob(service)];
    const [one, two] = [await sellCapacitor(service, first), await sellCapacitor(service, second)];
    expectStatus(await sendLeftOver(first, one), 201);
    const used = expectProblem(await sendPart(service, first.visitId, one), 'not-allowed-now');
    expect(used.body).toMatchObject({
      soldQuantity: '1',
      usedQuantity: '0',
      leftOverQuantity: '1',
    });
    expectStatus(await sendPart(service, second.visitId, two), 201);
    expectProblem(await sendLeftOver(second, two), 'not-allowed-now');
  });

  it('also when both are said at the same time', async () => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    const answers = await Promise.all([
      sendPart(service, job.visitId, sold),
      sendLeftOver(job, sold),
      sendLeftOver(job, sold),
    ]);
    expect(answers.map(({ status }) => status).sort()).toEqual([201, 409, 409]);
  });

  it.each([
    ['without a reason', { reason: undefined }, 'validation-failed'],
    ['by measure where it is counted', { quantity: undefined, measured: '1' }, 'validation-failed'],
    ['of another kind', { partCode: 'CON-2P-30-24' }, 'unknown-reference'],
  ] as const)('is refused %s', async (_, change, slug) => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    expectProblem(await sendLeftOver(job, sold, change), slug);
  });

  it('is asked for, when a ticket is closed, until it is one or the other', async () => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    expectStatus(await sendOutcome(service, job.visitId, sold), 201);
    await finishVisit(service, job.visitId);
    const why = { noReadingsWhy: 'The house was dark.' };
    const refused = expectProblem(await sendClose(service, job.ticketId, why), 'work-not-recorded');
    expect(refused.body.missing).toMatchObject([{ what: 'part', partCode }]);
    expectStatus(await sendLeftOver(job, sold), 201);
    expectStatus(await sendClose(service, job.ticketId, why), 200);
  });
});

describe('refrigerant of which less went in than was sold', () => {
  /*
   * Worked with a pencil from the invented price book: 2.25 lb were sold, at 81.38, tax 6.71. 1.5 lb
   * of a 25 lb cylinder at 310.00 cost 18.60, at three times that 55.80, and 8.25 % of it is 4.60.
   */
  it('is billed at the price of what the scale says', async () => {
    const job = await arriveAtJob(
      service,
      await addSite(service, {
        outdoor: { nameplate: { ...outdoorPlate, ...chargedPlate } },
      }),
    );
    const found = await findLowCharge(service, job);
    const quote = await acceptOnly(service, await offer(service, job, [found]));
    const sold = { quoteId: quote.body.id, findingId: found };
    expectStatus(await sendOutcome(service, job.visitId, sold), 201);
    const used = { partCode: 'REF-R-410A', quantity: undefined, measured: '1.5', oldPart: 'none' };
    await charge(service, job, 24);
    expectStatus(await sendPart(service, job.visitId, sold, used), 201);
    const invoice = await issueInvoice(service, await closeTicket(service, job));
    expect(linesOf(invoice, 'work_not_done')).toEqual([
      [`undone:good:${found}:add_refrigerant:REF-R-410A`, 5_580 - 8_138],
      ['undone:tax', 460 - 671],
    ]);
    expect(invoice.body.totalCents).toBe(28_356 - 2_558 - 211);
  });
});

describe('the credit of the visit fee', () => {
  it('is taken back as far as no labor was done, so that the bill is never below a no', async () => {
    const job = await arriveAtJob(service);
    const [fuse, dead] = [await findOpenFuse(service, job), await findCapacitor(service, job)];
    const quote = await acceptOnly(service, await offer(service, job, [fuse, dead]));
    const quoteId = quote.body.id;
    const undone = { outcome: 'not_done', reason: 'The customer wants to sleep on it.' };
    const sold = { quoteId, findingId: dead };
    expectStatus(await sendOutcome(service, job.visitId, sold, undone), 201);
    const used = { partCode: 'FUSE-3A', oldPart: 'none' };
    const reset = { quoteId, findingId: fuse };
    expectStatus(await sendOutcome(service, job.visitId, reset), 201);
    expectStatus(await sendPart(service, job.visitId, reset, used), 201);
    const invoice = await issueInvoice(service, await closeTicket(service, job));
    // The reset is its materials: no labor, and no way in to charge for, so no credit either.
    expect(Object.fromEntries(linesOf(invoice, 'work_not_done'))).toMatchObject({
      'undone:credit:visit_fee': 4_450,
    });
    expect(invoice.body.totalCents).toBeGreaterThan(quote.body.declineTotalCents);

    // All of the fee is what is charged now, and may be credited.
    const { invoice: after } = await move(
      service,
      invoice,
      'credit-memos',
      creditOf(invoice, 'visit_fee', 8_900),
    );
    expect(after.body.balanceCents).toBe(invoice.body.totalCents - 8_900);
  });

  it('stays where the labor that was done is worth it', async () => {
    const job = await arriveAtJob(service);
    const [fuse, dead] = [await findOpenFuse(service, job), await findCapacitor(service, job)];
    const quote = await acceptOnly(service, await offer(service, job, [fuse, dead]));
    const quoteId = quote.body.id;
    await fitCapacitor(service, job.visitId, { quoteId, findingId: dead });
    const undone = { outcome: 'not_done', reason: 'It held.' };
    const reset = { quoteId, findingId: fuse };
    expectStatus(await sendOutcome(service, job.visitId, reset, undone), 201);
    const invoice = await issueInvoice(service, await closeTicket(service, job));
    const lines = Object.fromEntries(linesOf(invoice, 'work_not_done'));
    expect(lines).not.toHaveProperty(['undone:credit:visit_fee']);
  });
});

it('what was used whole is billed whole', async () => {
  const job = await arriveAtJob(service);
  const { quote } = await sellCapacitor(service, job);
  await doAll(service, job, quote);
  const draft = await closeTicket(service, job);
  expect(draft.body.documents.map(({ kind }: { kind: string }) => kind)).toEqual(['accepted']);
});
