import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addSite, type Site } from '../harness/job.ts';
import { milesOff, openDays } from '../harness/open-days.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

// A Tuesday, one in the afternoon locally; July is five hours behind.
const NOW = '2026-07-14T18:00:00Z';
const FEE = 8_900;

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
  await openDays(service);
  service.clock.set(NOW);
});
afterAll(() => service.close());

const dispatcher = () => service.as('dispatcher');
const tamsin = () => service.staff.technician.id;
const bram = () => service.staff.second_technician.id;

async function siteAt(north: number, east: number): Promise<Site> {
  const site = await addSite(service);
  const address = `/v1/sites/${site.siteId}`;
  const ifMatch = (await dispatcher().get(address)).headers['etag'] ?? '';
  const place = milesOff(north, east);
  expectStatus(await dispatcher().patch(address, { place }, { ifMatch }), 200);
  return site;
}

async function openTicket({ siteId }: Site): Promise<string> {
  const ticket = { siteId, complaint: 'It does not cool.', symptoms: ['no_cooling'] };
  return expectStatus(await dispatcher().post('/v1/tickets', ticket), 201).body.id;
}

interface Booked {
  site: Site;
  technicianId: string;
  windowStart: string;
  windowEnd: string;
  planned?: { start: string; minutes: number };
  toldFeeCents?: number;
}

async function book({ site, toldFeeCents = FEE, ...visit }: Booked) {
  const ticketId = await openTicket(site);
  const feeDisclosure = { toldFeeCents, agreedBy: 'Winifred Ashgrove' };
  const booked = await dispatcher().post('/v1/visits', { ticketId, ...visit, feeDisclosure });
  return expectStatus(booked, 201).body;
}

async function propose(day: string) {
  return expectStatus(await dispatcher().post(`/v1/days/${day}/plans`), 201).body;
}

function put(id: string) {
  return dispatcher().post(`/v1/day-plans/${id}/use`);
}

async function visitAt(id: string) {
  return expectStatus(await dispatcher().get(`/v1/visits/${id}`), 200).body;
}

/** Two technicians who are each sent past the door of the other's household. */
async function crossedDay(day: string) {
  const at = (hour: number, minute = 0) =>
    new Date(
      Date.parse(`${day}T13:00:00Z`) + (hour - 8) * 3_600_000 + minute * 60_000,
    ).toISOString();
  const window = (hour: number) => ({ windowStart: at(hour), windowEnd: at(hour + 4) });
  const east = [await siteAt(0, 20), await siteAt(1, 21)] as const;
  const west = [await siteAt(0, -20), await siteAt(1, -21)] as const;
  const planned = (hour: number) => ({ start: at(hour), minutes: 60 });
  const visits = [
    await book({ site: east[0], technicianId: tamsin(), ...window(8), planned: planned(8) }),
    await book({ site: west[0], technicianId: bram(), ...window(8), planned: planned(8) }),
    await book({ site: west[1], technicianId: tamsin(), ...window(10), planned: planned(11) }),
    await book({ site: east[1], technicianId: bram(), ...window(10), planned: planned(11) }),
  ];
  return { visits, at };
}

describe('a day planned anew', () => {
  it('spends less time on the road, keeps every promise, and changes nothing until it is used', async () => {
    const { visits } = await crossedDay('2026-07-20');
    const before = await Promise.all(visits.map(({ id }) => visitAt(id)));
    const plan = await propose('2026-07-20');
    expect(plan.travelMinutes.after).toBeLessThan(plan.travelMinutes.before / 1.5);
    expect(plan.late).toEqual([]);
    expect(plan.reassigned.length).toBeGreaterThan(0);
    expect(await Promise.all(visits.map(({ id }) => visitAt(id)))).toEqual(before);
    expect(await propose('2026-07-20')).toEqual({
      ...plan,
      id: expect.any(String),
      createdAt: expect.any(String),
    });

    const used = expectStatus(await put(plan.id), 200).body;
    expect(used.visits).toHaveLength(plan.reassigned.length);
    for (const { visitId, movedFromId } of used.visits) {
      const old = before.find(({ id }) => id === movedFromId);
      const now = await visitAt(visitId);
      expect(now).toMatchObject({
        state: 'booked',
        windowStart: old.windowStart,
        windowEnd: old.windowEnd,
        windowAgreedBy: null,
        feeCents: FEE,
        feeAgreedAt: old.feeAgreedAt,
      });
      expect(now.technicianId).not.toBe(old.technicianId);
      expect((await visitAt(movedFromId)).state).toBe('cancelled');
    }
    for (const { visitId, planned } of plan.shifted) {
      expect((await visitAt(visitId)).planned.start).toBe(planned.start);
    }
    const again = await propose('2026-07-20');
    expect([again.shifted, again.reassigned]).toEqual([[], []]);
    expect(again.travelMinutes.before).toBe(plan.travelMinutes.after);
  });

  it('is used once', async () => {
    const plan = await propose('2026-08-20');
    expectStatus(await put(plan.id), 200);
    const twice = expectProblem(expectStatus(await put(plan.id), 409), 'not-allowed-now');
    expect(twice.body.currentState).toBe('used');
    const both = await propose('2026-08-20');
    const answers = await Promise.all([put(both.id), put(both.id), put(both.id)]);
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 409, 409]);
  });

  it('lets two works of one technician change places', async () => {
    const technicianId = tamsin();
    const day = '2026-07-21';
    const morning = { windowStart: `${day}T13:00:00Z`, windowEnd: `${day}T19:00:00Z` };
    const work = (hour: number) => ({ start: `${day}T${hour}:00:00Z`, minutes: 120 });
    // Out past the near one and back to it: the way home lies past it too, so only the windows say
    // which comes first. The second window ends early, so the two have to change places.
    const early = { windowStart: `${day}T13:00:00Z`, windowEnd: `${day}T15:00:00Z` };
    const near = await book({
      site: await siteAt(2, 0),
      technicianId,
      ...early,
      planned: work(15),
    });
    const far = await book({
      site: await siteAt(4, 0),
      technicianId,
      ...morning,
      planned: work(13),
    });
    const plan = await propose(day);
    const ids = plan.shifted.map(({ visitId }: { visitId: string }) => visitId);
    expect(ids.sort()).toEqual([near.id, far.id].sort());
    expectStatus(await put(plan.id), 200);
    const [first, second] = [await visitAt(near.id), await visitAt(far.id)];
    expect(Date.parse(first.planned.end)).toBeLessThanOrEqual(Date.parse(second.planned.start));
  });

  it('leaves a trip with one fee to whoever makes it', async () => {
    const day = '2026-07-22';
    const site = await siteAt(0, 25);
    const technicianId = tamsin();
    const ten = { windowStart: `${day}T15:00:00Z`, windowEnd: `${day}T17:00:00Z` };
    const noon = { windowStart: `${day}T17:00:00Z`, windowEnd: `${day}T19:00:00Z` };
    const withFee = await book({
      ...{ site, technicianId, ...ten },
      planned: { start: ten.windowStart, minutes: 60 },
    });
    const without = await book({
      ...{ site, technicianId, ...noon, toldFeeCents: 0 },
      planned: { start: noon.windowStart, minutes: 60 },
    });
    expect(without.sameTripAs).toBe(withFee.id);
    // The other technician is next door at the very time, so the road alone would say otherwise.
    const door = {
      technicianId: bram(),
      windowStart: `${day}T19:00:00Z`,
      windowEnd: `${day}T21:00:00Z`,
    };
    await book({ site: await siteAt(0, 26), ...door });
    const plan = await propose(day);
    const moved = plan.reassigned.map(({ visitId }: { visitId: string }) => visitId);
    expect(moved).not.toContain(withFee.id);
    expect(moved).not.toContain(without.id);
  });
});

describe('a plan that is used', () => {
  it('books nobody new: it says whom to call, about which window, and the fee to tell', async () => {
    const day = '2026-07-23';
    const site = await siteAt(3, 3);
    const ticketId = await openTicket(site);
    const plan = await propose(day);
    const placed = plan.placed.find((each: { ticketId: string }) => each.ticketId === ticketId);
    expect(placed.planned.start >= placed.windowStart).toBe(true);
    const used = expectStatus(await put(plan.id), 200).body;
    expect(used.placed).toEqual(plan.placed);
    const offers = await dispatcher().get(`/v1/day-plans/${plan.id}/offers`);
    const offer = expectStatus(offers, 200).body.items.find(
      (each: { ticketId: string }) => each.ticketId === ticketId,
    );
    expect(offer).toMatchObject({
      ...placed,
      household: { name: 'Winifred Ashgrove', phone: '555-0111', language: 'en' },
      fee: { feeCents: FEE, feeAfterDiscountCents: FEE, periodCode: 'regular' },
    });
    const ticket = await dispatcher().get(`/v1/tickets/${ticketId}`);
    expect(ticket.body.state).toBe('new');
    const { windowStart, windowEnd, technicianId, planned } = offer;
    const booking = { ticketId, technicianId, windowStart, windowEnd, planned };
    const feeDisclosure = { toldFeeCents: offer.fee.feeCents, agreedBy: 'Winifred Ashgrove' };
    expectStatus(await dispatcher().post('/v1/visits', { ...booking, feeDisclosure }), 201);
  });

  it('is refused whole when something it rests on has changed, and says what', async () => {
    const { visits } = await crossedDay('2026-07-27');
    const plan = await propose('2026-07-27');
    const [first, second] = visits;
    const ifMatch = '"v1"';
    const reason = { reason: 'They are away.' };
    expectStatus(
      await dispatcher().post(`/v1/visits/${first.id}/cancel`, reason, { ifMatch }),
      200,
    );
    const planned = { start: second.planned.start, minutes: 75 };
    const path = `/v1/visits/${second.id}/plan`;
    expectStatus(await dispatcher().patch(path, { planned }, { ifMatch }), 200);
    const added = await book({
      ...{ site: await siteAt(0, 1), technicianId: bram() },
      ...{ windowStart: '2026-07-27T21:00:00Z', windowEnd: '2026-07-27T23:00:00Z' },
    });
    const refused = expectProblem(expectStatus(await put(plan.id), 409), 'not-allowed-now');
    const changed = [
      { kind: 'visit', id: first.id, what: 'gone' },
      { kind: 'visit', id: second.id, what: 'changed' },
      { kind: 'visit', id: added.id, what: 'new' },
    ].sort((a, b) => (a.id < b.id ? -1 : 1));
    expect(refused.body.changedSince).toEqual(changed);
    const kept = expectStatus(await dispatcher().get(`/v1/day-plans/${plan.id}`), 200).body;
    expect(kept).toMatchObject({ changedSince: changed, usedAt: null });
    for (const { id } of visits.slice(2)) {
      expect(await visitAt(id)).toMatchObject({ state: 'booked', version: 1 });
    }
  });

  it('is refused when hours or policy have changed, or its time has passed', async () => {
    await crossedDay('2026-07-28');
    const plan = await propose('2026-07-28');
    const away = { firstDay: '2026-07-28', lastDay: '2026-07-28', why: 'sick' };
    const absences = `/v1/technicians/${bram()}/absences`;
    const absence = expectStatus(await dispatcher().post(absences, away), 201).body;
    expect((await put(plan.id)).body.changedSince).toEqual([
      { kind: 'hours', id: null, what: 'changed' },
    ]);
    expectStatus(await dispatcher().post(`${absences}/${absence.id}/withdraw`), 200);
    const owner = service.as('owner');
    const policy = await owner.get('/v1/dispatch-policy');
    const slower = await owner.patch(
      '/v1/dispatch-policy',
      { mph: 20 },
      { ifMatch: policy.headers['etag'] ?? '' },
    );
    expect(expectProblem(await put(plan.id), 'not-allowed-now').body.changedSince).toEqual([
      { kind: 'policy', id: null, what: 'changed' },
    ]);
    const asBefore = { ifMatch: expectStatus(slower, 200).headers['etag'] ?? '' };
    expectStatus(await owner.patch('/v1/dispatch-policy', { mph: 28 }, asBefore), 200);
    const fresh = await propose('2026-07-28');
    service.clock.set('2026-07-28T16:59:00Z');
    const late = await put(fresh.id);
    service.clock.set(NOW);
    expect(late.status).toBe(409);
    const kinds = late.body.changedSince.map(({ kind }: { kind: string }) => kind);
    expect(kinds).toContain('time');
  });

  it('is of no day that is over; of one that nothing is booked on it proposes nothing', async () => {
    const over = await dispatcher().post('/v1/days/2026-07-13/plans');
    expectProblem(expectStatus(over, 400), 'validation-failed');
    expect(over.body.errors[0]).toMatchObject({ in: 'path', pointer: '/day' });
    const empty = await propose('2027-12-31');
    expect([empty.shifted, empty.reassigned]).toEqual([[], []]);
  });
});

describe('who is away', () => {
  it('gives what is booked to whoever is there, in the windows that were promised', async () => {
    const day = '2026-07-29';
    const window = { windowStart: `${day}T15:00:00Z`, windowEnd: `${day}T17:00:00Z` };
    const visit = await book({
      ...{ site: await siteAt(1, 1), technicianId: bram(), ...window },
      planned: { start: window.windowStart, minutes: 60 },
    });
    const away = { firstDay: day, lastDay: day, why: 'sick' };
    expectStatus(await dispatcher().post(`/v1/technicians/${bram()}/absences`, away), 201);
    const plan = await propose(day);
    expect(plan.reassigned).toEqual([
      expect.objectContaining({
        visitId: visit.id,
        technicianId: tamsin(),
        fromTechnicianId: bram(),
      }),
    ]);
    const used = expectStatus(await put(plan.id), 200).body;
    expect(await visitAt(used.visits[0].visitId)).toMatchObject({
      technicianId: tamsin(),
      windowStart: visit.windowStart,
      feeCents: FEE,
    });
  });
});
