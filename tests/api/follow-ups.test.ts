import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { offerChange, sendTo } from '../harness/change-order.ts';
import { findPluggedDrain, findWornContactor } from '../harness/findings.ts';
import {
  arriveAtJob,
  draftQuote,
  findCapacitor,
  issueQuote,
  type Job,
  type QuoteAt,
} from '../harness/job.ts';
import { tagged } from '../harness/tagged.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import { offer } from '../harness/whole-job.ts';
import { acceptQuote, finishVisit, fitCapacitor, sellCapacitor } from '../harness/work.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

const ISSUED = '2026-07-14T18:00:00Z';
/** The quotes of that day end with August 13th of the company. */
const RUN_OUT = '2026-08-14T05:00:00Z';
beforeEach(() => service.clock.set(ISSUED));

/** A quote that is with the customer since July 14th. */
async function offered(): Promise<QuoteAt> {
  return issueQuote(service, await draftQuote(service, await arriveAtJob(service), []));
}

// biome-ignore lint/suspicious/noExplicitAny: JSON as a client gets it; tests look at its fields.
async function openQuotes(): Promise<any[]> {
  const list = await service.as('dispatcher').get('/v1/follow-ups?limit=100');
  return expectStatus(list, 200).body.items;
}

async function openOf({ body }: QuoteAt) {
  return (await openQuotes()).find(({ quoteId }) => quoteId === body.id);
}

function follow({ body }: QuoteAt, step: number, more: object = {}) {
  return service
    .as('dispatcher')
    .post(`/v1/quotes/${body.id}/follow-ups`, { revision: 1, step, way: 'call', ...more });
}

const no = { declinedByName: 'Winifred Ashgrove', conditionLeft: 'Off.' };

/** The technician left with the quote unanswered, and the quote has run out since. */
async function leftToRunOut(): Promise<{ job: Job; quote: QuoteAt }> {
  const job = await arriveAtJob(service);
  const quote = await offer(service, job, [await findCapacitor(service, job)]);
  await finishVisit(service, job.visitId, 'waiting_for_answer');
  service.clock.set(RUN_OUT);
  return { job, quote };
}

/** With its tag of now, which says that it has run out. */
async function asItIs({ body }: QuoteAt): Promise<QuoteAt> {
  return tagged(expectStatus(await service.as('technician').get(`/v1/quotes/${body.id}`), 200));
}

describe('a quote that ran out while its ticket waits for the answer', () => {
  it('is listed, due since it did, as one to issue again or to close the ticket of', async () => {
    const job = await arriveAtJob(service);
    const quote = await offer(service, job, [await findCapacitor(service, job)]);
    expectStatus(await follow(quote, 1), 201);
    await finishVisit(service, job.visitId, 'waiting_for_answer');
    const lastMoment = new Date(Date.parse(RUN_OUT) - 1);
    service.clock.set(lastMoment.toISOString());
    expect(await openOf(quote)).toMatchObject({ todo: 'follow_up', next: { step: 2 } });
    service.clock.set(RUN_OUT);
    expect(await openOf(quote)).toMatchObject({
      ticketId: job.ticketId,
      validUntil: '2026-08-14T05:00:00.000Z',
      todo: 'issue_again_or_close',
      next: null,
      last: { step: 1 },
    });
  });

  it('comes before those with no call left', async () => {
    const { quote } = await leftToRunOut();
    service.clock.set('2026-07-15T18:00:00Z');
    const asked = await offered();
    for (const step of [1, 2, 3]) expectStatus(await follow(asked, step), 201);
    service.clock.set(RUN_OUT);
    const ids = (await openQuotes()).map(({ quoteId }) => quoteId);
    expect(ids.indexOf(quote.body.id)).toBeLessThan(ids.indexOf(asked.body.id));
  });

  it('is with the customer again once it is issued again', async () => {
    const { quote } = await leftToRunOut();
    const findingIds = quote.body.options[0].lines.flatMap(
      (line: { findingIds: string[] }) => line.findingIds,
    );
    const options = [{ title: 'Again', findingIds: [...new Set(findingIds)] }];
    const revised = tagged(
      expectStatus(await sendTo(service, await asItIs(quote), 'revise', { options }), 200),
    );
    expect(await openOf(quote), 'while the new one is a draft').toMatchObject({
      revision: 1,
      todo: 'issue_again_or_close',
    });
    await issueQuote(service, revised);
    expect(await openOf(quote)).toMatchObject({ revision: 2, todo: 'follow_up' });
  });

  it('is not listed once its customer has said no, or it was withdrawn', async () => {
    const declined = await leftToRunOut();
    expectStatus(await sendTo(service, await asItIs(declined.quote), 'decline', no), 200);
    expect(await openOf(declined.quote)).toBeUndefined();
    service.clock.set(ISSUED);
    const withdrawn = await leftToRunOut();
    expectStatus(await sendTo(service, await asItIs(withdrawn.quote), 'withdraw'), 200);
    expect(await openOf(withdrawn.quote)).toBeUndefined();
  });

  it.each([
    { what: 'is with the customer', answer: async () => undefined },
    {
      what: 'has a yes to act on',
      answer: async (quote: QuoteAt) => {
        await acceptQuote(service, quote);
      },
    },
    {
      what: 'was declined',
      answer: async (quote: QuoteAt) => {
        expectStatus(await sendTo(service, quote, 'decline', no), 200);
      },
    },
  ])('is not listed where a newer quote of its ticket $what', async ({ answer }) => {
    const job = await arriveAtJob(service);
    const capacitor = await findCapacitor(service, job);
    const first = await offer(service, job, [capacitor]);
    service.clock.set('2026-07-15T18:00:00Z');
    const second = await offer(service, job, [capacitor, await findPluggedDrain(service, job)]);
    await finishVisit(service, job.visitId, 'waiting_for_answer');
    service.clock.set(RUN_OUT);
    expect(await openOf(second)).toMatchObject({ todo: 'follow_up' });
    await answer(second);
    expect(await openOf(first)).toBeUndefined();
  });

  it('is listed beside a yes whose work is done', async () => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    await fitCapacitor(service, job.visitId, sold);
    const change = await offerChange(service, job, sold.quote, [
      await findPluggedDrain(service, job),
    ]);
    await finishVisit(service, job.visitId, 'waiting_for_answer');
    service.clock.set(RUN_OUT);
    expect(await openOf(change)).toMatchObject({ todo: 'issue_again_or_close' });
  });
});

describe('a quote that waits for an answer', () => {
  it('is listed with whom to call about what, and when', async () => {
    const job = await arriveAtJob(service);
    const capacitor = await findCapacitor(service, job);
    const contactor = await findWornContactor(service, job);
    const drafted = await service.as('technician').post('/v1/quotes', {
      visitId: job.visitId,
      options: [
        { title: 'Both', findingIds: [capacitor, contactor] },
        { title: 'The capacitor', findingIds: [capacitor] },
      ],
    });
    const tag = expectStatus(drafted, 201).headers['etag'] ?? '';
    const quote = await issueQuote(service, { body: drafted.body, tag });
    const ticket = await service.as('dispatcher').get(`/v1/tickets/${job.ticketId}`);
    expect(await openOf(quote)).toEqual({
      quoteId: quote.body.id,
      number: quote.body.number,
      revision: 1,
      ticketId: job.ticketId,
      ticketNumber: ticket.body.number,
      approver: { name: 'Winifred Ashgrove', phone: '555-0111' },
      ask: { as: 'approver', name: 'Winifred Ashgrove', phone: '555-0111' },
      totalFromCents: 20_490,
      totalToCents: 34_851,
      issuedAt: '2026-07-14T18:00:00.000Z',
      validUntil: '2026-08-14T05:00:00.000Z',
      todo: 'follow_up',
      next: { step: 1, dueAt: '2026-07-15T18:00:00.000Z', overdue: false },
      last: null,
    });
  });

  it.each([
    {
      name: 'issued and answered with a yes',
      end: (quote: QuoteAt) => acceptQuote(service, quote),
    },
    { name: 'declined', end: (quote: QuoteAt) => sendTo(service, quote, 'decline', no) },
    { name: 'withdrawn', end: (quote: QuoteAt) => sendTo(service, quote, 'withdraw') },
    {
      name: 'expired, while the technician is there',
      end: async () => service.clock.set('2026-08-14T05:00:00Z'),
    },
  ])('is listed until it is $name', async ({ end }) => {
    const quote = await offered();
    expect(await openOf(quote)).toBeDefined();
    await end(quote);
    expect(await openOf(quote)).toBeUndefined();
  });

  it('is called about after one, three and seven days, each step once', async () => {
    const quote = await offered();
    service.clock.set('2026-07-15T18:00:00Z');
    expect((await openOf(quote)).next).toEqual({
      step: 1,
      dueAt: '2026-07-15T18:00:00.000Z',
      overdue: true,
    });
    const recorded = expectStatus(
      await follow(quote, 1, { note: 'Asked to call on Friday.' }),
      201,
    );
    const last = {
      step: 1,
      way: 'call',
      note: 'Asked to call on Friday.',
      followedAt: '2026-07-15T18:00:00.000Z',
    };
    expect(recorded.body).toEqual({ quoteId: quote.body.id, revision: 1, ...last });
    expect(await openOf(quote)).toMatchObject({
      next: { step: 2, dueAt: '2026-07-17T18:00:00.000Z', overdue: false },
      last,
    });
    expectProblem(await follow(quote, 1), 'already-exists');
    expectStatus(await follow(quote, 2, { way: 'text' }), 201);
    expect((await openOf(quote)).next.dueAt).toBe('2026-07-21T18:00:00.000Z');
    expectStatus(await follow(quote, 3, { way: 'in_person' }), 201);
    expect((await openOf(quote)).next).toBeNull();
    expectProblem(await follow(quote, 4), 'validation-failed');
  });

  it('is called about in its revision of today, from the start', async () => {
    const quote = await offered();
    expectStatus(await follow(quote, 1), 201);
    service.clock.set('2026-07-16T18:00:00Z');
    const options = [{ title: 'Less', findingIds: [] }];
    const revised = await sendTo(service, quote, 'revise', { options });
    const tag = expectStatus(revised, 200).headers['etag'] ?? '';
    await issueQuote(service, { body: revised.body, tag });
    expect(await openOf(quote)).toMatchObject({
      revision: 2,
      next: { step: 1, dueAt: '2026-07-17T18:00:00.000Z' },
      last: null,
    });
    expectProblem(await follow(quote, 2), 'not-allowed-now');
    expectStatus(await follow(quote, 1, { revision: 2 }), 201);
  });

  it('is not called about when nothing waits for an answer', async () => {
    const declined = await offered();
    expectStatus(await sendTo(service, declined, 'decline', no), 200);
    expect(expectProblem(await follow(declined, 1), 'not-allowed-now').body.currentState).toBe(
      'declined',
    );
    const expired = await offered();
    service.clock.set('2026-08-14T05:00:00Z');
    expectProblem(await follow(expired, 1), 'quote-expired');
  });

  it('comes before those that are due later, page by page, and after nobody twice', async () => {
    const first = await offered();
    service.clock.set('2026-07-14T19:00:00Z');
    const second = await offered();
    expectStatus(await follow(first, 1), 201);
    const done = await offered();
    for (const step of [1, 2, 3]) expectStatus(await follow(done, step), 201);
    const whole = await openQuotes();
    const ids = whole.map(({ quoteId }) => quoteId);
    const places = [second, first, done].map(({ body }) => ids.indexOf(body.id));
    expect(places, 'July 15th, July 17th, no call left').toEqual([...places].sort((a, b) => a - b));
    const paged: string[] = [];
    let cursor = '';
    do {
      const page = await service.as('owner').get(`/v1/follow-ups?limit=1${cursor}`);
      paged.push(...expectStatus(page, 200).body.items.map(({ quoteId }: never) => quoteId));
      cursor = page.body.nextCursor === null ? '' : `&cursor=${page.body.nextCursor}`;
    } while (cursor !== '');
    expect(paged).toEqual(ids);
    expectProblem(await service.as('owner').get('/v1/follow-ups?cursor=x'), 'cursor-invalid');
  });

  it('is asked about of the payer where every option is above what the approver may agree to', async () => {
    const job = await arriveAtJob(service);
    const dispatcher = service.as('dispatcher');
    const payer = await dispatcher.post('/v1/customers', {
      name: 'Leopold Ashgrove',
      phone: '555-0112',
    });
    const site = `/v1/sites/${job.siteId}`;
    const changeSite = async (change: object): Promise<void> => {
      const ifMatch = (await dispatcher.get(site)).headers['etag'] ?? '';
      expectStatus(await dispatcher.patch(site, change, { ifMatch }), 200);
    };
    const payerId = expectStatus(payer, 201).body.id;
    await changeSite({ payerId, approverLimitCents: 20_490 });
    const capacitor = await findCapacitor(service, job);
    const contactor = await findWornContactor(service, job);
    const drafted = await service.as('technician').post('/v1/quotes', {
      visitId: job.visitId,
      options: [
        { title: 'Both', findingIds: [capacitor, contactor] },
        { title: 'The capacitor', findingIds: [capacitor] },
      ],
    });
    const tag = expectStatus(drafted, 201).headers['etag'] ?? '';
    const quote = await issueQuote(service, { body: drafted.body, tag });
    expect((await openOf(quote)).ask).toMatchObject({ as: 'approver', name: 'Winifred Ashgrove' });
    await changeSite({ approverLimitCents: 20_489 });
    expect(await openOf(quote)).toMatchObject({
      approver: { name: 'Winifred Ashgrove', phone: '555-0111' },
      ask: { as: 'payer', name: 'Leopold Ashgrove', phone: '555-0112' },
    });
  });

  it('of two who record the same step at once one does, and the other is told', async () => {
    const quote = await offered();
    const answers = await Promise.all([1, 2, 3, 4].map(() => follow(quote, 1)));
    expect(answers.map(({ status }) => status).sort()).toEqual([201, 409, 409, 409]);
    for (const answer of answers) {
      if (answer.status === 409) expectProblem(answer, 'already-exists');
    }
  });
});
