import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { crewsOf } from '../../src/technicians/index.ts';
import { visitsOutsideHours } from '../../src/technicians/visits-outside-hours.ts';
import { atTime } from '../harness/fixed-clock.ts';
import { bookJob } from '../harness/job.ts';
import { tagged } from '../harness/tagged.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

let service: TestService;
let tamsin: string;
let bram: string;
beforeAll(async () => {
  service = await createTestService();
  tamsin = service.staff.technician.id;
  bram = service.staff.second_technician.id;
});
afterAll(() => service.close());

const path = (id: string, rest = '') => `/v1/technicians/${id}${rest}`;
const post = (id: string, rest: string, body: object) =>
  service.as('dispatcher').post(path(id, rest), body);

async function tagOf(id: string, query = ''): Promise<string> {
  return tagged(expectStatus(await service.as('owner').get(path(id, query)), 200)).tag;
}

const day = '2027-03-02';
const weekOf = (startMinute: number, endMinute: number) => ({
  validFrom: '2026-01-01',
  hours: [1, 2, 3, 4, 5].map((weekday) => ({ weekday, startMinute, endMinute })),
});

describe('what is written down of a technician', () => {
  it('begins as nothing, but for the certificate that lets them handle refrigerant', async () => {
    const { body } = expectStatus(await service.as('owner').get(path(tamsin)), 200);
    expect(body).toMatchObject({
      ...{ id: tamsin, name: 'Tamsin Roake', base: null, skills: [], version: 1 },
      mayHandleRefrigerant: true,
      day: { day: '2026-07-14', hours: [], onCall: [], absence: null, helpers: [], helps: null },
      ...{ workWeeks: [], absences: [], certificates: [], helpers: [] },
    });
  });

  it('is changed by the office with the version it saw, and each field stays unless named', async () => {
    const base = { latitudeDeg: 41.3, longitudeDeg: -96 };
    const change = { base, skills: ['heat_pump', 'cooling', 'cooling'] };
    const dispatcher = service.as('dispatcher');
    const first = await tagOf(tamsin);
    const set = await dispatcher.patch(path(tamsin), change, { ifMatch: first });
    expect(expectStatus(set, 200).body).toMatchObject({
      ...{ base, skills: ['cooling', 'heat_pump'], version: 2 },
    });
    const late = await dispatcher.patch(path(tamsin), { base: null }, { ifMatch: first });
    expectProblem(expectStatus(late, 412), 'version-changed');
    const second = await tagOf(tamsin);
    expect(second).toBe(set.headers['etag']);
    const skills = ['cooling'];
    const fewer = await dispatcher.patch(path(tamsin), { skills }, { ifMatch: second });
    expect(expectStatus(fewer, 200).body).toMatchObject({ base, skills, version: 3 });
    const unknown = await dispatcher.patch(path(tamsin), { skills: ['magic'] }, { ifMatch: '*' });
    expectProblem(unknown, 'validation-failed');
  });

  it('has another tag after whatever is written down of them or taken back, and on another day', async () => {
    const tags = [await tagOf(bram)];
    const then = { firstDay: '2030-01-07', lastDay: '2030-01-07' };
    const certificate = { kind: 'Lift', number: 'X-9', issuedOn: '2020-01-01' };
    const taken: [string, object, string][] = [
      ['/absences', { ...then, why: 'sick' }, 'withdraw'],
      ['/certificates', certificate, 'withdraw'],
      ['/helpers', { ...then, helperId: tamsin }, 'end'],
    ];
    for (const [kind, body, verb] of taken) {
      const { id } = expectStatus(await post(bram, kind, body), 201).body;
      tags.push(await tagOf(bram));
      expectStatus(await post(bram, `${kind}/${id}/${verb}`, {}), 200);
      tags.push(await tagOf(bram));
    }
    const week = { ...weekOf(480, 960), validFrom: '2035-01-01' };
    expectStatus(await post(bram, '/work-weeks', week), 201);
    tags.push(await tagOf(bram));
    tags.push(await atTime(service.clock, '2026-07-15T18:00:00Z', () => tagOf(bram)));
    expect(new Set(tags).size).toBe(9);
    expect(await tagOf(bram, `?day=${day}`)).toBe(await tagOf(bram));
    const asked = { 'if-none-match': await tagOf(bram) };
    expectStatus(await service.as('owner').get(path(bram), asked), 304);
  });

  it('a technician sees their own and nobody else’s', async () => {
    const technician = service.as('technician');
    expectStatus(await technician.get(path(tamsin)), 200);
    expectProblem(expectStatus(await technician.get(path(bram)), 404), 'not-found');
    expectProblem(await technician.get('/v1/technicians'), 'forbidden');
  });

  it('who has left, and who drives nowhere, is no technician', async () => {
    const dispatcher = service.as('dispatcher');
    expectStatus(await dispatcher.get(path(service.staff.owner.id)), 404);
    const disable = (at: string | null) =>
      service.owner.query('UPDATE staff SET disabled_at = $2 WHERE id = $1', [bram, at]);
    await disable('2026-07-01T00:00:00Z');
    try {
      expectStatus(await dispatcher.get(path(bram)), 404);
      const { body } = await dispatcher.get('/v1/technicians');
      expect(body.items.map(({ id }: { id: string }) => id)).toEqual([tamsin]);
      expectStatus(await post(bram, '/work-weeks', weekOf(480, 960)), 404);
    } finally {
      await disable(null);
    }
  });

  it('is listed by pages, with the hours of the day asked for', async () => {
    expectStatus(await post(tamsin, '/work-weeks', weekOf(480, 960)), 201);
    const dispatcher = service.as('dispatcher');
    const first = await dispatcher.get(`/v1/technicians?limit=1&day=${day}`);
    expect(first.body.items).toMatchObject([
      {
        id: tamsin,
        day: { day, hours: [{ start: `${day}T14:00:00.000Z`, end: `${day}T22:00:00.000Z` }] },
      },
    ]);
    const cursor = first.body.nextCursor;
    const next = await dispatcher.get(`/v1/technicians?limit=1&day=${day}&cursor=${cursor}`);
    expect(next.body).toMatchObject({
      items: [{ id: bram, day: { hours: [] } }],
      nextCursor: null,
    });
    expectProblem(await dispatcher.get(`/v1/technicians?cursor=${cursor}`), 'cursor-invalid');
  });

  it('shows the week that holds, those that come, and days away that are not over', async () => {
    const later = { ...weekOf(600, 900), validFrom: '2027-06-01' };
    expectStatus(await post(tamsin, '/work-weeks', later), 201);
    const away = { firstDay: '2027-04-01', lastDay: '2027-04-02', why: 'training' };
    expectStatus(await post(tamsin, '/absences', away), 201);
    const on = async (asked: string) =>
      (await service.as('technician').get(`${path(tamsin)}?day=${asked}`)).body;
    const april = await on('2027-04-02');
    expect(april.workWeeks.map(({ validFrom }: { validFrom: string }) => validFrom)).toEqual([
      ...['2026-01-01', '2027-06-01'],
    ]);
    expect(april).toMatchObject({
      absences: [away],
      day: { hours: [], absence: { why: 'training' } },
    });
    expect(await on('2027-04-03')).toMatchObject({ absences: [] });
    expect((await on('2027-07-01')).workWeeks).toMatchObject([{ validFrom: '2027-06-01' }]);
  });
});

describe('days away over what is booked', () => {
  it('name every visit that is not within the hours that are left, and leave it booked', async () => {
    const window = { windowStart: '2026-10-05T18:00:00Z', windowEnd: '2026-10-05T20:00:00Z' };
    const job = await bookJob(service, undefined, window);
    const add = async (body: object) => {
      const days = { firstDay: '2026-10-05', lastDay: '2026-10-05', ...body };
      return expectStatus(await post(tamsin, '/absences', days), 201).body.affectedVisits;
    };
    // The window is from one to three in the afternoon.
    expect(await add({ why: 'on_call', hours: [hours(18, 22)] })).toEqual([]);
    expect(await add({ why: 'other_hours', hours: [hours(12, 15)] })).toEqual([]);
    const affected = [{ visitId: job.visitId, ticketId: job.ticketId, state: 'booked' }];
    expect(await add({ why: 'other_hours', hours: [hours(8, 14)] })).toMatchObject(affected);
    expect(await add({ why: 'sick' })).toMatchObject(affected);
    expect(await add({ why: 'sick', firstDay: '2026-10-04', lastDay: '2026-10-04' })).toEqual([]);
    const visit = await service.as('dispatcher').get(`/v1/visits/${job.visitId}`);
    expect(visit.body.state).toBe('booked');
  });

  it('know that the hours of a night belong to the day before', async () => {
    const window = { windowStart: '2026-10-13T06:00:00Z', windowEnd: '2026-10-13T08:00:00Z' };
    // At night another fee holds.
    const job = await bookJob(service, undefined, { ...window, toldFeeCents: 12_900 });
    const night = { why: 'other_hours', hours: [{ startMinute: 22 * 60, endMinute: 30 * 60 }] };
    const add = async (on: string, body: object) => {
      const days = { firstDay: on, lastDay: on, ...body };
      return expectStatus(await post(tamsin, '/absences', days), 201).body.affectedVisits;
    };
    await add('2026-10-12', night);
    expect(await add('2026-10-13', { why: 'day_off' })).toEqual([]);
    await add('2026-10-12', { why: 'sick' });
    expect(await add('2026-10-13', { why: 'sick' })).toMatchObject([{ visitId: job.visitId }]);
  });
});

describe('another week over what is booked', () => {
  const monday = { windowStart: '2028-10-02T18:00:00Z', windowEnd: '2028-10-02T20:00:00Z' };
  const begin = async (validFrom: string, week: [number, number]) => {
    const added = await post(tamsin, '/work-weeks', { ...weekOf(...week), validFrom });
    return expectStatus(added, 201).body.affectedVisits.map(
      ({ visitId }: { visitId: string }) => visitId,
    );
  };

  it('names what is not within the hours from its first day on, and nothing before it', async () => {
    // From one to three in the afternoon, and at eight in the evening, when another fee holds.
    const early = await bookJob(service, undefined, monday);
    const evening = { windowStart: '2028-10-04T01:00:00Z', windowEnd: '2028-10-04T03:00:00Z' };
    const late = await bookJob(service, undefined, { ...evening, toldFeeCents: 12_900 });
    const nine = [9 * 60, 17 * 60] as [number, number];
    expect(await begin('2028-10-02', nine)).toEqual([late.visitId]);
    expect(await begin('2028-10-02', [9 * 60, 14 * 60])).toEqual([early.visitId, late.visitId]);
    expect(await begin('2028-10-03', nine)).toEqual([late.visitId]);
    const onCall = { firstDay: '2028-10-03', lastDay: '2028-10-03', why: 'on_call' };
    await post(tamsin, '/absences', { ...onCall, hours: [hours(18, 23)] });
    expect(await begin('2028-10-03', nine)).toEqual([]);
    // A week of which a later one takes the place changes nothing after that.
    expect(await begin('2028-09-25', [9 * 60, 10 * 60])).toEqual([early.visitId]);
    const visit = await service.as('dispatcher').get(`/v1/visits/${early.visitId}`);
    expect(visit.body.state).toBe('booked');
  });

  it('asks the database as often for many visits as for one', async () => {
    const query = vi.spyOn(pg.Client.prototype, 'query');
    const asked = async () => {
      query.mockClear();
      await visitsOutsideHours(service.db.prisma, tamsin, { firstDay: '2029-03-01' }, 'hours');
      return query.mock.calls.length;
    };
    const book = (day: string) =>
      bookJob(service, undefined, {
        windowStart: `${day}T18:00:00Z`,
        windowEnd: `${day}T20:00:00Z`,
      });
    await book('2029-03-06');
    const forOne = await asked();
    for (const day of ['2029-03-07', '2029-03-08', '2029-03-09']) await book(day);
    expect(await asked()).toBe(forOne);
    query.mockRestore();
  });
});

function hours(start: number, end: number) {
  return { startMinute: start * 60, endMinute: end * 60 };
}

describe('certificates', () => {
  it('that have run out or do so within 30 days are listed until they are renewed', async () => {
    const add = async (kind: string, expiresOn?: string) => {
      const body = { kind, number: 'X-1', issuedOn: '2020-01-01', ...(expiresOn && { expiresOn }) };
      return expectStatus(await post(bram, '/certificates', body), 201).body.id;
    };
    const listed = async () => {
      const { body } = await service.as('owner').get('/v1/expiring-certificates');
      return body.items.map((each: { kind: string; expired: boolean }) => [
        each.kind,
        each.expired,
      ]);
    };
    // Today is 2026-07-14: the first day it no longer holds.
    await add('State license', '2026-07-14');
    const gas = await add('Gas card', '2026-07-15');
    await add('First aid', '2026-08-13');
    await add('Lift', '2026-08-14');
    await add('Mildly flammable refrigerants');
    expect(await listed()).toEqual([
      ...[
        ['State license', true],
        ['Gas card', false],
        ['First aid', false],
      ],
    ]);
    await add('State license', '2028-07-14');
    expectStatus(await post(bram, `/certificates/${gas}/withdraw`, {}), 200);
    expect(await listed()).toEqual([['First aid', false]]);
    expectProblem(await post(bram, `/certificates/${gas}/withdraw`, {}), 'not-allowed-now');
    expectProblem(await post(tamsin, `/certificates/${gas}/withdraw`, {}), 'not-found');
  });

  it('do not end before they were issued', async () => {
    const body = { kind: 'Lift', number: '1', issuedOn: '2026-02-01', expiresOn: '2026-02-01' };
    expectProblem(await post(bram, '/certificates', body), 'validation-failed');
  });
});

describe('helpers', () => {
  const days = { firstDay: '2026-11-02', lastDay: '2026-11-06' };
  it('go along with one technician a day, lead nobody then, and name what is booked with them', async () => {
    const added = await post(tamsin, '/helpers', { helperId: bram, ...days });
    expect(expectStatus(added, 201).body).toMatchObject({
      ...days,
      helper: { id: bram },
      technician: { id: tamsin },
      affectedVisits: [],
    });
    const again = { firstDay: '2026-11-06', lastDay: '2026-11-09' };
    expectProblem(await post(tamsin, '/helpers', { helperId: bram, ...again }), 'already-exists');
    expectProblem(await post(bram, '/helpers', { helperId: tamsin, ...again }), 'already-exists');
    const itself = await post(tamsin, '/helpers', { helperId: tamsin, ...days });
    expectProblem(itself, 'unknown-reference');
    const office = { helperId: service.staff.dispatcher.id, ...days };
    expectProblem(await post(tamsin, '/helpers', office), 'unknown-reference');
    const end = `/helpers/${added.body.id}/end`;
    expectProblem(await post(bram, end, {}), 'not-found');
    expectStatus(await post(tamsin, end, {}), 200);
    expectProblem(await post(tamsin, end, {}), 'not-allowed-now');
    const later = await post(bram, '/helpers', { helperId: tamsin, ...again });
    expectStatus(later, 201);
    expectStatus(await post(bram, `/helpers/${later.body.id}/end`, {}), 200);
  });

  it('two dispatchers who give one helper away at once give them to one', async () => {
    for (let round = 0; round < 10; round += 1) {
      const on = `2027-01-${10 + round}`;
      const body = (helperId: string) => ({ helperId, firstDay: on, lastDay: on });
      const answers = await Promise.all([
        post(tamsin, '/helpers', body(bram)),
        post(bram, '/helpers', body(tamsin)),
        post(tamsin, '/helpers', body(bram)),
      ]);
      expect(answers.map(({ status }) => status).sort()).toEqual([201, 409, 409]);
    }
  });
});

describe('the crews of a day', () => {
  it('have their own base or the company’s, skills with refrigerant, hours and helpers', async () => {
    const fresh = await createTestService({ withPriceBook: false });
    try {
      const [lead, along] = [fresh.staff.technician.id, fresh.staff.second_technician.id];
      const { prisma } = fresh.db;
      const timeZone = 'America/Chicago';
      expect(await crewsOf(prisma, day, { timeZone, base: null })).toEqual({
        crews: [],
        withoutBase: [lead, along],
      });
      const send = (id: string, rest: string, body: object) =>
        fresh.as('dispatcher').post(path(id, rest), body);
      const own = { latitudeDeg: 41.5, longitudeDeg: -96.5 };
      const companys = { latitudeDeg: 41, longitudeDeg: -96 };
      const profile = { base: own, skills: ['ductless', 'cooling'] };
      await fresh.as('owner').patch(path(lead), profile, { ifMatch: '*' });
      await fresh.as('owner').patch('/v1/dispatch-policy', { base: companys }, { ifMatch: '*' });
      for (const id of [lead, along]) await send(id, '/work-weeks', weekOf(480, 960));
      const minute = Date.parse(`${day}T14:00:00Z`) / 60_000;
      const worked = [{ from: minute, to: minute + 480 }];
      const two = [
        {
          technicianId: lead,
          base: own,
          hours: worked,
          helpers: 0,
          skills: ['cooling', 'ductless', 'refrigerant'],
        },
        { technicianId: along, base: companys, hours: worked, helpers: 0, skills: ['refrigerant'] },
      ];
      const placed = { timeZone, base: companys };
      expect(await crewsOf(prisma, day, placed)).toEqual({ crews: two, withoutBase: [] });
      const days = { firstDay: day, lastDay: day };
      expectStatus(await send(lead, '/helpers', { helperId: along, ...days }), 201);
      const { crews } = await crewsOf(prisma, day, placed);
      expect(crews).toMatchObject([
        { hours: worked, helpers: 1 },
        { hours: [], helpers: 0 },
      ]);
      expectStatus(await send(along, '/absences', { ...days, why: 'sick' }), 201);
      expect((await crewsOf(prisma, day, placed)).crews).toMatchObject([
        { helpers: 0 },
        { hours: [] },
      ]);
    } finally {
      await fresh.close();
    }
  });
});
