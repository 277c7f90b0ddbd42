import type { Response } from 'supertest';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { priceBook } from '../../seed/price-book.ts';
import { issueInvoice } from '../harness/invoice.ts';
import {
  addSite,
  arriveAtJob,
  bookJob,
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
import { acceptOnly, closeTicket, doAll, offer } from '../harness/whole-job.ts';
import { bookNext, finishVisit } from '../harness/work.ts';

/*
 * From the invented price book: regular hours 8,900, after hours 12,900 and labor by one and a half.
 * The clock stands at 2026-07-14T18:00:00Z, one in the afternoon locally; July is five hours behind.
 */
const REGULAR = 8_900;
const AFTER_HOURS = 12_900;
/** A capacitor with its labor, access and tax, without a fee. */
const CAPACITOR = 16_040;
const EVENING = { windowStart: '2026-08-04T23:30:00Z', windowEnd: '2026-08-05T01:00:00Z' };

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
beforeEach(() => service.clock.set('2026-07-14T18:00:00Z'));
afterAll(() => service.close());

const bram = () => service.staff.second_technician.id;
const byCompany = { askedBy: 'company', reason: 'Tamsin is ill.' } as const;
const byCustomer = { askedBy: 'customer', reason: 'They are at work then.' } as const;

function agreedTo(window: { windowStart: string; windowEnd: string }, toldFeeCents = REGULAR) {
  const feeDisclosure = { toldFeeCents, agreedBy: 'Winifred Ashgrove' };
  return { ...window, windowAgreedBy: 'Winifred Ashgrove', feeDisclosure };
}

function rebook(visit: { visitId: string; visitTag: string }, body: object): Promise<Response> {
  const path = `/v1/visits/${visit.visitId}/rebook`;
  return service.as('dispatcher').post(path, body, { ifMatch: visit.visitTag });
}

function step(
  who: 'dispatcher' | 'technician' | 'second_technician',
  { visitId, visitTag }: { visitId: string; visitTag: string },
  verb: 'start-travel' | 'report-no-access' | 'cancel',
): Promise<Response> {
  const body = verb === 'start-travel' ? {} : { reason: 'Nobody is at home.' };
  return service.as(who).post(`/v1/visits/${visitId}/${verb}`, body, { ifMatch: visitTag });
}

async function visitAt(id: string) {
  const found = expectStatus(await service.as('dispatcher').get(`/v1/visits/${id}`), 200);
  return found.body;
}

async function bookBeside(job: Job, window: object, toldFeeCents = 0): Promise<Job> {
  return bookJob(service, job, { ...window, toldFeeCents });
}

async function publishRegularFee(effectiveFrom: string, visitFeeCents: number): Promise<void> {
  const [regular, ...rest] = priceBook.periods;
  const periods = [{ ...regular, visitFeeCents }, ...rest];
  const book = { ...priceBook, effectiveFrom, periods };
  expectStatus(await service.as('owner').post('/v1/price-books', book), 201);
}

function asJob({ body, headers }: Response) {
  return { visitId: body.id, visitTag: headers['etag'] ?? '' };
}

describe('a visit given to another technician', () => {
  it('keeps window, planned work, fee and who agreed to it, and the old one is cancelled', async () => {
    const job = await bookJob(service);
    const before = await visitAt(job.visitId);
    service.clock.advance(3_600_000);
    const moved = expectStatus(await rebook(job, { ...byCompany, technicianId: bram() }), 201);
    expect(moved.body).toMatchObject({
      technicianId: bram(),
      movedFromId: job.visitId,
      windowAgreedBy: null,
      state: 'booked',
      version: 1,
    });
    const kept = ['ticketId', 'windowStart', 'windowEnd', 'planned', 'purpose', 'periodCode'];
    const fee = ['feeCents', 'feeAfterDiscountCents', 'feeAgreement', 'feeAgreedBy', 'feeAgreedAt'];
    for (const field of [...kept, ...fee]) expect(moved.body[field]).toEqual(before[field]);
    expect(await visitAt(job.visitId)).toMatchObject({
      state: 'cancelled',
      endNote: byCompany.reason,
    });
    const ticket = await service.as('dispatcher').get(`/v1/tickets/${job.ticketId}`);
    expect(ticket.body.state).toBe('scheduled');
  });

  it('keeps the fee told although the price book has another by now', async () => {
    await publishRegularFee('2027-01-01T00:00:00Z', 9_900);
    const window = { windowStart: '2027-03-01T18:00:00Z', windowEnd: '2027-03-01T20:00:00Z' };
    const job = await bookJob(service, undefined, window);
    service.clock.set('2027-02-01T18:00:00Z');
    const moved = await rebook(job, { ...byCompany, technicianId: bram() });
    expect(expectStatus(moved, 201).body.feeCents).toBe(REGULAR);
    const next = later(window, 24);
    const asked = await rebook(asJob(moved), { ...byCustomer, ...agreedTo(next) });
    expect(expectProblem(asked, 'visit-fee-differs').body.feeCents).toBe(9_900);
    expectStatus(await rebook(asJob(moved), { ...byCompany, ...agreedTo(next) }), 201);
  });

  it('keeps the fee told where its own window is named again, and a dearer one is not agreed to', async () => {
    await publishRegularFee('2027-06-01T00:00:00Z', 13_900);
    const window = { windowStart: '2027-08-02T18:00:00Z', windowEnd: '2027-08-02T20:00:00Z' };
    const job = await bookJob(service, undefined, window);
    const booked = await visitAt(job.visitId);
    service.clock.set('2027-07-01T18:00:00Z');
    const same = { ...byCustomer, technicianId: bram() };
    const dear = await rebook(job, { ...same, ...agreedTo(window, 13_900) });
    expect(expectProblem(dear, 'visit-fee-differs').body.feeCents).toBe(REGULAR);
    const moved = expectStatus(await rebook(job, { ...same, ...agreedTo(window) }), 201);
    const { planned, feeAgreedAt } = booked;
    const kept = { planned, feeAgreedAt, feeCents: REGULAR, windowAgreedBy: null };
    expect(moved.body).toMatchObject(kept);
  });

  it('has no fee where it had none, also when its trip is broken by it', async () => {
    const { windowStart, windowEnd } = freeWindow();
    const first = await bookJob(service, undefined, { windowStart, windowEnd });
    const later = { windowStart: windowEnd, windowEnd: plusHours(windowEnd, 2) };
    const second = await bookBeside(first, later);
    expect((await visitAt(second.visitId)).sameTripAs).toBe(first.visitId);
    const moved = expectStatus(await rebook(second, { ...byCompany, technicianId: bram() }), 201);
    expect(moved.body).toMatchObject({ feeCents: 0, sameTripAs: null, purpose: 'call' });
    // The fee that covers it goes along, so the first can be given away too.
    expectStatus(await rebook(first, { ...byCompany, technicianId: bram() }), 201);
    expectStatus(await step('second_technician', asJob(moved), 'start-travel'), 200);
  });

  it('rests on the fee that covered it wherever that is moved: neither is dropped without the other', async () => {
    const { windowStart, windowEnd } = freeWindow();
    const first = await bookJob(service, undefined, { windowStart, windowEnd });
    const later = { windowStart: windowEnd, windowEnd: plusHours(windowEnd, 2) };
    const second = await bookBeside(first, later);
    const moved = expectStatus(await rebook(second, { ...byCompany, technicianId: bram() }), 201);
    const again = { ...byCompany, ...agreedTo(freeWindow()) };
    const withFee = asJob(expectStatus(await rebook(first, again), 201));
    const refused = await step('dispatcher', withFee, 'cancel');
    expectProblem(expectStatus(refused, 409), 'not-allowed-now');
    const ticket = await service.as('dispatcher').get(`/v1/tickets/${second.ticketId}`);
    expect(refused.body.detail).toContain(`Ticket ${ticket.body.number} has no fee of its own`);
    expectStatus(await step('dispatcher', asJob(moved), 'cancel'), 200);
    expectStatus(await step('dispatcher', withFee, 'cancel'), 200);
  });

  it('is not set out for once nobody was let in on the visit with its fee', async () => {
    const { windowStart, windowEnd } = freeWindow();
    const first = await bookJob(service, undefined, { windowStart, windowEnd });
    const later = { windowStart: windowEnd, windowEnd: plusHours(windowEnd, 2) };
    const second = await bookBeside(first, later);
    const moved = expectStatus(await rebook(second, { ...byCompany, technicianId: bram() }), 201);
    const left = expectStatus(await step('technician', first, 'start-travel'), 200);
    expectStatus(await step('technician', asJob(left), 'report-no-access'), 200);
    const refused = await step('second_technician', asJob(moved), 'start-travel');
    expectProblem(expectStatus(refused, 409), 'not-allowed-now');
    expect(refused.body.detail).toContain('whose fee was to cover this visit');
  });

  it('is made without a fee once somebody has set out, whoever opens elsewhere; and bills none', async () => {
    const { windowStart, windowEnd } = freeWindow();
    const first = await bookJob(service, undefined, { windowStart, windowEnd });
    const next = { windowStart: windowEnd, windowEnd: plusHours(windowEnd, 2) };
    const second = await bookBeside(first, next);
    const elsewhen = { ...byCompany, ...agreedTo(freeWindow(), 0) };
    const moved = expectStatus(await rebook(second, elsewhen), 201);
    const left = expectStatus(await step('technician', asJob(moved), 'start-travel'), 200);
    const away = expectStatus(await step('technician', first, 'start-travel'), 200);
    expectStatus(await step('technician', asJob(away), 'report-no-access'), 200);
    const path = `/v1/visits/${moved.body.id}/arrive`;
    const ifMatch = left.headers['etag'] ?? '';
    const there = await service.as('technician').post(path, {}, { ifMatch });
    const job = { ...second, ...asJob(expectStatus(there, 200)) };
    const quote = await offer(service, job, [await findCapacitor(service, job)]);
    const [fee] = quote.body.options[0].lines;
    const english = 'No visit fee: it was booked without one, and we moved it.';
    expect(fee.why.sentence).toBe(english);
    const accepted = await acceptOnly(service, quote);
    expect(accepted.body.acceptance.totalCents).toBe(CAPACITOR);
    await doAll(service, job, accepted);
    const invoice = await issueInvoice(service, await closeTicket(service, job));
    expect(invoice.body.totalCents).toBe(CAPACITOR);
  });

  it('is no trip for others to rest on where it has no fee itself', async () => {
    const { windowStart, windowEnd } = freeWindow();
    const first = await bookJob(service, undefined, { windowStart, windowEnd });
    const next = { windowStart: windowEnd, windowEnd: plusHours(windowEnd, 2) };
    const second = await bookBeside(first, next);
    expectStatus(await rebook(second, { ...byCompany, technicianId: bram() }), 201);
    const third = await bookBeside(first, later(next, 1), 0);
    expect((await visitAt(third.visitId)).sameTripAs).toBe(first.visitId);
    const asked = { technicianId: bram(), ...agreedTo(later(next, 2), 0) };
    const refused = await rebook(third, { ...byCustomer, ...asked });
    expect(expectProblem(refused, 'visit-fee-differs').body.feeCents).toBe(REGULAR);
  });

  it('has no fee of its own where the other technician is there on a trip already', async () => {
    const { windowStart, windowEnd } = freeWindow();
    const first = await bookJob(service, undefined, { windowStart, windowEnd });
    const there = expectStatus(await rebook(first, { ...byCompany, technicianId: bram() }), 201);
    const later = { windowStart: windowEnd, windowEnd: plusHours(windowEnd, 2) };
    const second = await bookBeside(first, later, REGULAR);
    const moved = expectStatus(await rebook(second, { ...byCompany, technicianId: bram() }), 201);
    expect(moved.body).toMatchObject({ feeCents: 0, sameTripAs: there.body.id });
  });

  it('takes all that is booked on its trip along: window, work and terms stay, on the new fee', async () => {
    const { windowStart, windowEnd } = freeWindow();
    const first = await bookJob(service, undefined, { windowStart, windowEnd });
    const next = { windowStart: windowEnd, windowEnd: plusHours(windowEnd, 2) };
    const second = await bookBeside(first, next);
    const planned = { start: plusHours(windowEnd, 0.5), minutes: 45 };
    const path = `/v1/visits/${second.visitId}/plan`;
    const plan = await service.as('dispatcher').patch(path, { planned }, { ifMatch: '"v1"' });
    const before = expectStatus(plan, 200).body;
    const third = await bookBeside(first, later(next, 2));
    const moved = expectStatus(await rebook(first, { ...byCompany, technicianId: bram() }), 201);
    expect(moved.body).toMatchObject({ technicianId: bram(), feeCents: REGULAR, sameTripAs: null });
    expect(moved.body.movedAlong).toEqual(
      [second, third].map(({ ticketId, visitId: movedFromId }) => ({
        ...{ ticketId, movedFromId },
        visitId: expect.any(String),
      })),
    );
    const along = await visitAt(moved.body.movedAlong[0].visitId);
    const now = { technicianId: bram(), sameTripAs: moved.body.id, feeCents: 0, state: 'booked' };
    expect(along).toMatchObject({ ...now, movedFromId: second.visitId, moveAskedBy: 'company' });
    for (const field of ['ticketId', 'windowStart', 'windowEnd', 'planned', 'feeAgreedAt']) {
      expect(along[field]).toEqual(before[field]);
    }
    expect(await visitAt(moved.body.movedAlong[1].visitId)).toMatchObject(now);
    for (const { visitId, ticketId } of [first, second, third]) {
      expect((await visitAt(visitId)).state).toBe('cancelled');
      const ticket = await service.as('dispatcher').get(`/v1/tickets/${ticketId}`);
      expect(ticket.body.state).toBe('scheduled');
    }
  });

  it('takes its trip along onto the trip that the other is on already', async () => {
    const { windowStart, windowEnd } = freeWindow();
    const first = await bookJob(service, undefined, { windowStart, windowEnd });
    const there = expectStatus(await rebook(first, { ...byCompany, technicianId: bram() }), 201);
    const next = { windowStart: windowEnd, windowEnd: plusHours(windowEnd, 2) };
    const second = await bookBeside(first, next, REGULAR);
    const third = await bookBeside(first, later(next, 2));
    expect((await visitAt(third.visitId)).sameTripAs).toBe(second.visitId);
    const moved = expectStatus(await rebook(second, { ...byCompany, technicianId: bram() }), 201);
    const onIt = { feeCents: 0, sameTripAs: there.body.id };
    expect(moved.body).toMatchObject(onIt);
    expect(await visitAt(moved.body.movedAlong[0].visitId)).toMatchObject(onIt);
  });

  it('takes nothing along where the other has work at the time of one: all of it stands as it was', async () => {
    const { windowStart, windowEnd } = freeWindow();
    const first = await bookJob(service, undefined, { windowStart, windowEnd });
    const next = { windowStart: windowEnd, windowEnd: plusHours(windowEnd, 2) };
    const second = await bookBeside(first, next);
    const busy = await bookJob(service, undefined, freeWindow());
    const busyAt = { ...byCompany, ...agreedTo(next), technicianId: bram() };
    expectStatus(await rebook(busy, busyAt), 201);
    const ticket = await service.as('dispatcher').get(`/v1/tickets/${second.ticketId}`);
    const refused = await rebook(first, { ...byCompany, technicianId: bram() });
    expectProblem(expectStatus(refused, 409), 'window-taken');
    expect(refused.body.detail).toContain(`at the time of ticket ${ticket.body.number}`);
    for (const { visitId } of [first, second]) {
      expect(await visitAt(visitId)).toMatchObject({ state: 'booked', version: 1 });
    }
  });

  it('stays where somebody was let in on its trip', async () => {
    const { windowStart, windowEnd } = freeWindow();
    const first = await bookJob(service, undefined, { windowStart, windowEnd });
    const next = { windowStart: windowEnd, windowEnd: plusHours(windowEnd, 2) };
    const second = await bookBeside(first, next);
    const left = expectStatus(await step('technician', second, 'start-travel'), 200);
    const path = `/v1/visits/${second.visitId}/arrive`;
    const ifMatch = left.headers['etag'] ?? '';
    expectStatus(await service.as('technician').post(path, {}, { ifMatch }), 200);
    const refused = await rebook(first, { ...byCompany, technicianId: bram() });
    expectProblem(expectStatus(refused, 409), 'not-allowed-now');
    expect(refused.body.detail).toContain('Somebody was let in on this trip');
  });

  it('into another window waits for those that rest on its fee, and is told what to do', async () => {
    const { windowStart, windowEnd } = freeWindow();
    const first = await bookJob(service, undefined, { windowStart, windowEnd });
    const next = { windowStart: windowEnd, windowEnd: plusHours(windowEnd, 2) };
    const second = await bookBeside(first, next);
    const ticket = await service.as('dispatcher').get(`/v1/tickets/${second.ticketId}`);
    const elsewhen = { ...byCompany, ...agreedTo(freeWindow()) };
    const refused = await rebook(first, elsewhen);
    expectProblem(expectStatus(refused, 409), 'not-allowed-now');
    expect(refused.body.detail).toContain(`Ticket ${ticket.body.number} is booked on this trip`);
    expect(refused.body.detail).toContain('Name another technician alone');
    expect(refused.body.detail).toContain('for another window, book that visit anew first');
    expectStatus(await rebook(second, { ...byCompany, ...agreedTo(freeWindow(), 0) }), 201);
    expectStatus(await rebook(first, elsewhen), 201);
  });

  it('was moved by whom it says', async () => {
    const job = await bookJob(service);
    const moved = expectStatus(await rebook(job, { ...byCompany, technicianId: bram() }), 201);
    expect(moved.body.moveAskedBy).toBe('company');
    const again = { ...byCustomer, technicianId: service.staff.technician.id };
    const back = expectStatus(await rebook(asJob(moved), again), 201);
    expect(back.body).toMatchObject({ moveAskedBy: 'customer', movedAlong: [] });
    expect((await visitAt(job.visitId)).moveAskedBy).toBeNull();
  });

  it('is refused whole where that one is taken: the old booking stands', async () => {
    const window = freeWindow();
    const job = await bookJob(service, undefined, window);
    const other = await bookJob(service, undefined, later(window, 4));
    const taken = expectStatus(await rebook(other, { ...byCompany, technicianId: bram() }), 201);
    const back = asJob(taken);
    const same = { ...byCompany, ...agreedTo(window), technicianId: bram() };
    expectStatus(await rebook(back, same), 201);
    const entries = await journalOf(job.visitId);
    const refused = await rebook(job, { ...byCompany, technicianId: bram() });
    expectProblem(expectStatus(refused, 409), 'window-taken');
    expect(await visitAt(job.visitId)).toMatchObject({ state: 'booked', version: 1 });
    expect(await journalOf(job.visitId)).toEqual(entries);
  });

  it('may be on the way, and no longer once somebody is on site', async () => {
    const job = await bookJob(service);
    const technician = service.as('technician');
    const path = `/v1/visits/${job.visitId}`;
    const left = await technician.post(`${path}/start-travel`, {}, { ifMatch: job.visitTag });
    const onTheWay = asJob(expectStatus(left, 200));
    const moved = expectStatus(await rebook(onTheWay, { ...byCompany, technicianId: bram() }), 201);
    expect(moved.body.state).toBe('booked');
    const second = service.as('second_technician');
    let tag = moved.headers['etag'] ?? '';
    for (const verb of ['start-travel', 'arrive']) {
      const step = await second.post(`/v1/visits/${moved.body.id}/${verb}`, {}, { ifMatch: tag });
      tag = expectStatus(step, 200).headers['etag'] ?? '';
    }
    const technicianId = service.staff.technician.id;
    const there = { visitId: moved.body.id, visitTag: tag };
    const refused = await rebook(there, { ...byCompany, technicianId });
    expectProblem(expectStatus(refused, 409), 'not-allowed-now');
    expect(refused.body.currentState).toBe('on_site');
  });
});

describe('a visit moved to another window', () => {
  it('that the customer asks for has the fee of that window, told and agreed to', async () => {
    const job = await bookJob(service);
    const cheap = await rebook(job, { ...byCustomer, ...agreedTo(EVENING) });
    expectProblem(expectStatus(cheap, 409), 'visit-fee-differs');
    expect(cheap.body).toMatchObject({ feeCents: AFTER_HOURS, periodCode: 'after_hours' });
    const moved = await rebook(job, { ...byCustomer, ...agreedTo(EVENING, AFTER_HOURS) });
    expect(expectStatus(moved, 201).body).toMatchObject({
      ...EVENING_TEXT,
      feeCents: AFTER_HOURS,
      periodCode: 'after_hours',
      windowAgreedBy: 'Winifred Ashgrove',
      feeAgreedAt: '2026-07-14T18:00:00.000Z',
    });
  });

  it('that we ask for never costs more: neither the fee nor the labor of the evening', async () => {
    const job = await bookJob(service);
    const dear = await rebook(job, { ...byCompany, ...agreedTo(later(EVENING, 24), AFTER_HOURS) });
    expectProblem(expectStatus(dear, 409), 'visit-fee-differs');
    expect(dear.body).toMatchObject({ feeCents: REGULAR, periodCode: 'regular' });
    const moved = await rebook(job, { ...byCompany, ...agreedTo(later(EVENING, 24)) });
    expect(expectStatus(moved, 201).body).toMatchObject({
      feeCents: REGULAR,
      periodCode: 'regular',
    });
  });

  it('that we ask for costs less where the window does', async () => {
    const evening = later(EVENING, 48);
    const job = await bookJob(service, undefined, { ...evening, toldFeeCents: AFTER_HOURS });
    const moved = await rebook(job, { ...byCompany, ...agreedTo(freeWindow()) });
    expect(expectStatus(moved, 201).body).toMatchObject({
      feeCents: REGULAR,
      periodCode: 'regular',
    });
  });

  it('has no fee when we move one that had none out of its trip; the customer who asks has one', async () => {
    const { windowStart, windowEnd } = freeWindow();
    const first = await bookJob(service, undefined, { windowStart, windowEnd });
    const second = await bookBeside(first, {
      windowStart: windowEnd,
      windowEnd: plusHours(windowEnd, 2),
    });
    const moved = await rebook(second, { ...byCompany, ...agreedTo(freeWindow(), 0) });
    expect(expectStatus(moved, 201).body).toMatchObject({ feeCents: 0, sameTripAs: null });
    const asked = await rebook(asJob(moved), { ...byCustomer, ...agreedTo(freeWindow(), 0) });
    expectProblem(expectStatus(asked, 409), 'visit-fee-differs');
    expect(asked.body.feeCents).toBe(REGULAR);
  });

  it('plans the whole of it, or what was said', async () => {
    const job = await bookJob(service);
    const window = freeWindow();
    const planned = { start: plusHours(window.windowStart, 1), minutes: 45 };
    const moved = await rebook(job, { ...byCompany, ...agreedTo(window), planned });
    expect(expectStatus(moved, 201).body.planned).toEqual({
      start: utc(planned.start),
      end: utc(plusHours(window.windowStart, 1.75)),
    });
    const next = freeWindow();
    const again = await rebook(asJob(moved), { ...byCompany, ...agreedTo(next) });
    expect(expectStatus(again, 201).body.planned).toEqual({
      start: utc(next.windowStart),
      end: utc(next.windowEnd),
    });
  });

  const half = { windowStart: '2026-09-07T18:00:00Z' };
  it.each([
    ['a window without a yes', half, '/windowStart'],
    ['a yes without a window', { windowAgreedBy: 'Winifred Ashgrove' }, '/windowStart'],
    ['nothing that is another', {}, ''],
    ['a window that is over', agreedTo(past()), '/windowEnd'],
    ['a plan outside the window', { planned: { start: past().windowStart, minutes: 30 } }, ''],
  ])('refuses %s', async (_, wrong, pointer) => {
    const job = await bookJob(service);
    const refused = await rebook(job, { ...byCompany, ...wrong });
    expectProblem(expectStatus(refused, 400), 'validation-failed');
    expect(refused.body.errors).toEqual([expect.objectContaining({ pointer })]);
    expect((await visitAt(job.visitId)).state).toBe('booked');
  });

  it('refuses work planned outside the window that stays', async () => {
    const job = await bookJob(service);
    const planned = { start: past().windowStart, minutes: 30 };
    const refused = await rebook(job, { ...byCompany, technicianId: bram(), planned });
    expect(expectStatus(refused, 400).body.errors).toEqual([
      expect.objectContaining({ pointer: '/planned/start', code: 'outside_window' }),
    ]);
  });

  it('comes back without a fee when work was agreed to since it was booked', async () => {
    const job = await arriveAtJob(service);
    const quote = await offer(service, job, [await findCapacitor(service, job)]);
    await finishVisit(service, job.visitId, 'waiting_for_answer');
    const feeDisclosure = { toldFeeCents: REGULAR, agreedBy: 'Winifred Ashgrove' };
    const booked = await bookNext(service, job.ticketId, { feeDisclosure });
    await acceptOnly(service, quote);
    const moved = await rebook(asJob(expectStatus(booked, 201)), {
      ...byCustomer,
      ...agreedTo(freeWindow(), 0),
    });
    expect(expectStatus(moved, 201).body).toMatchObject({ purpose: 'return', feeCents: 0 });
  });
});

describe('work planned anew inside its window', () => {
  const plan = (job: { visitId: string; visitTag: string }, start: string, minutes: number) =>
    service
      .as('dispatcher')
      .patch(
        `/v1/visits/${job.visitId}/plan`,
        { planned: { start, minutes } },
        { ifMatch: job.visitTag },
      );

  it('keeps window, fee and technician, and frees the rest of the window for another', async () => {
    const window = freeWindow();
    const job = await bookJob(service, undefined, window);
    const site = await addSite(service);
    const planned = expectStatus(await plan(job, window.windowStart, 60), 200);
    expect(planned.body).toMatchObject({
      planned: { start: utc(window.windowStart), end: utc(plusHours(window.windowStart, 1)) },
      feeCents: REGULAR,
      version: 2,
    });
    const beside = await bookJob(service, site, {
      windowStart: plusHours(window.windowStart, 1),
      windowEnd: window.windowEnd,
    });
    const clash = await plan(asJob(planned), plusHours(window.windowStart, 0.5), 60);
    expectProblem(expectStatus(clash, 409), 'window-taken');
    expect((await visitAt(beside.visitId)).planned.start).toBe(
      utc(plusHours(window.windowStart, 1)),
    );
  });

  it('is refused outside the window, and once somebody has set out', async () => {
    const window = freeWindow();
    const job = await bookJob(service, undefined, window);
    const early = await plan(job, plusHours(window.windowStart, -0.25), 60);
    expect(expectStatus(early, 400).body.errors[0]).toMatchObject({ pointer: '/planned/start' });
    const path = `/v1/visits/${job.visitId}/start-travel`;
    const left = await service.as('technician').post(path, {}, { ifMatch: job.visitTag });
    const late = await plan(asJob(expectStatus(left, 200)), window.windowStart, 60);
    expectProblem(expectStatus(late, 409), 'not-allowed-now');
  });
});

const EVENING_TEXT = {
  windowStart: utc(EVENING.windowStart),
  windowEnd: utc(EVENING.windowEnd),
};

function past() {
  return { windowStart: '2026-07-14T14:00:00Z', windowEnd: '2026-07-14T16:00:00Z' };
}

function later(window: { windowStart: string; windowEnd: string }, hours: number) {
  return {
    windowStart: plusHours(window.windowStart, hours),
    windowEnd: plusHours(window.windowEnd, hours),
  };
}

function plusHours(instant: string, hours: number): string {
  return utc(Date.parse(instant) + hours * 3_600_000);
}

function utc(instant: string | number): string {
  return new Date(instant).toISOString();
}

async function journalOf(visitId: string) {
  const { rows } = await service.owner.query(
    'SELECT event FROM journal_entry WHERE subject_id = $1 ORDER BY id',
    [visitId],
  );
  return rows;
}
