import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { offerChange } from '../harness/change-order.ts';
import { findWornContactor } from '../harness/findings.ts';
import { addSite, arriveAtJob, draftQuote, findCapacitor, type Job } from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import { acceptOnly, doAll, offer } from '../harness/whole-job.ts';
import {
  bookNext,
  comeBack,
  finishVisit,
  fitCapacitor,
  measureAfter,
  sell,
  sellCapacitor,
  sendClose,
  sendOutcome,
  sendPart,
  sendReopen,
  ticketAt,
} from '../harness/work.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

const NO_READINGS = { noReadingsWhy: 'Nothing was mended.' };
const contactor = { partCode: 'CON-2P-30-24' };

/** A ticket whose visit is over and which lacks nothing to be closed. */
async function finishedJob(): Promise<Job> {
  const job = await arriveAtJob(service);
  await finishVisit(service, job.visitId);
  return job;
}

/** A ticket that was closed, and reopened because the trouble is back. */
async function reopenedJob(): Promise<Job> {
  const job = await finishedJob();
  expectStatus(await sendClose(service, job.ticketId, NO_READINGS), 200);
  expectStatus(await sendReopen(service, job.ticketId), 200);
  return job;
}

describe('a trip for accepted work', () => {
  let job: Job;
  beforeEach(async () => {
    job = await arriveAtJob(service);
  });

  it('has no second fee', async () => {
    await sellCapacitor(service, job);
    await finishVisit(service, job.visitId, 'waiting_for_part');
    const back = await comeBack(service, job, 'return');
    const visit = await service.as('technician').get(`/v1/visits/${back.visitId}`);
    expect(visit.body).toMatchObject({
      purpose: 'return',
      feeCents: 0,
      feeAgreement: null,
      feeAfterDiscountCents: 0,
    });
  });

  it('is not made when a fee was told for it', async () => {
    await sellCapacitor(service, job);
    await finishVisit(service, job.visitId, 'waiting_for_part');
    const told = { toldFeeCents: 8_900, agreedBy: 'Winifred Ashgrove' };
    const refused = expectProblem(
      await bookNext(service, job.ticketId, { purpose: 'return', feeDisclosure: told }),
      'visit-fee-differs',
    );
    expect(refused.body).toMatchObject({ feeCents: 0, feeAfterDiscountCents: 0 });
  });

  it('brings the part that was waited for without a second fee, also before there is a yes', async () => {
    await finishVisit(service, job.visitId, 'waiting_for_part');
    const told = { toldFeeCents: 8_900, agreedBy: 'Winifred Ashgrove' };
    const refused = await bookNext(service, job.ticketId, { feeDisclosure: told });
    expect(expectProblem(refused, 'not-allowed-now').body.allowedPurposes).toEqual(['return']);
    const booked = await bookNext(service, job.ticketId, { purpose: 'return' });
    const path = `/v1/visits/${expectStatus(booked, 201).body.id}/cancel`;
    const off = { reason: 'The part is late.' };
    const ifMatch = booked.headers['etag'] ?? '';
    expectStatus(await service.as('dispatcher').post(path, off, { ifMatch }), 200);
    // The ticket is as good as new now, and still waits for its part.
    expectProblem(
      await bookNext(service, job.ticketId, { feeDisclosure: told }),
      'not-allowed-now',
    );
    expectStatus(await bookNext(service, job.ticketId, { purpose: 'return' }), 201);
  });

  it('for work that was agreed to is never a call with a second fee', async () => {
    await sellCapacitor(service, job);
    await finishVisit(service, job.visitId, 'waiting_for_answer');
    const told = { toldFeeCents: 8_900, agreedBy: 'Winifred Ashgrove' };
    const refused = await bookNext(service, job.ticketId, { feeDisclosure: told });
    expect(expectProblem(refused, 'not-allowed-now').body.allowedPurposes).toEqual(['return']);
  });

  it('is not made without a yes and without a part: then it is a call, with its fee', async () => {
    await finishVisit(service, job.visitId, 'waiting_for_answer');
    const refused = expectProblem(
      await bookNext(service, job.ticketId, { purpose: 'return' }),
      'not-allowed-now',
    );
    expect(refused.body.allowedPurposes).toEqual(['call']);
    const told = { toldFeeCents: 8_900, agreedBy: 'Winifred Ashgrove' };
    const call = await bookNext(service, job.ticketId, { feeDisclosure: told });
    expect(expectStatus(call, 201).body).toMatchObject({
      purpose: 'call',
      feeCents: 8_900,
    });
  });

  it('is made again without a fee when nobody opened the first time', async () => {
    await sellCapacitor(service, job);
    await finishVisit(service, job.visitId, 'waiting_for_part');
    const purpose = 'return';
    const booked = expectStatus(await bookNext(service, job.ticketId, { purpose }), 201);
    const path = `/v1/visits/${booked.body.id}`;
    const ifMatch = booked.headers['etag'] ?? '';
    const off = { reason: 'The part is late.' };
    expectStatus(await service.as('dispatcher').post(`${path}/cancel`, off, { ifMatch }), 200);
    expectStatus(await bookNext(service, job.ticketId, { purpose }), 201);
  });

  it('is no callback, and no callback is made on a ticket that was never reopened', async () => {
    await sellCapacitor(service, job);
    await finishVisit(service, job.visitId, 'waiting_for_part');
    const refused = await bookNext(service, job.ticketId, { purpose: 'callback' });
    expect(expectProblem(refused, 'not-allowed-now').body.allowedPurposes).toEqual(['return']);
  });
});

describe('the same trouble again', () => {
  it('reopens the ticket, in the caller’s words, and says so', async () => {
    const job = await finishedJob();
    expectStatus(await sendClose(service, job.ticketId, NO_READINGS), 200);
    const closed = await ticketAt(service, job.ticketId);
    const reopened = expectStatus(await sendReopen(service, job.ticketId), 200).body;
    expect(reopened).toMatchObject({
      state: 'new',
      callback: true,
      firstClosedAt: closed.body.firstClosedAt,
    });
    const dispatcher = service.as('dispatcher');
    const listed = await dispatcher.get(`/v1/tickets?number=${reopened.number}`);
    expect(listed.body.items).toMatchObject([{ callback: true }]);
    const { items } = (await dispatcher.get(`/v1/tickets/${job.ticketId}/closings`)).body;
    expect(items[0].callback).toMatchObject({ complaint: 'It blows warm air again.' });
  });

  it.each(['call', 'return'] as const)('takes no %s any more', async (purpose) => {
    const job = await reopenedJob();
    const refused = await bookNext(service, job.ticketId, { purpose });
    expect(expectProblem(refused, 'not-allowed-now').body.allowedPurposes).toEqual(['callback']);
  });

  it('costs no fee, not on the quote either', async () => {
    const job = await reopenedJob();
    const back = await comeBack(service, job, 'callback');
    const visit = await service.as('technician').get(`/v1/visits/${back.visitId}`);
    expect(visit.body).toMatchObject({ purpose: 'callback', feeCents: 0 });
    const drafted = await draftQuote(service, back, [await findCapacitor(service, back)]);
    // 55.20 for the part, 75.49 for half an hour, 25.16 for the panels, 4.55 of tax on the part.
    expect(drafted.body.options[0].totalCents).toBe(16_040);
    expect(drafted.body.declineTotalCents).toBe(0);
  });

  it('may wait for a part and be gone to again, still without a fee', async () => {
    const job = await reopenedJob();
    const back = await comeBack(service, job, 'callback');
    await finishVisit(service, back.visitId, 'waiting_for_part');
    const again = await comeBack(service, back, 'callback');
    await finishVisit(service, again.visitId);
    const closed = expectStatus(await sendClose(service, job.ticketId, NO_READINGS), 200);
    expect(closed.body.callback).toBe(false);
    const told = { purpose: 'callback' };
    expectStatus(await sendReopen(service, job.ticketId), 200);
    expectStatus(await bookNext(service, job.ticketId, told), 201);
  });

  it('is closed by readings of now: those from before it was reopened do not count', async () => {
    const job = await arriveAtJob(service);
    await measureAfter(service, job);
    await finishVisit(service, job.visitId);
    expectStatus(await sendClose(service, job.ticketId), 200);
    expectStatus(await sendReopen(service, job.ticketId), 200);
    const back = await comeBack(service, job, 'callback');
    await finishVisit(service, back.visitId);
    const refused = expectProblem(await sendClose(service, job.ticketId), 'work-not-recorded');
    expect(refused.body.missing).toMatchObject([{ what: 'readings_after' }]);
  });

  it('is not written down at the visit that was closed already', async () => {
    const job = await reopenedJob();
    const back = await comeBack(service, job, 'callback');
    const sold = await sellCapacitor(service, back);
    const refused = await sendOutcome(service, job.visitId, sold);
    expect(expectProblem(refused, 'not-allowed-now').body.detail).toContain('callback');
    expectStatus(await sendOutcome(service, back.visitId, sold), 201);
  });

  it('is refused for a ticket that is not closed, and to whoever was never there', async () => {
    const job = await finishedJob();
    const refused = expectProblem(await sendReopen(service, job.ticketId), 'not-allowed-now');
    expect(refused.body).toMatchObject({ currentState: 'work_complete', action: 'reopen' });
    const { tag } = await ticketAt(service, job.ticketId);
    const path = `/v1/tickets/${job.ticketId}/reopen`;
    const body = { complaint: 'Again.' };
    const technician = service.as('technician');
    expectProblem(await technician.post(path, body, { ifMatch: tag }), 'forbidden');
  });

  it('is called in once, however many pick up the phone', async () => {
    const job = await finishedJob();
    expectStatus(await sendClose(service, job.ticketId, NO_READINGS), 200);
    const answers = await Promise.all([1, 2, 3].map(() => sendReopen(service, job.ticketId)));
    expect(answers.filter(({ status }) => status === 200)).toHaveLength(1);
  });
});

describe('a repair that did not cure is credited toward the right one', () => {
  /*
   * Worked with a pencil from the invented price book; nothing here calls the engine.
   *   contactor   65.25 + 35 min 88.07 + panels 25.16, tax 8.25 % of 65.25 5.38     183.86
   *   capacitor   55.20 + 30 min 75.49 + panels 25.16, tax 8.25 % of 55.20 4.55     160.40
   * The fee of the first visit, 89.00 with 44.50 of it credited at the yes, stays.
   */
  it.each([
    {
      name: 'in full, where the right one comes to more',
      first: 'capacitor',
      paidCents: 4_450 + 16_040,
      credited: [
        ['part', 5_520],
        ['labor', 7_549],
        ['access', 2_516],
        ['tax', 455],
      ],
      creditedCents: 16_040,
    },
    {
      name: 'up to what the right one comes to, the last line cut to the cent',
      first: 'contactor',
      paidCents: 4_450 + 18_386,
      credited: [
        ['part', 6_525],
        ['labor', 8_807],
        ['access', 170],
        ['tax', 538],
      ],
      creditedCents: 16_040,
    },
  ] as const)('$name', async ({ first, paidCents, credited, creditedCents }) => {
    const job = await arriveAtJob(service, await addSite(service));
    const wrong = await mend(job, first);
    expectStatus(await sendClose(service, job.ticketId, NO_READINGS), 200);
    const invoice = await issueInvoice(job);
    expect(invoice.totalCents).toBe(paidCents);

    expectStatus(await sendReopen(service, job.ticketId), 200);
    const back = await comeBack(service, job, 'callback');
    await mend(back, first === 'capacitor' ? 'contactor' : 'capacitor');
    const how = { ...NO_READINGS, didNotCure: [wrong] };
    expectStatus(await sendClose(service, job.ticketId, how), 200);
    await issueInvoice(job);

    const now = expectStatus(await service.as('owner').get(`/v1/invoices/${invoice.id}`), 200).body;
    expect(now.creditedCents).toBe(creditedCents);
    expect(now.balanceCents).toBe(paidCents - creditedCents);
    const memo = await service.owner.query(
      `SELECT l.price_class, l.amount_cents FROM credit_memo_line l
       JOIN credit_memo m ON m.id = l.memo_id
       WHERE m.invoice_id = $1 AND m.kind = 'did_not_cure' ORDER BY l.position`,
      [invoice.id],
    );
    expect(memo.rows.map((row) => [row.price_class, row.amount_cents])).toEqual(credited);
  });

  it('nothing is credited for our own work that is mended again for nothing', async () => {
    const job = await arriveAtJob(service, await addSite(service));
    const wrong = await mend(job, 'capacitor');
    expectStatus(await sendClose(service, job.ticketId, NO_READINGS), 200);
    const invoice = await issueInvoice(job);
    expectStatus(await sendReopen(service, job.ticketId), 200);
    await mend(await comeBack(service, job, 'callback'), 'capacitor');
    const how = { ...NO_READINGS, didNotCure: [wrong] };
    expectStatus(await sendClose(service, job.ticketId, how), 200);
    await issueInvoice(job);
    const now = expectStatus(await service.as('owner').get(`/v1/invoices/${invoice.id}`), 200).body;
    expect(now.creditedCents).toBe(0);
  });

  it('also when the invoice of the first one is issued last', async () => {
    const job = await arriveAtJob(service, await addSite(service));
    const wrong = await mend(job, 'capacitor');
    expectStatus(await sendClose(service, job.ticketId, NO_READINGS), 200);
    expectStatus(await sendReopen(service, job.ticketId), 200);
    await mend(await comeBack(service, job, 'callback'), 'contactor');
    const how = { ...NO_READINGS, didNotCure: [wrong] };
    expectStatus(await sendClose(service, job.ticketId, how), 200);
    const closings = await service.as('owner').get(`/v1/tickets/${job.ticketId}/closings`);
    expect(closings.body.items.map((each: { didNotCure: string[] }) => each.didNotCure)).toEqual([
      [],
      [wrong],
    ]);
    const right = await issueInvoice(job, 'newest');
    expect(right.creditedCents, 'the first one is not billed yet').toBe(0);
    const first = await issueInvoice(job, 'newest');
    expect(first.creditedCents).toBe(16_040);
  });

  it('also when wrong and right were done on one trip', async () => {
    const job = await arriveAtJob(service, await addSite(service));
    const wrong = await findCapacitor(service, job);
    const root = await acceptOnly(service, await offer(service, job, [wrong]));
    await doAll(service, job, root);
    service.clock.advance(60_000);
    const right = [await findWornContactor(service, job)];
    const change = await acceptOnly(service, await offerChange(service, job, root, right));
    await doAll(service, job, change);
    await finishVisit(service, job.visitId);
    const how = { ...NO_READINGS, didNotCure: [wrong] };
    expectStatus(await sendClose(service, job.ticketId, how), 200);
    const { totalCents, creditedCents } = await issueInvoice(job);
    // The right one comes to 143.60, which is less than the 160.40 of the wrong one.
    expect({ totalCents, creditedCents }).toEqual({
      totalCents: 4_450 + 16_040 + 14_360,
      creditedCents: 14_360,
    });
  });

  it('is remembered until the right one is billed', async () => {
    const job = await arriveAtJob(service, await addSite(service));
    const wrong = await mend(job, 'capacitor');
    const how = { ...NO_READINGS, didNotCure: [wrong], complaintGone: 'no' };
    expectStatus(await sendClose(service, job.ticketId, how), 200);
    const { id } = await issueInvoice(job);
    expectStatus(await sendReopen(service, job.ticketId), 200);
    await mend(await comeBack(service, job, 'callback'), 'contactor');
    expectStatus(await sendClose(service, job.ticketId, NO_READINGS), 200);
    await issueInvoice(job);
    const now = expectStatus(await service.as('owner').get(`/v1/invoices/${id}`), 200).body;
    expect(now.creditedCents).toBe(16_040);
  });

  it('only what was mended on the ticket can have failed', async () => {
    const other = await arriveAtJob(service, await addSite(service));
    const elsewhere = await mend(other, 'capacitor');
    const job = await reopenedJob();
    await finishVisit(service, (await comeBack(service, job, 'callback')).visitId);
    for (const findingId of [elsewhere, crypto.randomUUID()]) {
      const change = { ...NO_READINGS, didNotCure: [findingId] };
      const refused = await sendClose(service, job.ticketId, change);
      expect(expectProblem(refused, 'unknown-reference').body.errors[0].pointer).toBe(
        '/didNotCure/0',
      );
    }
  });

  /** Mends one fault to the end of the visit. @returns its finding */
  async function mend(at: Job, what: 'capacitor' | 'contactor'): Promise<string> {
    const isCapacitor = what === 'capacitor';
    const findingId = isCapacitor
      ? await findCapacitor(service, at)
      : await findWornContactor(service, at);
    const quote = await sell(service, at, [findingId]);
    const sold = { quoteId: quote.body.id, findingId };
    if (isCapacitor) await fitCapacitor(service, at.visitId, sold);
    else {
      expectStatus(await sendPart(service, at.visitId, sold, contactor), 201);
      expectStatus(await sendOutcome(service, at.visitId, sold), 201);
    }
    await finishVisit(service, at.visitId);
    return findingId;
  }

  /** Issues the oldest draft of a ticket, or the newest. */
  async function issueInvoice(
    { ticketId }: Job,
    order: 'oldest' | 'newest' = 'oldest',
  ): Promise<{ id: string; totalCents: number; creditedCents: number }> {
    const owner = service.as('owner');
    const query = `ticketId=${ticketId}&state=draft`;
    const listed = expectStatus(await owner.get(`/v1/invoices?${query}`), 200);
    const path = `/v1/invoices/${listed.body.items.at(order === 'oldest' ? 0 : -1).id}`;
    const ifMatch = (await owner.get(path)).headers['etag'] ?? '';
    return expectStatus(await owner.post(`${path}/issue`, {}, { ifMatch }), 200).body;
  }
});

describe('until the end of the thirtieth day after it was closed, by the company’s clock', () => {
  // Clocks go back on November 1, 2026 and forward on March 14, 2027, in Chicago as everywhere there.
  it.each([
    {
      name: 'over a summer month',
      closedAt: '2026-08-10T20:15:00Z',
      last: '2026-09-10T04:59:59Z',
      over: '2026-09-10T05:00:00Z',
    },
    {
      name: 'over the night with an hour more',
      closedAt: '2026-10-15T05:00:30Z',
      last: '2026-11-15T05:59:59Z',
      over: '2026-11-15T06:00:00Z',
    },
    {
      name: 'over the night with an hour less',
      closedAt: '2027-02-21T05:59:00Z',
      last: '2027-03-23T04:59:59Z',
      over: '2027-03-23T05:00:00Z',
    },
  ])('$name', async ({ closedAt, last, over }) => {
    const present = service.clock.now().toISOString();
    const [inTime, late] = [await finishedJob(), await finishedJob()];
    service.clock.set(closedAt);
    for (const { ticketId } of [inTime, late]) {
      expectStatus(await sendClose(service, ticketId, NO_READINGS), 200);
    }
    service.clock.set(last);
    const reopened = await sendReopen(service, inTime.ticketId);
    service.clock.set(over);
    const refused = await sendReopen(service, late.ticketId);
    service.clock.set(present);
    expectStatus(reopened, 200);
    expect(expectProblem(refused, 'not-allowed-now').body).toMatchObject({
      currentState: 'closed',
      action: 'reopen',
      allowedActions: [],
    });
  });
});
