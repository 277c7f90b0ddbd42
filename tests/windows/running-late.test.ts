import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { addSite } from '../harness/job.ts';
import { milesOff, openDays } from '../harness/open-days.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

/*
 * A morning on 2026-07-15, five hours behind UTC. Sites lie ten miles from the base and from each
 * other's road: 10 miles x 1.3 / 28 mph are 28 minutes, and 5 to park, so 33.
 *
 *   eight to ten     planned 8:00 to 9:00
 *   ten to noon      planned 10:00 to 11:00
 *   noon to two      planned 12:00 to 13:00
 */
const DAY = '2026-07-15';
const local = (hour: number, minute = 0) =>
  new Date(Date.parse(`${DAY}T05:00:00Z`) + (hour * 60 + minute) * 60_000).toISOString();

let service: TestService;
let visits: { id: string; tag: string }[];

beforeAll(async () => {
  service = await createTestService();
  await openDays(service);
  visits = [];
  for (const [hour, language] of [
    [8, 'en'],
    [10, 'es'],
    [12, 'en'],
  ] as const) {
    visits.push(await bookAt(hour, language));
  }
});
beforeEach(() => service.clock.set(local(8)));
afterAll(() => service.close());

async function bookAt(hour: number, language: 'en' | 'es') {
  const dispatcher = service.as('dispatcher');
  const site = await addSite(service);
  const address = `/v1/customers/${site.customerId}`;
  const tag = (await dispatcher.get(address)).headers['etag'] ?? '';
  expectStatus(await dispatcher.patch(address, { language }, { ifMatch: tag }), 200);
  const place = `/v1/sites/${site.siteId}`;
  const ifMatch = (await dispatcher.get(place)).headers['etag'] ?? '';
  expectStatus(await dispatcher.patch(place, { place: milesOff(10, 0) }, { ifMatch }), 200);
  const ticket = { siteId: site.siteId, complaint: 'It does not cool.' };
  const opened = expectStatus(await dispatcher.post('/v1/tickets', ticket), 201);
  const booked = await dispatcher.post('/v1/visits', {
    ticketId: opened.body.id,
    technicianId: service.staff.technician.id,
    windowStart: local(hour),
    windowEnd: local(hour + 2),
    planned: { start: local(hour), minutes: 60 },
    feeDisclosure: { toldFeeCents: 8_900, agreedBy: 'Winifred Ashgrove' },
  });
  return { id: expectStatus(booked, 201).body.id, tag: booked.headers['etag'] ?? '' };
}

async function late(
  index: number,
  minutes: number,
  who: 'dispatcher' | 'technician' = 'dispatcher',
) {
  const path = `/v1/visits/${visits[index]?.id}/running-late?minutes=${minutes}`;
  return service.as(who).get(path);
}

describe('who waits when a visit runs over', () => {
  it('nobody while the day goes as planned: each is expected when it was planned', async () => {
    const { items } = expectStatus(await late(0, 0), 200).body;
    // Half an hour of road from the base, where the day begins at eight.
    expect(items.map((each: { expectedAt: string }) => each.expectedAt)).toEqual([
      local(8, 33),
      local(10),
      local(12),
    ]);
    for (const each of items) {
      expect(each).toMatchObject({ lateMinutes: 0, message: null });
    }
  });

  it('whoever is expected after the promised window ended, with a message in their language', async () => {
    const { items } = expectStatus(await late(0, 180), 200).body;
    // The first then ends at 12:33, and all three lie at one place: the next begin at once.
    expect(items.map((each: { lateMinutes: number }) => each.lateMinutes)).toEqual([0, 33, 0]);
    const [first, second, third] = items;
    expect([first.message, third.message]).toEqual([null, null]);
    expect(second).toMatchObject({
      expectedAt: local(10),
      expectedIfOverAt: local(12, 33),
      household: { name: 'Winifred Ashgrove', phone: '555-0111', language: 'es' },
      message:
        'Sparrowgate Home Comfort: vamos con retraso y lo sentimos. Prometimos llegar antes de las ' +
        '12:00 p.m. CDT; ahora esperamos llegar hacia las 12:35 p.m. CDT. Si no le conviene, llame ' +
        'al 555-0100.',
    });
    const worse = expectStatus(await late(0, 300), 200).body.items;
    expect(worse[2].message).toBe(
      'Sparrowgate Home Comfort: we are running late and are sorry. We promised to be there by ' +
        '2:00 PM CDT; we now expect to be there about 3:35 PM CDT. If that does not suit you, call ' +
        '555-0100.',
    );
  });

  it('only those after it, and no fee changes', async () => {
    const { items } = expectStatus(await late(1, 240), 200).body;
    expect(items.map((each: { lateMinutes: number }) => each.lateMinutes)).toEqual([0, 0, 60]);
    const fees = await service.owner.query('SELECT fee_cents FROM visit');
    expect(fees.rows.every(({ fee_cents }) => [8_900, 0].includes(fee_cents))).toBe(true);
  });

  it('counted from now for work in hand that has run over already', async () => {
    const technician = service.as('technician');
    let tag = visits[0]?.tag ?? '';
    for (const verb of ['start-travel', 'arrive']) {
      const path = `/v1/visits/${visits[0]?.id}/${verb}`;
      const step = expectStatus(await technician.post(path, {}, { ifMatch: tag }), 200);
      tag = step.headers['etag'] ?? '';
    }
    service.clock.set(local(11, 45));
    const { items } = expectStatus(await late(0, 30), 200).body;
    expect(items.map((each: { expectedAt: string }) => each.expectedAt)).toEqual([
      local(11, 45),
      local(12, 45),
    ]);
    expect(items[0]).toMatchObject({ expectedIfOverAt: local(12, 15), lateMinutes: 15 });
    expect((await late(0, 30, 'technician')).body).toEqual((await late(0, 30)).body);
  });

  it('is told to nobody else, and of no visit that is over', async () => {
    const path = `/v1/visits/${visits[2]?.id}/running-late`;
    expectProblem(await service.as('second_technician').get(path), 'not-found');
    const cancelled = await service
      .as('dispatcher')
      .post(`/v1/visits/${visits[2]?.id}/cancel`, { reason: 'Not any more.' }, { ifMatch: '"v1"' });
    expectStatus(cancelled, 200);
    expectProblem(expectStatus(await late(2, 10), 409), 'not-allowed-now');
  });
});
