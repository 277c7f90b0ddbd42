import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { addSite, type Site } from '../harness/job.ts';
import { milesOff, openDays, townBase } from '../harness/open-days.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

// A Tuesday, one in the afternoon locally; July is five hours behind.
const NOW = '2026-07-14T18:00:00Z';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
  await openDays(service);
});
beforeEach(() => service.clock.set(NOW));
afterAll(() => service.close());

const dispatcher = () => service.as('dispatcher');
let streets = 0;

/** A site so many miles from the base; without a place when none is given. */
async function siteAt(place?: object, change: Parameters<typeof addSite>[1] = {}): Promise<Site> {
  const site = await addSite(service, change);
  const address = `/v1/sites/${site.siteId}`;
  const ifMatch = (await dispatcher().get(address)).headers['etag'] ?? '';
  streets += 1;
  const moved = { postalCode: `9${String(streets).padStart(4, '0')}`, ...(place && { place }) };
  expectStatus(await dispatcher().patch(address, moved, { ifMatch }), 200);
  return site;
}

async function ticketAt(site: Site, symptoms: string[] = ['no_cooling']): Promise<string> {
  const ticket = { siteId: site.siteId, complaint: 'It does not cool.', symptoms };
  return expectStatus(await dispatcher().post('/v1/tickets', ticket), 201).body.id;
}

async function windowsOf(ticketId: string, query: string) {
  const found = await dispatcher().get(`/v1/tickets/${ticketId}/windows?${query}`);
  return expectStatus(found, 200).body;
}

/** Books an offer letter by letter, as whoever reads it out would. */
// biome-ignore lint/suspicious/noExplicitAny: JSON as a client gets it.
function bookOffer(ticketId: string, purpose: string, offer: any) {
  return dispatcher().post('/v1/visits', {
    ...{ ticketId, purpose },
    technicianId: offer.technicianId,
    windowStart: offer.windowStart,
    windowEnd: offer.windowEnd,
    planned: offer.planned,
    feeDisclosure: {
      toldFeeCents: offer.fee.feeCents,
      toldFeeAfterDiscountCents: offer.fee.feeAfterDiscountCents,
      agreedBy: 'Winifred Ashgrove',
    },
  });
}

describe('a window that is told can be booked as it is told', () => {
  it('whatever was booked before: of a filling day the first, the last and one between', async () => {
    let booked = 0;
    for (let round = 0; round < 12; round += 1) {
      const site = await siteAt(milesOff((round * 7) % 11, -((round * 5) % 13)));
      const ticketId = await ticketAt(site);
      const { items, purpose } = await windowsOf(ticketId, 'from=2026-07-20&days=1&limit=50');
      const offer = items[[0, items.length - 1, Math.floor(items.length / 2)][round % 3] ?? 0];
      if (offer === undefined) break;
      expectStatus(await bookOffer(ticketId, purpose, offer), 201);
      booked += 1;
    }
    expect(booked).toBeGreaterThan(8);
    const { rows } = await service.owner.query(
      `SELECT count(*)::int AS overlaps FROM visit a JOIN visit b ON a.id < b.id
         AND a.technician_id = b.technician_id
         AND tstzrange(a.planned_start, a.planned_end) && tstzrange(b.planned_start, b.planned_end)`,
    );
    expect(rows).toEqual([{ overlaps: 0 }]);
  });

  it('unless somebody was faster: who is then told what is free near it', async () => {
    const [one, other] = [await ticketAt(await siteAt(townBase)), await ticketAt(await siteAt())];
    const { items } = await windowsOf(one, 'from=2026-07-21&days=1');
    expectStatus(await bookOffer(one, 'call', items[0]), 201);
    const late = expectStatus(await bookOffer(other, 'call', items[0]), 409);
    expect(expectProblem(late, 'window-taken').body.nearestFree).toHaveLength(3);
  });

  it('with the fee of its period, of the agreement of the site, and none within a trip', async () => {
    const site = await siteAt(milesOff(2, 2));
    const agreement = {
      ...{ planCode: 'two_visits', startsOn: '2026-01-01', endsOn: '2027-01-01' },
      agreedByName: 'Winifred Ashgrove',
    };
    const path = `/v1/sites/${site.siteId}/agreements`;
    expectStatus(await dispatcher().post(path, agreement), 201);
    const first = await ticketAt(site);
    const told = await windowsOf(first, 'from=2026-07-22&days=1&limit=50');
    // A quarter off 8,900 under the invented plan.
    expect(told.items[0].fee).toMatchObject({ feeCents: 8_900, feeAfterDiscountCents: 6_675 });
    const morning = told.items.find(
      ({ windowStart }: { windowStart: string }) => windowStart === '2026-07-22T13:00:00.000Z',
    );
    const visit = expectStatus(await bookOffer(first, 'call', morning), 201).body;
    const second = await ticketAt(site);
    const { items } = await windowsOf(
      second,
      `from=2026-07-22&days=1&limit=50&technicianId=${visit.technicianId}`,
    );
    for (const { fee } of items) {
      expect(fee).toMatchObject({ feeCents: 0, sameTripAs: visit.id });
    }
    expectStatus(await bookOffer(second, 'call', items[0]), 201);
  });
});

describe('which windows are told', () => {
  it('of the offered ones, on the clock of the company, none that has begun', async () => {
    const ticketId = await ticketAt(await siteAt(townBase));
    const { items } = await windowsOf(ticketId, 'from=2026-07-13&days=3&limit=50');
    const starts = [...new Set(items.map((each: { windowStart: string }) => each.windowStart))];
    expect(starts.sort()).toEqual([
      // It is one o'clock on the 14th: from two on.
      '2026-07-14T19:00:00.000Z',
      '2026-07-14T21:00:00.000Z',
      ...['13', '15', '17', '19', '21'].map((hour) => `2026-07-15T${hour}:00:00.000Z`),
    ]);
    service.clock.set('2026-07-14T19:00:01Z');
    const later = await windowsOf(ticketId, 'from=2026-07-14&days=1&limit=50');
    expect(new Set(later.items.map((each: { windowStart: string }) => each.windowStart))).toEqual(
      new Set(['2026-07-14T21:00:00.000Z']),
    );
  });

  it('of no day that is over: an empty list would say that all is booked', async () => {
    const ticketId = await ticketAt(await siteAt(townBase));
    const path = `/v1/tickets/${ticketId}/windows?from=2026-07-12&days=2`;
    const refused = await service.as('dispatcher').get(path);
    const { body } = expectProblem(expectStatus(refused, 400), 'validation-failed');
    expect(body.errors).toMatchObject([{ in: 'query', pointer: '/from', code: 'day_over' }]);
  });

  it('first the one that lies on the way of what is booked', async () => {
    const far = await ticketAt(await siteAt(milesOff(20, 0)));
    const { items } = await windowsOf(
      far,
      `from=2026-07-23&days=1&limit=50&technicianId=${service.staff.second_technician.id}`,
    );
    const noon = items.find(
      ({ windowStart }: { windowStart: string }) => windowStart === '2026-07-23T15:00:00.000Z',
    );
    const booked = expectStatus(await bookOffer(far, 'call', noon), 201).body;
    const near = await windowsOf(await ticketAt(await siteAt(milesOff(20, 1))), 'from=2026-07-23');
    const [best] = near.items;
    expect(best).toMatchObject({ technicianId: booked.technicianId });
    expect([best.travel.afterVisitId, best.travel.beforeVisitId]).toContain(booked.id);
    expect(best.why).toMatch(
      /^Bram Ostrander is \d+ minutes away from the (base|visit before); \d+ more minutes on the road that day, and \d+ minutes to spare\.$/,
    );
  });

  it('the soonest first for whoever must not wait', async () => {
    const site = await siteAt(milesOff(1, 1));
    const ticketId = await ticketAt(site);
    const usual = await windowsOf(ticketId, 'from=2026-07-24&days=3');
    expect(usual.urgency).toBe('usual');
    const rank = { rank: 1, reason: 'A newborn is in the house.' };
    expectStatus(await dispatcher().post(`/v1/tickets/${ticketId}/priority`, rank), 200);
    const urgent = await windowsOf(ticketId, 'from=2026-07-24&days=3&limit=50');
    expect(urgent.urgency).toBe('soonest');
    expect(urgent.items[0].windowStart).toBe('2026-07-24T13:00:00.000Z');
    const starts = urgent.items.map(({ planned }: { planned: { start: string } }) =>
      Math.floor(Date.parse(planned.start) / 900_000),
    );
    expect(starts).toEqual([...starts].sort((a, b) => a - b));
  });

  it('of a booked ticket as if its visit were given up', async () => {
    const ticketId = await ticketAt(await siteAt(milesOff(3, 3)));
    const query = 'from=2026-07-27&days=1&limit=50';
    const before = await windowsOf(ticketId, query);
    expectStatus(await bookOffer(ticketId, 'call', before.items[0]), 201);
    expect((await windowsOf(ticketId, query)).items).toEqual(before.items);
  });

  it.each(['2200-01-01', '9999-12-31', '1899-12-31'])('none from %s on', async (from) => {
    const ticketId = await ticketAt(await siteAt());
    const refused = await dispatcher().get(`/v1/tickets/${ticketId}/windows?from=${from}&days=14`);
    expectProblem(expectStatus(refused, 400), 'validation-failed');
    const plan = await dispatcher().post(`/v1/days/${from}/plans`);
    expectProblem(expectStatus(plan, 400), 'validation-failed');
  });

  it('none of a ticket that nobody is sent to any more', async () => {
    const ticketId = await ticketAt(await siteAt());
    const ifMatch = (await dispatcher().get(`/v1/tickets/${ticketId}`)).headers['etag'] ?? '';
    const reason = { reason: 'It runs again.' };
    expectStatus(
      await dispatcher().post(`/v1/tickets/${ticketId}/cancel`, reason, { ifMatch }),
      200,
    );
    const refused = await dispatcher().get(`/v1/tickets/${ticketId}/windows?from=2026-07-20`);
    expectProblem(expectStatus(refused, 409), 'not-allowed-now');
  });
});

describe('what a ticket takes', () => {
  it('a technician with the skills for the machines of the site', async () => {
    const address = `/v1/technicians/${service.staff.technician.id}`;
    const tag = async () => (await service.as('owner').get(address)).headers['etag'] ?? '';
    const ifMatch = await tag();
    const skilled = { skills: ['cooling', 'heat_pump'] };
    expectStatus(await service.as('owner').patch(address, skilled, { ifMatch }), 200);
    const site = await siteAt(milesOff(1, 0), {
      outdoor: { kind: 'heat_pump', nameplate: { phase: 1, refrigerant: 'R-410A' } },
    });
    const told = await windowsOf(await ticketAt(site), 'from=2026-07-28&days=1&limit=50');
    expect(told.needs).toEqual(['heat_pump']);
    const who = new Set(told.items.map((each: { technicianId: string }) => each.technicianId));
    expect(who).toEqual(new Set([service.staff.technician.id]));
    const furnace = { kind: 'furnace', nameplate: { heatInputBtuh: 80_000 } };
    const path = `/v1/systems/${site.systemId}/equipment`;
    expectStatus(await dispatcher().post(path, furnace), 201);
    const cold = await windowsOf(await ticketAt(site, ['no_heating']), 'from=2026-07-28&days=1');
    expect(cold.needs).toEqual(['gas_heat', 'heat_pump']);
    expect(cold.items).toEqual([]);
    const back = { skills: [] };
    expectStatus(await service.as('owner').patch(address, back, { ifMatch: await tag() }), 200);
  });

  it('minutes by what is likely behind the call, and it says which', async () => {
    const site = await siteAt();
    const warm = await windowsOf(await ticketAt(site), 'from=2026-07-29&days=1');
    expect(warm.work.basis).toBe('likely_tasks');
    expect(warm.work.minutes % 5).toBe(0);
    expect(warm.work.minutes).toBeGreaterThan(30);
    expect(warm.work.says).toMatch(/to look for the cause, the rest for what is likely behind it/);
    expect(warm.items[0].planned.minutes).toBe(warm.work.minutes);
    const wet = await windowsOf(await ticketAt(site, ['water_leak']), 'from=2026-07-29&days=1');
    expect(wet.work.says).toMatch(/Plugged|drain/i);
    const cold = await windowsOf(await ticketAt(site, ['no_heating']), 'from=2026-07-29&days=1');
    expect(cold.work).toMatchObject({ basis: 'usual', minutes: 75 });
  });

  it('the place of the site, or the middle of its neighbors, or the base', async () => {
    const own = await windowsOf(await ticketAt(await siteAt(milesOff(5, 5))), 'from=2026-07-30');
    expect(own.placeIs).toBe('site');
    const unplaced = await siteAt();
    const ticketId = await ticketAt(unplaced);
    expect((await windowsOf(ticketId, 'from=2026-07-30')).placeIs).toBe('base');
    const { rows } = await service.owner.query('SELECT postal_code FROM site WHERE id = $1', [
      unplaced.siteId,
    ]);
    for (const place of [milesOff(8, 0), milesOff(12, 0)]) {
      const neighbor = await siteAt(place);
      await service.owner.query('UPDATE site SET postal_code = $2 WHERE id = $1', [
        neighbor.siteId,
        rows[0].postal_code,
      ]);
    }
    const near = await windowsOf(ticketId, 'from=2026-07-30');
    expect(near.placeIs).toBe('postal_code');
    // Ten miles as the crow flies: 13 of road at 28 an hour are 28 minutes, and 5 to park.
    expect(near.items[0].travel.thereMinutes).toBe(33);
  });
});

describe('on the nights the clocks change', () => {
  it.each([
    // Central time: 2026-11-01 goes back at two, 2027-03-14 goes forward at two.
    ['the day before', '2026-10-31', '2026-10-31T13:00:00.000Z'],
    ['back', '2026-11-01', '2026-11-01T14:00:00.000Z'],
    ['forward', '2027-03-14', '2027-03-14T13:00:00.000Z'],
  ])('the windows of the day stand on the clock: %s', async (_, day, eight) => {
    const ticketId = await ticketAt(await siteAt(townBase));
    const { items } = await windowsOf(ticketId, `from=${day}&days=1&limit=50`);
    const starts = items.map(({ windowStart }: { windowStart: string }) => windowStart).sort();
    expect(starts[0]).toBe(eight);
    expect(new Set(starts).size).toBe(5);
  });

  it('a window of the night is as long as the night makes it, and one that is skipped is none', async () => {
    const night = await createTestService();
    try {
      // From ten in the evening to six, which belongs to the day it starts on.
      await openDays(night, { startMinute: 22 * 60, endMinute: 30 * 60 });
      const owner = night.as('owner');
      const policy = await owner.get('/v1/dispatch-policy');
      const windows = [
        { startMinute: 60, endMinute: 180 },
        { startMinute: 120, endMinute: 180 },
      ];
      const ifMatch = policy.headers['etag'] ?? '';
      expectStatus(await owner.patch('/v1/dispatch-policy', { windows }, { ifMatch }), 200);
      const site = await addSite(night);
      const ticket = await owner.post('/v1/tickets', {
        ...{ siteId: site.siteId, complaint: 'It is warm.', symptoms: ['no_heating'] },
      });
      const spansOn = async (day: string) => {
        const address = `/v1/tickets/${ticket.body.id}/windows?from=${day}&days=2&limit=50`;
        const { items } = expectStatus(await owner.get(address), 200).body;
        const spans = items.map(
          (each: { windowStart: string; windowEnd: string }) =>
            `${each.windowStart} ${each.windowEnd}`,
        );
        return [...new Set<string>(spans)].sort();
      };
      // One o'clock is shown twice on the first of November; from the first of them on.
      expect(await spansOn('2026-10-31')).toEqual([
        '2026-10-31T06:00:00.000Z 2026-10-31T08:00:00.000Z',
        '2026-10-31T07:00:00.000Z 2026-10-31T08:00:00.000Z',
        '2026-11-01T06:00:00.000Z 2026-11-01T09:00:00.000Z',
        '2026-11-01T08:00:00.000Z 2026-11-01T09:00:00.000Z',
      ]);
      // Two o'clock is not shown on the fourteenth of March: from one it is an hour to three.
      expect(await spansOn('2027-03-13')).toEqual([
        '2027-03-13T07:00:00.000Z 2027-03-13T09:00:00.000Z',
        '2027-03-13T08:00:00.000Z 2027-03-13T09:00:00.000Z',
        '2027-03-14T07:00:00.000Z 2027-03-14T08:00:00.000Z',
      ]);
    } finally {
      await night.close();
    }
  });
});
