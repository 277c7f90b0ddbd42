import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { issueInvoice } from '../harness/invoice.ts';
import {
  addSite,
  type Booking,
  bookJob,
  draftQuote,
  findCapacitor,
  freeWindow,
  type Job,
  type Site,
} from '../harness/job.ts';
import { readInvoice } from '../harness/read-invoice.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import { acceptOnly, closeTicket, doAll, offer } from '../harness/whole-job.ts';
import { bookNext, finishVisit, sendClose, ticketAt } from '../harness/work.ts';

/*
 * By the invented price book: a visit fee of 8,900 cents, of which half is credited when work is
 * accepted; a capacitor with its labor, access and tax is 16,040 without a fee.
 */
const FEE = 8_900;
const CREDIT = 4_450;
const CAPACITOR = 16_040;

const NOON = '2026-07-14T18:00:00Z';
let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
beforeEach(() => service.clock.set(NOON));
afterAll(() => service.close());

type Window = Required<Pick<Booking, 'windowStart' | 'windowEnd'>>;

/** Four windows of two hours of a day that nobody has booked yet, one after the other. */
function dayOfWindows(): [Window, Window, Window, Window] {
  const { windowStart } = freeWindow();
  const at = (hours: number): string =>
    new Date(Date.parse(windowStart) + hours * 3_600_000).toISOString();
  const window = (hours: number): Window => ({ windowStart: at(hours), windowEnd: at(hours + 2) });
  return [window(-4), window(-2), window(0), window(2)];
}

/** Two tickets of one site, the second on the trip of the first. */
async function oneTrip(): Promise<{ first: Job; second: Job }> {
  const site = await addSite(service);
  const [morning, next] = dayOfWindows();
  const first = await bookJob(service, site, morning);
  return { first, second: await bookJob(service, site, { ...next, toldFeeCents: 0 }) };
}

/** What the caller would be told, with the technician in sight. */
async function feeTold(site: Site, { windowStart }: Window, technicianId = technician()) {
  const query = new URLSearchParams({ windowStart, siteId: site.siteId, technicianId });
  return expectStatus(await service.as('dispatcher').get(`/v1/visit-fee?${query}`), 200).body;
}

function technician(): string {
  return service.staff.technician.id;
}

function step({ visitId }: Job, verb: string, body: object = {}) {
  return async () => {
    const path = `/v1/visits/${visitId}`;
    const dispatcher = service.as('dispatcher');
    const ifMatch = (await dispatcher.get(path)).headers['etag'] ?? '';
    return dispatcher.post(`${path}/${verb}`, body, { ifMatch });
  };
}

const reason = { reason: 'It was said by phone.' };
const cancel = (job: Job) => step(job, 'cancel', reason)();
const noAccess = (job: Job) => step(job, 'report-no-access', reason)();
const setOut = (job: Job) => step(job, 'start-travel')();

async function arriveAt(job: Job): Promise<Job> {
  expectStatus(await setOut(job), 200);
  const arrived = expectStatus(await step(job, 'arrive')(), 200);
  return { ...job, visitTag: arrived.headers['etag'] ?? '' };
}

describe('the fee of a window', () => {
  it('is told for the planned work that it is then booked with', async () => {
    const site = await addSite(service);
    const [window] = dayOfWindows();
    const first = await bookJob(service, site, window);
    const plan = (hours: number) => ({
      start: new Date(Date.parse(window.windowStart) + hours * 3_600_000).toISOString(),
      minutes: 60,
    });
    expectStatus(
      await service
        .as('dispatcher')
        .patch(
          `/v1/visits/${first.visitId}/plan`,
          { planned: plan(0) },
          { ifMatch: first.visitTag },
        ),
      200,
    );
    const planned = plan(1);
    const query = new URLSearchParams({
      ...{ windowStart: window.windowStart, siteId: site.siteId, technicianId: technician() },
      ...{ plannedStart: planned.start, minutes: '60' },
    });
    const told = await service.as('dispatcher').get(`/v1/visit-fee?${query}`);
    const { feeCents: toldFeeCents, sameTripAs } = expectStatus(told, 200).body;
    expect(sameTripAs.visitId).toBe(first.visitId);
    const opened = await service
      .as('dispatcher')
      .post('/v1/tickets', { siteId: site.siteId, complaint: 'Upstairs is loud.' });
    const feeDisclosure = { toldFeeCents, agreedBy: 'Winifred Ashgrove' };
    const booking = { ...window, planned, feeDisclosure };
    expectStatus(await bookNext(service, opened.body.id, booking), 201);
  });

  it('is not asked about where the time is taken', async () => {
    const [window] = dayOfWindows();
    await bookJob(service, undefined, window);
    const { siteId } = await addSite(service);
    const opened = await service
      .as('dispatcher')
      .post('/v1/tickets', { siteId, complaint: 'Upstairs is loud.' });
    const feeDisclosure = { toldFeeCents: FEE + 1, agreedBy: 'Winifred Ashgrove' };
    const taken = await bookNext(service, opened.body.id, { ...window, feeDisclosure });
    expectProblem(taken, 'window-taken');
  });
});

describe('two tickets of a site on one trip', () => {
  it('have one fee: whoever books the second is told so, and it is kept with the visit', async () => {
    const site = await addSite(service);
    const [morning, next] = dayOfWindows();
    const first = await bookJob(service, site, morning);
    const { number } = (await ticketAt(service, first.ticketId)).body;
    expect(await feeTold(site, next)).toMatchObject({
      feeCents: 0,
      sameTripAs: { visitId: first.visitId, ticketNumber: number },
    });
    const opened = await service
      .as('dispatcher')
      .post('/v1/tickets', { siteId: site.siteId, complaint: 'Upstairs is loud.' });
    const { id: ticketId } = expectStatus(opened, 201).body;
    const told = (toldFeeCents: number) => ({ toldFeeCents, agreedBy: 'Winifred Ashgrove' });
    const twice = await bookNext(service, ticketId, { ...next, feeDisclosure: told(FEE) });
    expect(expectProblem(twice, 'visit-fee-differs').body).toMatchObject({
      feeCents: 0,
      sameTripAs: first.visitId,
    });
    const once = await bookNext(service, ticketId, { ...next, feeDisclosure: told(0) });
    expect(expectStatus(once, 201).body).toMatchObject({
      purpose: 'call',
      feeCents: 0,
      feeAfterDiscountCents: 0,
      sameTripAs: first.visitId,
    });
  });

  it('bill it once, whatever is accepted', async () => {
    const { first, second } = await oneTrip();
    const sold = async (job: Job) => {
      const there = await arriveAt(job);
      const quote = await offer(service, there, [await findCapacitor(service, there)]);
      const accepted = await acceptOnly(service, quote);
      await doAll(service, there, accepted);
      return (await issueInvoice(service, await closeTicket(service, there))).body.totalCents;
    };
    expect(await sold(first)).toBe(FEE - CREDIT + CAPACITOR);
    const there = await arriveAt(second);
    const quote = await draftQuote(service, there, []);
    const { number } = (await ticketAt(service, first.ticketId)).body;
    expect(quote.body.options[0].lines[0].why.sentence).toBe(
      `No visit fee: one fee for the trip, with ticket ${number}.`,
    );
    expect(quote.body.declineTotalCents).toBe(0);
  });

  it('bill it once where nothing is sold on either', async () => {
    const { first, second } = await oneTrip();
    const totals: number[] = [];
    for (const job of [first, second]) {
      await arriveAt(job);
      await finishVisit(service, job.visitId);
      expectStatus(await sendClose(service, job.ticketId, { noReadingsWhy: 'It runs well.' }), 200);
      const invoices = await service.as('owner').get(`/v1/invoices?ticketId=${job.ticketId}`);
      const { items } = expectStatus(invoices, 200).body;
      for (const { id } of items) totals.push((await readInvoice(service, id)).body.totalCents);
    }
    expect(totals.reduce((sum, total) => sum + total, 0)).toBe(FEE);
  });

  it('sell the work of the second at its own price, with nothing to credit', async () => {
    const { first, second } = await oneTrip();
    await finishVisit(service, (await arriveAt(first)).visitId, 'waiting_for_answer');
    const there = await arriveAt(second);
    const accepted = await acceptOnly(
      service,
      await offer(service, there, [await findCapacitor(service, there)]),
    );
    expect(accepted.body.acceptance.totalCents).toBe(CAPACITOR);
    await doAll(service, there, accepted);
    const invoice = await issueInvoice(service, await closeTicket(service, there));
    expect(invoice.body.totalCents).toBe(CAPACITOR);
  });
});

describe('a trip', () => {
  it('goes on with the next visit there, before or after, and with a third', async () => {
    const site = await addSite(service);
    const [first, second, third, fourth] = dayOfWindows();
    const { visitId } = await bookJob(service, site, second);
    for (const window of [first, third]) {
      expect((await feeTold(site, window)).sameTripAs).toMatchObject({ visitId });
    }
    await bookJob(service, site, { ...third, toldFeeCents: 0 });
    expect((await feeTold(site, fourth)).sameTripAs).toMatchObject({ visitId });
  });

  it('is another one where the technician is elsewhere in between, unless that is cancelled', async () => {
    const site = await addSite(service);
    const [first, second, third] = dayOfWindows();
    await bookJob(service, site, first);
    const elsewhere = await bookJob(service, undefined, second);
    expect(await feeTold(site, third)).toMatchObject({ feeCents: FEE, sameTripAs: null });
    expectStatus(await cancel(elsewhere), 200);
    expect(await feeTold(site, third)).toMatchObject({ feeCents: 0 });
  });

  it('is another one of another technician, on another day and to another site', async () => {
    const site = await addSite(service);
    const [first, second] = dayOfWindows();
    await bookJob(service, site, first);
    const alone = { feeCents: FEE, sameTripAs: null };
    expect(await feeTold(site, second, service.staff.second_technician.id)).toMatchObject(alone);
    expect(await feeTold(site, dayOfWindows()[0])).toMatchObject(alone);
    expect(await feeTold(await addSite(service), second)).toMatchObject(alone);
  });

  it('is over once the technician has finished there and the window is over', async () => {
    const site = await addSite(service);
    const [first, second, third] = dayOfWindows();
    const job = await bookJob(service, site, first);
    service.clock.set(first.windowStart);
    await arriveAt(job);
    await finishVisit(service, job.visitId);
    expect(await feeTold(site, second)).toMatchObject({ feeCents: 0 });
    expect(await feeTold(site, third)).toMatchObject({ feeCents: FEE, sameTripAs: null });
  });

  it.each([
    ['was cancelled', async (job: Job) => expectStatus(await cancel(job), 200)],
    [
      'found nobody there',
      async (job: Job) => {
        expectStatus(await setOut(job), 200);
        expectStatus(await noAccess(job), 200);
      },
    ],
  ])('has the fee of no visit that %s', async (_, end) => {
    const site = await addSite(service);
    const [first, second] = dayOfWindows();
    const job = await bookJob(service, site, first);
    await end(job);
    expect(await feeTold(site, second)).toMatchObject({ feeCents: FEE, sameTripAs: null });
  });
});

describe('no trip is made without its fee', () => {
  it('the visit that has it is not cancelled before the one that rests on it', async () => {
    const { first, second } = await oneTrip();
    const { body } = expectProblem(await cancel(first), 'not-allowed-now');
    expect(body.detail).toContain('Cancel that visit first; then tell its fee and book it again.');
    expect(body.allowedActions).toEqual(['start_travel']);
    expectStatus(await cancel(second), 200);
    expectStatus(await cancel(first), 200);
    const [window] = dayOfWindows();
    const again = await bookNext(service, second.ticketId, {
      ...window,
      feeDisclosure: { toldFeeCents: FEE, agreedBy: 'Winifred Ashgrove' },
    });
    expect(expectStatus(again, 201).body).toMatchObject({ feeCents: FEE, sameTripAs: null });
  });

  it('where nobody was let in for it, the other is not set out for until its fee is told', async () => {
    const { first, second } = await oneTrip();
    expectStatus(await setOut(first), 200);
    expectStatus(await noAccess(first), 200);
    const { body } = expectProblem(await setOut(second), 'not-allowed-now');
    expect(body.detail).toContain('Cancel this visit, tell the fee, and book again.');
    expect(body.allowedActions).toEqual(['cancel']);
    expectStatus(await cancel(second), 200);
  });

  it('where somebody was let in for the other, nobody says that there was no access', async () => {
    const { first, second } = await oneTrip();
    expectStatus(await setOut(first), 200);
    await arriveAt(second);
    for (const refused of [await noAccess(first), await cancel(first)]) {
      const { body } = expectProblem(refused, 'not-allowed-now');
      expect(body.detail).toContain('this visit has its fee. Arrive, and finish it instead.');
      expect(body.currentState).toBe('on_the_way');
    }
    expectStatus(await step(first, 'arrive')(), 200);
    expect(expectProblem(await noAccess(first), 'not-allowed-now').body.allowedActions).toEqual([
      'finish',
    ]);
  });

  it('of one who cancels it and one who books on it at the same time, one is refused', async () => {
    for (let round = 0; round < 5; round += 1) {
      const site = await addSite(service);
      const [morning, next] = dayOfWindows();
      const first = await bookJob(service, site, morning);
      const opened = await service
        .as('dispatcher')
        .post('/v1/tickets', { siteId: site.siteId, complaint: 'Upstairs is loud.' });
      const { id: ticketId } = expectStatus(opened, 201).body;
      const statuses = (await Promise.all([bookNext(service, ticketId, next), cancel(first)])).map(
        ({ status }) => status,
      );
      expect([
        [201, 409],
        [409, 200],
      ]).toContainEqual(statuses);
    }
  });
});
