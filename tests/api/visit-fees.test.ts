import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { priceBook } from '../../seed/price-book.ts';
import {
  addSite,
  arriveAtJob,
  draftQuote,
  findCapacitor,
  freeWindow,
  type Job,
} from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

/** A schedule with nights past midnight, whole weekend days and regular hours; first match wins. */
const periods = [
  {
    code: 'night',
    visitFeeCents: 15_900,
    laborFactor: '2',
    hours: { weekdays: [1, 2, 3, 4, 5], from: '22:00', to: '06:00' },
  },
  {
    code: 'weekend',
    visitFeeCents: 12_900,
    laborFactor: '1.5',
    hours: { weekdays: [6, 7], from: '00:00', to: '00:00' },
  },
  {
    code: 'regular',
    visitFeeCents: 8_900,
    laborFactor: '1',
    hours: { weekdays: [1, 2, 3, 4, 5], from: '08:00', to: '18:00' },
  },
  { code: 'evening', visitFeeCents: 10_900, laborFactor: '1.25', hours: null },
];

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
  await publish({ periods });
});
afterEach(async () => {
  service.clock.set('2026-07-14T18:00:00Z');
  await setZone('America/Chicago');
});
afterAll(() => service.close());

describe('the fee that is told at the call', () => {
  // 2026-07-13 is a Monday. In America/Chicago it is UTC-5 then; clocks go forward on Sunday
  // 2026-03-08 and back on Sunday 2026-11-01.
  const chicago = 'America/Chicago';
  it.each([
    [chicago, 'Monday at one', '2026-07-13T18:00:00Z', 'regular'],
    [chicago, 'Monday, a minute before eight', '2026-07-13T12:59:00Z', 'evening'],
    [chicago, 'Monday at eight', '2026-07-13T13:00:00Z', 'regular'],
    [chicago, 'Monday, a minute before six', '2026-07-13T22:59:00Z', 'regular'],
    [chicago, 'Monday at six', '2026-07-13T23:00:00Z', 'evening'],
    [chicago, 'Monday, a minute before ten at night', '2026-07-14T02:59:00Z', 'evening'],
    [chicago, 'Monday at ten at night', '2026-07-14T03:00:00Z', 'night'],
    [
      chicago,
      'Tuesday before six in the morning: still Monday’s night',
      '2026-07-14T10:59:00Z',
      'night',
    ],
    [chicago, 'Tuesday at six in the morning', '2026-07-14T11:00:00Z', 'evening'],
    [
      chicago,
      'Saturday at two in the morning: still Friday’s night',
      '2026-07-18T07:00:00Z',
      'night',
    ],
    [chicago, 'Saturday at six in the morning', '2026-07-18T11:00:00Z', 'weekend'],
    [chicago, 'Sunday, a minute before midnight', '2026-07-20T04:59:00Z', 'weekend'],
    [chicago, 'Monday after midnight: Sunday had no night', '2026-07-20T05:00:00Z', 'evening'],
    [chicago, 'the Friday before clocks go forward, at eight', '2026-03-06T14:00:00Z', 'regular'],
    [chicago, 'that Friday an hour earlier', '2026-03-06T13:00:00Z', 'evening'],
    [chicago, 'the Monday after they went forward, at eight', '2026-03-09T13:00:00Z', 'regular'],
    [chicago, 'the Friday before clocks go back, at eight', '2026-10-30T13:00:00Z', 'regular'],
    [chicago, 'the Monday after they went back, at seven', '2026-11-02T13:00:00Z', 'evening'],
    [chicago, 'the Monday after they went back, at eight', '2026-11-02T14:00:00Z', 'regular'],
    ['Asia/Kolkata', 'Monday at eight in Kolkata', '2026-07-13T02:30:00Z', 'regular'],
    ['Asia/Kolkata', 'Monday at eleven at night in Kolkata', '2026-07-13T17:30:00Z', 'night'],
  ])('%s, %s', async (zone, _when, windowStart, periodCode) => {
    await setZone(zone);
    const told = await service.as('dispatcher').get(`/v1/visit-fee?windowStart=${windowStart}`);
    const period = periods.find(({ code }) => code === periodCode);
    expect(expectStatus(told, 200).body).toEqual({
      windowStart,
      periodCode,
      feeCents: period?.visitFeeCents,
    });
  });

  it('that was told wrong is refused with the right one, and then books', async () => {
    const ticketId = await openTicket();
    const window = freeWindow();
    for (const toldFeeCents of [0, 8_899, 8_901, 10_900]) {
      const refused = await book(ticketId, window, toldFeeCents);
      expect(expectProblem(refused, 'visit-fee-differs').body).toMatchObject({
        status: 409,
        feeCents: 8_900,
        periodCode: 'regular',
      });
    }
    expect(expectStatus(await book(ticketId, window, 8_900), 201).body).toMatchObject({
      feeCents: 8_900,
      periodCode: 'regular',
    });
  });
});

describe('the fee of a visit is fixed by the window the customer accepted', () => {
  it('not by when we arrive, nor by a price book that came since', async () => {
    const job = await arriveAtJob(service);
    service.clock.set('2026-07-15T03:00:00Z');
    await publish({
      periods: [{ code: 'regular', visitFeeCents: 99_900, laborFactor: '9', hours: null }],
    });
    const { body } = await draftQuote(service, job, [await findCapacitor(service, job)]);
    await publish({ periods });
    expect(amountOf(body, 'visit_fee')).toBe(8_900);
    expect(amountOf(body, 'labor')).toBe(7_549);
    expect(body.declineTotalCents).toBe(8_900);
  });

  it('and so is the factor on labor and access', async () => {
    const job = await nightJob();
    const { body } = await draftQuote(service, job, [await findCapacitor(service, job)]);
    expect(amountOf(body, 'visit_fee')).toBe(15_900);
    // Twice the labor and access of the day: 2 x 75.485 and 2 x 25.16166..., each rounded once.
    expect(amountOf(body, 'labor')).toBe(15_097);
    expect(amountOf(body, 'access')).toBe(5_032);
    expect(amountOf(body, 'part')).toBe(5_520);
    expect(amountOf(body, 'credit')).toBe(-7_950);
  });
});

describe('before there is a price book', () => {
  it('nothing is told, nothing is booked; nor while its day has not come', async () => {
    const early = await createTestService({ withPriceBook: false });
    try {
      const site = await addSite(early);
      const dispatcher = early.as('dispatcher');
      const opened = await dispatcher.post('/v1/tickets', {
        siteId: site.siteId,
        complaint: 'It does not cool.',
      });
      const booking = () =>
        dispatcher.post('/v1/visits', {
          ticketId: opened.body.id,
          technicianId: early.staff.technician.id,
          ...freeWindow(),
          feeDisclosure: { toldFeeCents: 8_900, agreedBy: 'Winifred Ashgrove' },
        });
      const fee = () => dispatcher.get('/v1/visit-fee?windowStart=2026-07-20T18:00:00Z');
      expect(expectProblem(await fee(), 'no-price-book').status).toBe(409);
      expectProblem(await booking(), 'no-price-book');

      const effectiveFrom = '2026-07-15T00:00:00Z';
      const published = await early
        .as('owner')
        .post('/v1/price-books', { ...priceBook, effectiveFrom });
      expectStatus(published, 201);
      expectProblem(await booking(), 'no-price-book');
      early.clock.set(effectiveFrom);
      expectStatus(await booking(), 201);
    } finally {
      await early.close();
    }
  });
});

describe('of several price books', () => {
  it('the one in force is the latest that has come, and of one day the last published', async () => {
    const owner = service.as('owner');
    const fee = async () =>
      (await owner.get('/v1/visit-fee?windowStart=2026-08-03T18:00:00Z')).body.feeCents;
    service.clock.set('2026-07-20T12:00:00Z');
    const effectiveFrom = '2026-08-01T00:00:00Z';
    await publish({ effectiveFrom, periods: flat(20_000) });
    await publish({ effectiveFrom, periods: flat(21_000) });
    await publish({ effectiveFrom: '2026-07-21T00:00:00Z', periods: flat(22_000) });
    expect(await fee()).toBe(8_900);
    service.clock.set('2026-07-21T00:00:00Z');
    expect(await fee()).toBe(22_000);
    service.clock.set('2026-08-01T00:00:00Z');
    expect(await fee()).toBe(21_000);
  });
});

function flat(visitFeeCents: number) {
  return [{ code: 'always', visitFeeCents, laborFactor: '1', hours: null }];
}

async function publish(change: object): Promise<void> {
  const answer = await service.as('owner').post('/v1/price-books', { ...priceBook, ...change });
  expectStatus(answer, 201);
}

async function setZone(zone: string): Promise<void> {
  await service.owner.query('UPDATE company SET time_zone = $1', [zone]);
}

async function openTicket(): Promise<string> {
  const { siteId } = await addSite(service);
  const opened = await service
    .as('dispatcher')
    .post('/v1/tickets', { siteId, complaint: 'It does not cool.' });
  return expectStatus(opened, 201).body.id;
}

function book(ticketId: string, window: object, toldFeeCents: number) {
  return service.as('dispatcher').post('/v1/visits', {
    ticketId,
    technicianId: service.staff.technician.id,
    ...window,
    feeDisclosure: { toldFeeCents, agreedBy: 'Winifred Ashgrove' },
  });
}

/** A job of a Tuesday night. */
function nightJob(): Promise<Job> {
  return arriveAtJob(service, undefined, {
    windowStart: '2026-07-15T03:00:00Z',
    windowEnd: '2026-07-15T05:00:00Z',
    toldFeeCents: 15_900,
  });
}

interface QuoteBody {
  options: { lines: { kind: string; amountCents: number }[] }[];
}

function amountOf(quote: QuoteBody, kind: string): number | undefined {
  return quote.options[0]?.lines.find((line) => line.kind === kind)?.amountCents;
}
