import pg from 'pg';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { StaffKey } from '../../seed/company.ts';
import { readEvents } from '../../src/board/read-events.ts';
import { sealJournal } from '../../src/journal/index.ts';
import { addSite, bookJob, type Site, waitsForPart } from '../harness/job.ts';
import { milesOff, openDays } from '../harness/open-days.ts';
import {
  sendAnswer,
  sendToChecks,
  solveCall,
  startChecks,
  takeCall,
} from '../harness/phone-checks.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

/** Tuesday, one in the afternoon on the company's clock. */
const today = '2026-07-14';

let service: TestService;
beforeEach(async () => {
  service = await createTestService();
});
afterEach(async () => {
  vi.restoreAllMocks();
  await service.close();
});

async function board(who: StaffKey = 'dispatcher', day: string = today) {
  return expectStatus(await service.as(who).get(`/v1/board?day=${day}`), 200);
}

// biome-ignore lint/suspicious/noExplicitAny: JSON as a client gets it; tests look at its fields.
async function column(who: StaffKey = 'technician', day: string = today): Promise<any> {
  const { body } = await board('dispatcher', day);
  const id = service.staff[who].id;
  // biome-ignore lint/suspicious/noExplicitAny: the same.
  return body.columns.find(({ technicianId }: any) => technicianId === id);
}

interface Wanted {
  site?: Site;
  who?: StaffKey;
  windowStart?: string;
  windowEnd?: string;
  planned?: { start: string; minutes: number };
  toldFeeCents?: number;
}

/** Books a ticket of its own into a window of today. */
async function book({ site, who = 'technician', toldFeeCents = 8_900, ...wanted }: Wanted = {}) {
  const call = await takeCall(service, site ? { site } : {});
  const booked = await service.as('dispatcher').post('/v1/visits', {
    ticketId: call.ticketId,
    technicianId: service.staff[who].id,
    ...{ windowStart: `${today}T18:00:00Z`, windowEnd: `${today}T20:00:00Z` },
    ...wanted,
    feeDisclosure: { toldFeeCents, agreedBy: 'Winifred Ashgrove' },
  });
  expectStatus(booked, 201);
  return { ...call, visitId: booked.body.id as string, tag: booked.headers['etag'] ?? '' };
}

async function step(visitId: string, verb: string, ifMatch: string, body: object = {}) {
  const sent = await service
    .as('technician')
    .post(`/v1/visits/${visitId}/${verb}`, body, { ifMatch });
  return expectStatus(sent, 200).headers['etag'] ?? '';
}

/** A site that somebody put on the map, so many miles north and east of where trucks set out. */
async function siteAt(north: number, east: number): Promise<Site> {
  const site = await addSite(service);
  const path = `/v1/sites/${site.siteId}`;
  const ifMatch = (await service.as('dispatcher').get(path)).headers['etag'] ?? '';
  const place = milesOff(north, east);
  expectStatus(await service.as('dispatcher').patch(path, { place }, { ifMatch }), 200);
  return site;
}

describe('the board of a day', () => {
  it('shows every technician with hours and visits, and on each card what is needed to go there', async () => {
    await openDays(service);
    const site = await addSite(service);
    const path = `/v1/sites/${site.siteId}`;
    const ifMatch = (await service.as('dispatcher').get(path)).headers['etag'] ?? '';
    const change = { unit: '4B', accessNotes: 'The code of the gate is 4711.' };
    expectStatus(await service.as('dispatcher').patch(path, change, { ifMatch }), 200);
    const later = await book({ planned: { start: `${today}T19:00:00Z`, minutes: 60 } });
    const sooner = await book({ site, planned: { start: `${today}T18:00:00Z`, minutes: 45 } });
    const { visits, ...about } = await column();
    expect(about).toEqual({
      technicianId: service.staff.technician.id,
      name: 'Tamsin Roake',
      hours: [{ start: `${today}T13:00:00.000Z`, end: `${today}T23:00:00.000Z` }],
      onCall: [],
      absence: null,
    });
    expect(visits.map(({ visitId }: { visitId: string }) => visitId)).toEqual([
      sooner.visitId,
      later.visitId,
    ]);
    const ticket = await service.as('dispatcher').get(`/v1/tickets/${sooner.ticketId}`);
    expect(visits[0]).toMatchObject({
      version: 1,
      ticketId: sooner.ticketId,
      ticketNumber: ticket.body.number,
      siteId: site.siteId,
      purpose: 'call',
      state: 'booked',
      complaint: 'It blows warm air.',
      symptoms: ['no_cooling'],
      household: {
        name: 'Winifred Ashgrove',
        phone: '555-0111',
        street: '3 Thistle Court',
        unit: '4B',
        city: 'Wrenfield',
        hasAccessNotes: true,
      },
      window: { start: `${today}T18:00:00.000Z`, end: `${today}T20:00:00.000Z` },
      planned: { start: `${today}T18:00:00.000Z`, end: `${today}T18:45:00.000Z` },
      arrivedAt: null,
      feeCents: 8_900,
      feeAfterDiscountCents: 8_900,
    });
    // A board hangs on a wall: what opens a gate is not for it.
    expect(JSON.stringify((await board()).body)).not.toContain('4711');
    expect((await column('second_technician')).visits).toEqual([]);
  });

  it('is today’s on the company’s calendar where no day is named', async () => {
    // It is the 15th in Greenwich already.
    service.clock.set('2026-07-15T03:00:00Z');
    expect((await service.as('dispatcher').get('/v1/board')).body.day).toBe(today);
  });

  it('shows a technician the own column and nothing of the office', async () => {
    await book();
    const foreign = await book({ who: 'second_technician' });
    await takeCall(service);
    const { body } = await board('technician');
    expect(body.columns.map(({ technicianId }: { technicianId: string }) => technicianId)).toEqual([
      service.staff.technician.id,
    ]);
    expect(body.columns[0].visits).toHaveLength(1);
    expect(body.office).toBeNull();
    expect(JSON.stringify(body)).not.toContain(foreign.visitId);
  });

  it('leaves out what was cancelled, keeps what nobody let us in for', async () => {
    const cancelled = await book();
    const ifMatch = cancelled.tag;
    const why = { reason: 'They called it off.' };
    const path = `/v1/visits/${cancelled.visitId}/cancel`;
    expectStatus(await service.as('dispatcher').post(path, why, { ifMatch }), 200);
    const { visitId, tag } = await book();
    const onSite = await step(visitId, 'arrive', await step(visitId, 'start-travel', tag));
    await step(visitId, 'report-no-access', onSite, { reason: 'Nobody at home.' });
    const { visits } = await column();
    expect(visits.map(({ state }: { state: string }) => state)).toEqual(['no_access']);
  });

  it('keeps the column of somebody who has left as long as a visit stands in it', async () => {
    await book({ who: 'second_technician' });
    const { id } = service.staff.second_technician;
    await service.owner.query('UPDATE staff SET disabled_at = now() WHERE id = $1', [id]);
    expect((await column('second_technician')).visits).toHaveLength(1);
    expect(await column('second_technician', '2026-07-16')).toBeUndefined();
  });

  it('says who is away, and why', async () => {
    await openDays(service);
    const path = `/v1/technicians/${service.staff.technician.id}/absences`;
    const away = { firstDay: today, lastDay: today, why: 'training', hours: [] };
    expectStatus(await service.as('owner').post(path, away), 201);
    expect(await column()).toMatchObject({ hours: [], absence: 'training' });
    expect(await column('technician', '2026-07-15')).toMatchObject({ absence: null });
  });

  it.each([
    ['spring forward', '2026-03-08', '2026-03-08T06:00:00Z', '2026-03-09T04:59:00Z'],
    ['fall back', '2026-11-01', '2026-11-01T05:00:00Z', '2026-11-02T05:59:00Z'],
  ])('is the local day, from midnight to midnight, when clocks %s', async (_, day, first, last) => {
    service.clock.set('2026-02-01T18:00:00Z');
    const windowAt = (start: string) => ({
      windowStart: start,
      windowEnd: new Date(Date.parse(start) + 15 * 60_000).toISOString(),
    });
    const before = new Date(Date.parse(first) - 15 * 60_000).toISOString();
    const after = new Date(Date.parse(last) + 60_000).toISOString();
    const startsOf = async (who: StaffKey) =>
      (await column(who, day)).visits.map(
        (visit: { window: { start: string } }) => visit.window.start,
      );
    for (const [start, who] of [
      [before, 'technician'],
      [first, 'technician'],
      [last, 'technician'],
      [after, 'second_technician'],
    ] as const) {
      const asked = await service.as('dispatcher').get(`/v1/visit-fee?windowStart=${start}`);
      await book({ ...windowAt(start), who, toldFeeCents: asked.body.feeCents });
    }
    expect(await startsOf('technician')).toEqual(
      [first, last].map((start) => new Date(start).toISOString()),
    );
    expect(await startsOf('second_technician')).toEqual([]);
  });

  it('has the work after midnight where the night shift began', async () => {
    await openDays(service, { startMinute: 20 * 60, endMinute: 30 * 60 });
    // Half past one at night; the shift of the 14th goes on until six.
    const night = { windowStart: '2026-07-15T06:30:00Z', windowEnd: '2026-07-15T07:30:00Z' };
    const asked = await service
      .as('dispatcher')
      .get(`/v1/visit-fee?windowStart=${night.windowStart}`);
    const { visitId } = await book({ ...night, toldFeeCents: asked.body.feeCents });
    const at = async (day: string) =>
      (await column('technician', day)).visits.map((visit: { visitId: string }) => visit.visitId);
    expect(await at('2026-07-14')).toEqual([visitId]);
    expect(await at('2026-07-15')).toEqual([]);
  });
});

describe('what is expected', () => {
  it('is the drive from the base, and nobody is late', async () => {
    await openDays(service);
    // Ten miles as the crow flies are 13 of road: 28 minutes at 28 mph, and 5 to park.
    await book({
      site: await siteAt(10, 0),
      planned: { start: `${today}T19:00:00Z`, minutes: 60 },
    });
    const [{ expected }] = (await column()).visits;
    expect(expected).toEqual({ arrival: `${today}T18:33:00.000Z`, minutesLate: 0 });
  });

  it('is late by what the work in hand runs over, from the end of the window on', async () => {
    await openDays(service);
    const here = await siteAt(0, 0);
    const first = await book({ site: here, planned: { start: `${today}T18:00:00Z`, minutes: 60 } });
    const next = await book({
      site: await siteAt(10, 0),
      ...{ windowStart: `${today}T19:00:00Z`, windowEnd: `${today}T20:00:00Z` },
      planned: { start: `${today}T19:40:00Z`, minutes: 60 },
    });
    await step(first.visitId, 'arrive', await step(first.visitId, 'start-travel', first.tag));
    const expectedOf = async (visitId: string) =>
      (await column()).visits.find((visit: { visitId: string }) => visit.visitId === visitId)
        .expected;
    expect(await expectedOf(first.visitId)).toBeNull();
    expect(await expectedOf(next.visitId)).toMatchObject({ minutesLate: 0 });
    // It is a quarter to three, the first job is not done, and the next is 33 minutes away.
    service.clock.set(`${today}T19:45:00Z`);
    expect(await expectedOf(next.visitId)).toEqual({
      arrival: `${today}T20:18:00.000Z`,
      minutesLate: 18,
    });
  });

  it('is nothing where nobody knows from where a truck sets out, or the day is over', async () => {
    await book();
    expect((await column()).visits[0].expected).toBeNull();
    await openDays(service);
    expect((await column()).visits[0].expected).not.toBeNull();
    service.clock.set('2026-07-16T18:00:00Z');
    expect((await column()).visits[0].expected).toBeNull();
  });
});

describe('what waits beside the columns', () => {
  it('is every ticket that nobody is booked for, most urgent first, with why', async () => {
    const noisy = await takeCall(service, { symptoms: ['noise'] });
    service.clock.advance(60_000);
    const warm = await takeCall(service);
    await book();
    const { office } = (await board()).body;
    expect(office.waitingCount).toBe(2);
    expect(office.waiting.map(({ ticketId }: { ticketId: string }) => ticketId)).toEqual([
      warm.ticketId,
      noisy.ticketId,
    ]);
    expect(office.waiting[0]).toMatchObject({
      state: 'new',
      sentence: expect.stringMatching(/^[A-Z].*\.$/),
      complaint: 'It blows warm air.',
      household: { name: 'Winifred Ashgrove', phone: '555-0111', street: '3 Thistle Court' },
      part: null,
    });
  });

  it('names the part that a ticket waits for, whether it is late and whether it is here', async () => {
    const job = await book();
    const onSite = await step(
      job.visitId,
      'arrive',
      await step(job.visitId, 'start-travel', job.tag),
    );
    const end = {
      ...waitsForPart,
      waitingFor: {
        ...waitsForPart.waitingFor,
        partCode: 'CAP-45-5-440',
        promisedOn: '2026-07-16',
      },
    };
    await step(job.visitId, 'finish', onSite, end);
    const part = async () => (await board()).body.office.waiting[0].part;
    expect(await part()).toEqual({
      what: 'The blower motor',
      promisedOn: '2026-07-16',
      isOverdue: false,
      isHere: false,
    });
    const shelves = expectStatus(
      await service.as('dispatcher').post('/v1/stock-places', { name: 'Shelves', kind: 'shelves' }),
      201,
    );
    const count = { partCode: 'CAP-45-5-440', counted: '2', reason: 'It came.' };
    const path = `/v1/stock-places/${shelves.body.id}/count`;
    expectStatus(await service.as('dispatcher').post(path, count), 201);
    service.clock.set('2026-07-17T18:00:00Z');
    expect(await part()).toMatchObject({ isOverdue: true, isHere: true });
  });

  it('counts calls back and those that are overdue', async () => {
    await solveCall(service);
    expect((await board()).body.office.callBacks).toEqual({ open: 1, overdue: 0 });
    service.clock.advance(25 * 3_600_000);
    expect((await board()).body.office.callBacks).toEqual({ open: 1, overdue: 1 });
  });

  it('counts the months of maintenance that are listed as due', async () => {
    const { siteId } = await addSite(service);
    const agreement = expectStatus(
      await service.as('dispatcher').post(`/v1/sites/${siteId}/agreements`, {
        ...{ planCode: 'two_visits', startsOn: '2026-01-01', endsOn: '2027-01-01' },
        agreedByName: 'Winifred Ashgrove',
      }),
      201,
    );
    expect((await board()).body.office.maintenanceDue).toBe(0);
    const path = `/v1/agreements/${agreement.body.id}/maintenance`;
    // Of March and June, which are over, the latest is listed; July is due.
    const months = { months: [3, 6, 7, 10], minutes: 60 };
    const ifMatch = (await service.as('owner').get(path)).headers['etag'] ?? '';
    expectStatus(await service.as('dispatcher').post(path, months, { ifMatch }), 200);
    expect((await board()).body.office.maintenanceDue).toBe(2);
  });
});

describe('the tag of a board', () => {
  it('is the same until something that is shown is another, and then saves nobody a look', async () => {
    const { visitId, tag } = await book();
    const etag = (await board()).headers['etag'] ?? '';
    const again = await service
      .as('dispatcher')
      .get(`/v1/board?day=${today}`, { 'if-none-match': etag });
    expect(again.status).toBe(304);
    await step(visitId, 'start-travel', tag);
    const changed = await service
      .as('dispatcher')
      .get(`/v1/board?day=${today}`, { 'if-none-match': etag });
    expect(changed.status).toBe(200);
    expect(changed.headers['etag']).not.toBe(etag);
  });

  it('is refused a day that is none', async () => {
    for (const day of ['2026-02-30', 'tomorrow', '', '9999-12-31']) {
      expectProblem(
        await service.as('dispatcher').get(`/v1/board?day=${day}`),
        'validation-failed',
      );
    }
  });
});

describe('nothing on the board changes unsaid', () => {
  it('each act that changes what is shown is told to whoever follows', async () => {
    await openDays(service);
    const dispatcher = service.as('dispatcher');
    const owner = service.as('owner');
    const tagOf = async (path: string) => (await owner.get(path)).headers['etag'] ?? '';
    const [site, far] = [await addSite(service), await siteAt(12, 0)];
    const sitePath = `/v1/sites/${site.siteId}`;
    const customerPath = `/v1/customers/${site.customerId}`;
    const technicianPath = `/v1/technicians/${service.staff.technician.id}`;
    const booked = await book({ site, planned: { start: `${today}T18:30:00Z`, minutes: 30 } });
    const visitPath = `/v1/visits/${booked.visitId}`;
    const [call, asked] = [await takeCall(service, { site }), await takeCall(service, { site })];
    const acts: [string, () => Promise<unknown>][] = [
      ['a call', () => takeCall(service, { site })],
      [
        'a booking',
        () =>
          book({
            ...{ who: 'second_technician', site: far },
            ...{ windowStart: `${today}T20:00:00Z`, windowEnd: `${today}T22:00:00Z` },
          }),
      ],
      [
        'work planned anew',
        async () =>
          dispatcher.patch(
            `${visitPath}/plan`,
            { planned: { start: `${today}T19:00:00Z`, minutes: 30 } },
            { ifMatch: await tagOf(visitPath) },
          ),
      ],
      [
        'another technician',
        async () =>
          dispatcher.post(
            `${visitPath}/rebook`,
            {
              technicianId: service.staff.second_technician.id,
              planned: { start: `${today}T18:00:00Z`, minutes: 5 },
              askedBy: 'company',
              reason: 'Nearer.',
            },
            { ifMatch: await tagOf(visitPath) },
          ),
      ],
      [
        'another phone',
        async () =>
          dispatcher.patch(
            customerPath,
            { phone: '555-0199' },
            { ifMatch: await tagOf(customerPath) },
          ),
      ],
      [
        'notes at the gate',
        async () =>
          dispatcher.patch(
            sitePath,
            { accessNotes: 'Ring twice.' },
            { ifMatch: await tagOf(sitePath) },
          ),
      ],
      [
        'a rank by hand',
        () =>
          dispatcher.post(`/v1/tickets/${call.ticketId}/priority`, {
            rank: 1,
            reason: 'A nurse called.',
          }),
      ],
      [
        'the heat of a day',
        () =>
          dispatcher.post(`/v1/days/${today}/weather`, {
            highDegF: 108,
            relativeHumidityPercent: 40,
          }),
      ],
      [
        'phone checks',
        async () => {
          await startChecks(service, asked.ticketId);
          await sendAnswer(service, asked.ticketId, ['gas_smell', 'yes']);
        },
      ],
      ['their danger over', () => overAt(asked.ticketId)],
      ['a call solved by phone', () => solveCall(service)],
      [
        'faster trucks',
        async () =>
          owner.patch(
            '/v1/dispatch-policy',
            { mph: 60, parkMinutes: 1 },
            { ifMatch: await tagOf('/v1/dispatch-policy') },
          ),
      ],
      [
        'hours of a week',
        () =>
          owner.post(`${technicianPath}/work-weeks`, {
            validFrom: today,
            hours: [{ weekday: 2, startMinute: 600, endMinute: 900 }],
          }),
      ],
      [
        'a day off',
        () =>
          owner.post(`/v1/technicians/${service.staff.second_technician.id}/absences`, {
            ...{ firstDay: today, lastDay: today, why: 'sick', hours: [] },
          }),
      ],
      [
        'an agreement',
        () =>
          dispatcher.post(`${sitePath}/agreements`, {
            ...{ planCode: 'two_visits', startsOn: '2026-01-01', endsOn: '2027-01-01' },
            agreedByName: 'Winifred Ashgrove',
          }),
      ],
    ];
    await seal();
    const seen: string[] = [];
    const unsaid: string[] = [];
    for (const [name, act] of acts) {
      const [before, from] = [await boards(), await tip()];
      await act();
      await seal();
      const after = await boards();
      for (const who of lookers) {
        if (before[who] === after[who]) continue;
        seen.push(`${name}: ${who}`);
        if (!(await isToldSince(from, who))) unsaid.push(`${name}: ${who}`);
      }
    }
    expect(unsaid).toEqual([]);
    // Were an act not seen on the board, this would say nothing of it.
    for (const [name] of acts) expect(seen).toContain(`${name}: dispatcher`);
    // Each technician sees some in the own column, and most are in nobody’s.
    for (const who of ['technician', 'second_technician']) {
      const own = seen.filter((each) => each.endsWith(`: ${who}`));
      expect(own.length, own.join()).toBeGreaterThan(2);
      expect(own.length, own.join()).toBeLessThan(acts.length);
    }
  });

  const lookers = ['dispatcher', 'technician', 'second_technician'] as const;
  type Looker = (typeof lookers)[number];

  async function boards(): Promise<Record<Looker, string | undefined>> {
    const tagOf = async (who: Looker) => (await board(who)).headers['etag'];
    return {
      dispatcher: await tagOf('dispatcher'),
      technician: await tagOf('technician'),
      second_technician: await tagOf('second_technician'),
    };
  }

  const overAt = async (ticketId: string) =>
    expectStatus(
      await sendToChecks(service, ticketId, 'danger-over', { note: 'The valve is closed.' }),
      200,
    );
  const seal = async () => {
    while ((await sealJournal(service.db.pool)) > 0);
  };
  const tip = async () =>
    Number((await service.owner.query('SELECT max(position) AS p FROM journal_seal')).rows[0].p);

  async function isToldSince(from: number, who: Looker): Promise<boolean> {
    const { events } = await readEvents(service.db, from, 1_000);
    return events.some(
      ({ technicianIds }) =>
        who === 'dispatcher' ||
        technicianIds === 'everybody' ||
        technicianIds.includes(service.staff[who].id),
    );
  }
});

describe('a board is read by so many statements', () => {
  it('whatever the day holds', async () => {
    await openDays(service);
    const query = vi.spyOn(pg.Client.prototype, 'query');
    const count = async (who: StaffKey) => {
      query.mockClear();
      await board(who);
      return query.mock.calls.length;
    };
    await count('dispatcher');
    await bookJob(service, undefined, {
      windowStart: `${today}T18:00:00Z`,
      windowEnd: `${today}T18:15:00Z`,
    });
    await takeCall(service);
    const [few, own] = [await count('dispatcher'), await count('technician')];
    for (let at = 1; at < 9; at += 1) {
      const minute = String(at * 5).padStart(2, '0');
      const window = {
        windowStart: `${today}T18:${minute}:00Z`,
        windowEnd: `${today}T19:${minute}:00Z`,
      };
      await book({
        ...window,
        planned: { start: `${today}T18:${at < 3 ? '15' : minute}:00Z`, minutes: 5 },
      }).catch(() => undefined);
      await takeCall(service);
    }
    expect((await column()).visits.length).toBeGreaterThan(5);
    expect([await count('dispatcher'), await count('technician')]).toEqual([few, own]);
  });
});
