import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { taxRule } from '../../seed/company.ts';
import { consumerRules } from '../../seed/consumer-rules.ts';
import { priceBook } from '../../seed/price-book.ts';
import { recalledFindings } from '../../src/visits/index.ts';

import { assertReprices } from '../harness/assert-reprices.ts';
import { amounts, sendTo } from '../harness/change-order.ts';
import { findPluggedDrain, findWornContactor } from '../harness/findings.ts';
import {
  addSite,
  arriveAtJob,
  draftQuote,
  findCapacitor,
  issueQuote,
  type Job,
  type Site,
  yesTo,
} from '../harness/job.ts';
import { tagged } from '../harness/tagged.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import {
  acceptQuote,
  comeBack,
  finishVisit,
  fitCapacitor,
  measureAfter,
  sellCapacitor,
  sendClose,
  sendOutcome,
  sendReopen,
} from '../harness/work.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

/*
 * The labor of a repair is warranted for 30 days by the invented book: work of Monday, January 5th
 * up to and including February 4th, on the clock of Chicago (UTC-6 in winter).
 */
const MENDED = '2026-01-05T18:00:00Z';
const LAST_DAY = '2026-02-04T18:00:00Z';
const DAY_AFTER = '2026-02-05T18:00:00Z';
beforeEach(() => service.clock.set(MENDED));

/** A capacitor that was sold, put in and closed on January 5th. */
async function mended(): Promise<Job> {
  const job = await arriveAtJob(service);
  await fitCapacitor(service, job.visitId, await sellCapacitor(service, job));
  return job;
}

/** Another call from the same place: a ticket, a fee and a trip of its own. */
async function callAgain(site: Site, instant: string): Promise<Job> {
  service.clock.set(instant);
  return arriveAtJob(service, site);
}

describe('work of ours that comes back within its warranty', () => {
  it('costs nothing: neither part, labor and access, nor the trip', async () => {
    const job = await callAgain(await mended(), '2026-01-20T18:00:00Z');
    const quote = await draftQuote(service, job, [await findCapacitor(service, job)]);
    expect(quote.body.options[0].totalCents).toBe(0);
    expect(amounts(quote)).toEqual({});
    expect(quote.body.declineTotalCents).toBe(0);
    expect(quote.body.options[0].lines[0].why.sentence).toBe(
      'No visit fee: no fee for mending our own work again.',
    );
    const accepted = await acceptQuote(service, await issueQuote(service, quote));
    expect(accepted.body.acceptance.totalCents).toBe(0);
  });

  it('is free on the last day and priced on the day after it', async () => {
    const site = await mended();
    const onLast = await callAgain(site, LAST_DAY);
    const free = await draftQuote(service, onLast, [await findCapacitor(service, onLast)]);
    expect(free.body.options[0].totalCents).toBe(0);
    const after = await callAgain(site, DAY_AFTER);
    const priced = await draftQuote(service, after, [await findCapacitor(service, after)]);
    // 89.00 + 55.20 + 75.49 + 25.16 - 44.50 + 4.55 of tax.
    expect(priced.body.options[0].totalCents).toBe(20_490);
  });

  it('frees the trip also of other work, which is paid as ever', async () => {
    const job = await callAgain(await mended(), LAST_DAY);
    const again = await findCapacitor(service, job);
    const drain = await findPluggedDrain(service, job);
    const quote = await draftQuote(service, job, [again, drain]);
    // 30 minutes of labor and 10 of access. Free labor is never the dearest of charged work, so
    // nothing is a second task here.
    expect(amounts(quote)).toEqual({
      'labor clear_condensate_drain': 7_549,
      'access indoor_unit_cabinet': 2_516,
    });
  });

  it('frees the trip even where the recall itself is not in the quote', async () => {
    const job = await callAgain(await mended(), LAST_DAY);
    await findCapacitor(service, job);
    const quote = await draftQuote(service, job, [await findPluggedDrain(service, job)]);
    expect(quote.body.declineTotalCents).toBe(0);
  });
});

describe('no recall is', () => {
  it('another fault of the same machine', async () => {
    const job = await callAgain(await mended(), LAST_DAY);
    const quote = await draftQuote(service, job, [await findWornContactor(service, job)]);
    expect(amounts(quote)).toMatchObject({ 'visit_fee visit_fee': 8_900 });
    expect(amounts(quote)).toHaveProperty('labor replace_contactor');
  });

  it('the same fault of another system', async () => {
    await mended();
    const elsewhere = await arriveAtJob(service);
    const quote = await draftQuote(service, elsewhere, [await findCapacitor(service, elsewhere)]);
    expect(quote.body.options[0].totalCents).toBe(20_490);
  });

  it('work that was sold and not done', async () => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    const reason = { outcome: 'not_done', reason: 'The customer wants to wait.' };
    expectStatus(await sendOutcome(service, job.visitId, sold, reason), 201);
    const next = await callAgain(job, LAST_DAY);
    const quote = await draftQuote(service, next, [await findCapacitor(service, next)]);
    expect(quote.body.options[0].totalCents).toBe(20_490);
  });

  it('the finding that the work mended, written a second time before it', async () => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    await findCapacitor(service, job);
    service.clock.advance(3_600_000);
    await fitCapacitor(service, job.visitId, sold);
    const recalled = () => recalledFindings(service.db.pool, job.visitId, '2026-01-05');
    expect(await recalled()).toEqual([]);
    service.clock.advance(3_600_000);
    const failedAgain = await findCapacitor(service, job);
    expect(await recalled(), 'what failed after it').toEqual([
      { id: failedAgain, fromEarlierTrip: false },
    ]);
  });

  it('what a later trip mended, nor the same trouble written again at that trip before it', async () => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    await finishVisit(service, job.visitId, 'waiting_for_part');
    const back = await comeBack(service, job, 'return');
    await findCapacitor(service, back);
    service.clock.advance(3_600_000);
    await fitCapacitor(service, back.visitId, sold);
    for (const { visitId } of [job, back]) {
      expect(await recalledFindings(service.db.pool, visitId)).toEqual([]);
    }
  });

  it('work whose yes was taken back: nobody paid for it, and it is sold as ever', async () => {
    const jurisdiction = 'cancel_county';
    const owner = service.as('owner');
    expectStatus(await owner.post('/v1/tax-rules', { ...taxRule, jurisdiction }), 201);
    const rule = { ...consumerRules[0], jurisdiction };
    expectStatus(await owner.post('/v1/consumer-rules', rule), 201);
    const job = await arriveAtJob(service, await addSite(service, { jurisdiction }));
    const sold = await sellCapacitor(service, job);
    await fitCapacitor(service, job.visitId, sold);
    const notice = { cancelledByName: 'Winifred Ashgrove', noticeText: 'I take my yes back.' };
    expectStatus(await sendTo(service, sold.quote, 'cancel-acceptance', notice), 200);
    await finishVisit(service, job.visitId);
    const next = await callAgain(job, LAST_DAY);
    const quote = await draftQuote(service, next, [await findCapacitor(service, next)]);
    expect(quote.body.options[0].totalCents).toBe(20_490);
  });
});

describe('a recall is looked at again', () => {
  it('when it is issued: what is free no more is priced anew', async () => {
    const job = await callAgain(await mended(), LAST_DAY);
    const draft = await draftQuote(service, job, [await findCapacitor(service, job)]);
    service.clock.set(DAY_AFTER);
    expectProblem(await sendTo(service, draft, 'issue'), 'price-outdated');
  });

  it('when it is accepted: what was offered for nothing stands until the offer ends', async () => {
    const job = await callAgain(await mended(), LAST_DAY);
    const draft = await draftQuote(service, job, [await findCapacitor(service, job)]);
    const offered = await issueQuote(service, draft);
    service.clock.set(DAY_AFTER);
    expect((await acceptQuote(service, offered)).body.acceptance.totalCents).toBe(0);
  });

  it('when it is accepted: what has become free meanwhile is not sold', async () => {
    const job = await arriveAtJob(service);
    const findingId = await findCapacitor(service, job);
    const first = await issueQuote(service, await draftQuote(service, job, [findingId]));
    const second = await arriveAtJob(service, job);
    const found = await findCapacitor(service, second);
    const offered = await issueQuote(service, await draftQuote(service, second, [found]));
    expect(offered.body.options[0].totalCents).toBe(20_490);
    const { body } = await acceptQuote(service, first);
    await fitCapacitor(service, job.visitId, { quoteId: body.id, findingId });
    expectProblem(await sendTo(service, offered, 'accept', yesTo(offered)), 'price-outdated');
    const options = [{ title: 'Repair', findingIds: [found] }];
    const revised = tagged(
      expectStatus(await sendTo(service, offered, 'revise', { options }), 200),
    );
    expect(revised.body.options[0].totalCents).toBe(0);
  });
});

describe('a callback', () => {
  it('has no fee whatever is found, and new work of it is paid', async () => {
    const job = await mended();
    await measureAfter(service, job);
    await finishVisit(service, job.visitId);
    expectStatus(await sendClose(service, job.ticketId), 200);
    expectStatus(await sendReopen(service, job.ticketId), 200);
    const back = await comeBack(service, job, 'callback');
    const quote = await draftQuote(service, back, [await findPluggedDrain(service, back)]);
    expect(quote.body.options[0].lines[0].why.sentence).toBe(
      'No visit fee: a callback has no fee.',
    );
    expect(quote.body.declineTotalCents).toBe(0);
    expect(amounts(quote)).toHaveProperty('labor clear_condensate_drain');
    const again = await draftQuote(service, back, [await findCapacitor(service, back)]);
    expect(amounts(again)).toEqual({});
  });
});

describe('for how long labor is warranted', () => {
  const { laborWarrantyDays: _, ...silent } = priceBook.policy;
  const policies = [
    {
      name: 'as many days as the policy says',
      policy: { ...silent, laborWarrantyDays: 10 },
      last: 15,
    },
    { name: 'thirty where it says nothing', policy: silent, last: 35 },
  ];

  it.each(policies)('$name', async ({ policy, last }) => {
    const book = { ...priceBook, effectiveFrom: MENDED, policy };
    expectStatus(await service.as('owner').post('/v1/price-books', book), 201);
    const site = await mended();
    const totalOn = async (january: number) => {
      service.clock.set(new Date(Date.UTC(2026, 0, january, 18)).toISOString());
      const job = await arriveAtJob(service, site);
      const quote = await draftQuote(service, job, [await findCapacitor(service, job)]);
      return quote.body.options[0].totalCents;
    };
    expect(await totalOn(last)).toBe(0);
    expect(await totalOn(last + 1)).toBe(20_490);
  });
});

describe('whatever was priced above', () => {
  it('comes out again from its stored inputs, word for word', async () => {
    expect(await assertReprices(service)).toBeGreaterThan(15);
  });
});
