import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { taxRule } from '../../seed/company.ts';
import { consumerRules } from '../../seed/consumer-rules.ts';
import { offerChange, sendTo } from '../harness/change-order.ts';
import { findPluggedDrain } from '../harness/findings.ts';
import {
  addSite,
  arriveAtJob,
  findCapacitor,
  type Job,
  type QuoteAt,
  yesTo,
} from '../harness/job.ts';
import { tagged } from '../harness/tagged.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import { makeLink, visit, yesForm } from '../harness/visitor.ts';
import { offer } from '../harness/whole-job.ts';
import {
  bookNext,
  finishVisit,
  fitCapacitor,
  sellCapacitor,
  sendClose,
  ticketAt,
} from '../harness/work.ts';

const jurisdiction = 'cancel_county';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
  const owner = service.as('owner');
  expectStatus(await owner.post('/v1/tax-rules', { ...taxRule, jurisdiction }), 201);
  expectStatus(await owner.post('/v1/consumer-rules', { ...consumerRules[0], jurisdiction }), 201);
});
afterAll(() => service.close());
beforeEach(() => service.clock.set('2026-07-14T18:00:00Z'));

const no = { declinedByName: 'Winifred Ashgrove', conditionLeft: 'Off.' };

/** The technician has left without an answer to a new capacitor. */
async function leftOpen(): Promise<{ job: Job; quote: QuoteAt }> {
  const job = await arriveAtJob(service, await addSite(service, { jurisdiction }));
  const quote = await offer(service, job, [await findCapacitor(service, job)]);
  await finishVisit(service, job.visitId, 'waiting_for_answer');
  service.clock.advance(3_600_000);
  return { job, quote };
}

// biome-ignore lint/suspicious/noExplicitAny: JSON as a client gets it; tests look at its fields.
async function answersOf({ ticketId }: Job): Promise<any[]> {
  const list = await service.as('dispatcher').get('/v1/answers?limit=100');
  const { items } = expectStatus(list, 200).body;
  return items.filter((item: { ticketId: string }) => item.ticketId === ticketId);
}

async function accept(quote: QuoteAt): Promise<QuoteAt> {
  return tagged(expectStatus(await sendTo(service, quote, 'accept', yesTo(quote)), 200));
}

describe('an answer that comes when the technician has left', () => {
  it('at the link: the office sees the yes, and that a return visit is next', async () => {
    const { job, quote } = await leftOpen();
    expect(await answersOf(job)).toEqual([]);
    const link = await makeLink(service, quote);
    const visitor = await visit(service, link);
    const form = yesForm({ job, quote, ...link });
    expectStatus(await visitor.post(`${link.page}/accept`, form), 303);
    const ticket = await ticketAt(service, job.ticketId);
    expect(await answersOf(job)).toEqual([
      {
        quoteId: quote.body.id,
        number: quote.body.number,
        ticketId: job.ticketId,
        ticketNumber: ticket.body.number,
        answer: 'yes',
        answeredAt: '2026-07-14T19:00:00.000Z',
        answeredByName: 'Winifred Ashgrove',
        through: 'link',
        linkMadeBy: {
          staffId: service.staff.technician.id,
          staffName: 'Tamsin Roake',
          madeAt: '2026-07-14T19:00:00.000Z',
        },
        next: 'book_return',
        occupant: { name: 'Winifred Ashgrove', phone: '555-0111' },
      },
    ]);
  });

  it('is listed until the return visit is booked', async () => {
    const { job, quote } = await leftOpen();
    await accept(quote);
    expect(await answersOf(job)).toMatchObject([{ answer: 'yes', through: 'staff' }]);
    expectStatus(await bookNext(service, job.ticketId, { purpose: 'return' }), 201);
    expect(await answersOf(job)).toEqual([]);
  });

  it('a no is listed until the ticket is closed', async () => {
    const { job, quote } = await leftOpen();
    expectStatus(await sendTo(service, quote, 'decline', no), 200);
    expect(await answersOf(job)).toMatchObject([{ answer: 'no', next: 'close_ticket' }]);
    const noReadingsWhy = 'Nothing was done.';
    expectStatus(await sendClose(service, job.ticketId, { noReadingsWhy }), 200);
    expect(await answersOf(job)).toEqual([]);
  });

  it('a yes that is taken back is listed as that, and there is nothing to come back for', async () => {
    const { job, quote } = await leftOpen();
    const accepted = await accept(quote);
    service.clock.advance(3_600_000);
    const notice = { cancelledByName: 'Winifred Ashgrove', noticeText: 'I take my yes back.' };
    expectStatus(await sendTo(service, accepted, 'cancel-acceptance', notice), 200);
    expect(await answersOf(job)).toMatchObject([
      { answer: 'taken_back', answeredAt: '2026-07-14T20:00:00.000Z', next: 'close_ticket' },
    ]);
  });
});

describe('nothing to act on', () => {
  it('is a yes whose work was done before the technician left, beside a no that came later', async () => {
    const job = await arriveAtJob(service);
    const sold = await sellCapacitor(service, job);
    await fitCapacitor(service, job.visitId, sold);
    const change = await offerChange(service, job, sold.quote, [
      await findPluggedDrain(service, job),
    ]);
    await finishVisit(service, job.visitId, 'waiting_for_answer');
    expect(await answersOf(job), 'while the change order is with the customer').toEqual([]);
    expectStatus(await sendTo(service, change, 'decline', no), 200);
    expect(await answersOf(job)).toMatchObject([
      { quoteId: change.body.id, answer: 'no', next: 'close_ticket' },
    ]);
  });

  it('is a no while another quote of the ticket is with the customer', async () => {
    const job = await arriveAtJob(service);
    const capacitor = await findCapacitor(service, job);
    const first = await offer(service, job, [capacitor]);
    const second = await offer(service, job, [capacitor, await findPluggedDrain(service, job)]);
    await finishVisit(service, job.visitId, 'waiting_for_answer');
    expectStatus(await sendTo(service, second, 'decline', no), 200);
    expect(await answersOf(job)).toEqual([]);
    service.clock.advance(3_600_000);
    await accept(first);
    expect(await answersOf(job)).toMatchObject([
      { answer: 'yes', next: 'book_return' },
      { answer: 'no', next: 'book_return' },
    ]);
  });
});

describe('the list of answers', () => {
  it('has the newest first, page by page, each once', async () => {
    for (let at = 0; at < 3; at += 1) {
      const { quote } = await leftOpen();
      service.clock.set(`2026-07-14T2${at}:00:00Z`);
      await accept(quote);
    }
    const owner = service.as('owner');
    const whole = expectStatus(await owner.get('/v1/answers?limit=100'), 200).body.items;
    const times = whole.map(({ answeredAt }: { answeredAt: string }) => answeredAt);
    expect(times).toEqual([...times].sort().reverse());
    const paged: object[] = [];
    let cursor = '';
    do {
      const page = expectStatus(await owner.get(`/v1/answers?limit=1${cursor}`), 200).body;
      paged.push(...page.items);
      cursor = page.nextCursor === null ? '' : `&cursor=${page.nextCursor}`;
    } while (cursor !== '');
    expect(paged).toEqual(whole);
    expectProblem(await owner.get('/v1/answers?cursor=x'), 'cursor-invalid');
  });
});
