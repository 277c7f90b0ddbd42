import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { StaffKey } from '../../seed/company.ts';
import { readEvents } from '../../src/board/read-events.ts';
import { sealJournal } from '../../src/journal/index.ts';
import { addSite, bookJob, type Job, type Site } from '../harness/job.ts';
import { openDays, townBase } from '../harness/open-days.ts';
import { takeCall } from '../harness/phone-checks.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';

/** Tuesday, one in the afternoon on the company's clock. */
const today = '2026-07-14';
const technicians = ['technician', 'second_technician'] as const;

let service: TestService;
let site: Site;
let job: Job;
/** Of a site of its own, so that what it changes is no visit's. */
let agreementId: string;
beforeAll(async () => {
  service = await createTestService();
  await openDays(service);
  site = await addSite(service);
  const window = { windowStart: `${today}T19:00:00Z`, windowEnd: `${today}T21:00:00Z` };
  job = await bookJob(service, site, window);
  const { siteId } = await addSite(service);
  agreementId = expectStatus(
    await post(`/v1/sites/${siteId}/agreements`, {
      ...{ planCode: 'two_visits', startsOn: '2026-01-01', endsOn: '2027-01-01' },
      agreedByName: 'Winifred Ashgrove',
    }),
    201,
  ).body.id;
});
afterAll(() => service.close());

const post = (path: string, body: object, ifMatch?: string) =>
  service.as('owner').post(path, body, ifMatch === undefined ? {} : { ifMatch });
const tagOf = async (path: string) => (await service.as('owner').get(path)).headers['etag'] ?? '';
const changeAt = async (path: string, body: object) =>
  expectStatus(await service.as('owner').patch(path, body, { ifMatch: '*' }), 200);
const pathOf = (who: StaffKey) => `/v1/technicians/${service.staff[who].id}`;

async function boardsOf(people: readonly StaffKey[]): Promise<string[]> {
  const tags: string[] = [];
  for (const who of people) {
    const { headers } = await service.as(who).get(`/v1/board?day=${today}`);
    tags.push(headers['etag'] ?? '');
  }
  return tags;
}

async function tip(): Promise<number> {
  while ((await sealJournal(service.db.pool)) > 0);
  const found = await service.owner.query('SELECT max(position)::int AS p FROM journal_seal');
  return found.rows[0].p;
}

/** By each event of an act, which of the two technicians are told of it. */
async function told(act: () => Promise<unknown>): Promise<[string, string[]][]> {
  const from = await tip();
  await act();
  await tip();
  const { events } = await readEvents(service.db, from, 1_000);
  return events.map(({ event, technicianIds }) => [
    event,
    technicians.filter(
      (who) => technicianIds === 'everybody' || technicianIds.includes(service.staff[who].id),
    ),
  ]);
}

describe('what waits beside the columns', () => {
  const acts: [string, () => Promise<unknown>][] = [
    [
      'agreement.added',
      async () =>
        expectStatus(
          await post(`/v1/sites/${site.siteId}/agreements`, {
            ...{ planCode: 'two_visits', startsOn: '2026-01-01', endsOn: '2027-01-01' },
            agreedByName: 'Winifred Ashgrove',
          }),
          201,
        ),
    ],
    [
      'agreement.ended',
      async () => {
        const { body } = await service.as('owner').get(`/v1/sites/${site.siteId}/agreements`);
        const path = `/v1/agreements/${body.items[0].id}`;
        const end = { endsOn: '2026-08-01' };
        expectStatus(await post(`${path}/end`, end, await tagOf(path)), 200);
      },
    ],
    [
      'maintenance.scheduled',
      async () => {
        const path = `/v1/agreements/${agreementId}/maintenance`;
        const body = { months: [3, 6, 10], minutes: 60 };
        expectStatus(await post(path, body, await tagOf(path)), 200);
      },
    ],
    [
      'weather.noted',
      async () => {
        const body = { highDegF: 108, relativeHumidityPercent: 40 };
        expectStatus(await post(`/v1/days/${today}/weather`, body), 200);
      },
    ],
    [
      'stock.moved',
      async () => {
        const place = { name: 'Shelves', kind: 'shelves' };
        const shelves = expectStatus(await post('/v1/stock-places', place), 201);
        const count = { partCode: 'CAP-45-5-440', counted: '2', reason: 'It came.' };
        expectStatus(await post(`/v1/stock-places/${shelves.body.id}/count`, count), 201);
      },
    ],
    [
      'maintenance.opened',
      async () => {
        const due = { agreementId, dueMonth: '2026-06' };
        expectStatus(await post('/v1/maintenance-due', due), 201);
      },
    ],
  ];

  it.each(acts)('%s is told to the office alone, and is in nobody’s column', async (event, act) => {
    const before = await boardsOf(technicians);
    const events = await told(act);
    expect(events).toContainEqual([event, []]);
    expect(events.flatMap(([, names]) => names)).toEqual([]);
    expect(await boardsOf(technicians)).toEqual(before);
  });
});

describe('what is known of a home', () => {
  it('is told to whoever is sent there, and to no other technician', async () => {
    const rank = { rank: 1, reason: 'A nurse called.' };
    const acts = await told(async () => {
      expectStatus(await post(`/v1/tickets/${job.ticketId}/priority`, rank), 200);
      await changeAt(`/v1/sites/${site.siteId}`, { accessNotes: 'Ring twice.' });
      await changeAt(`/v1/customers/${site.customerId}`, { phone: '555-0142' });
      await takeCall(service, { site });
    });
    expect(acts).toEqual([
      ['priority.given', ['technician']],
      ['site.changed', ['technician']],
      ['customer.changed', ['technician']],
      ['ticket.opened', ['technician']],
    ]);
  });
});

describe('the hours of somebody', () => {
  it('are told to them alone', async () => {
    const hours = [{ weekday: 2, startMinute: 600, endMinute: 900 }];
    const away = { firstDay: '2026-07-16', lastDay: '2026-07-16', why: 'training', hours: [] };
    const absences = `${pathOf('second_technician')}/absences`;
    const acts = await told(async () => {
      const week = { validFrom: '2026-07-20', hours };
      expectStatus(await post(`${pathOf('technician')}/work-weeks`, week), 201);
      const absence = expectStatus(await post(absences, away), 201);
      expectStatus(await post(`${absences}/${absence.body.id}/withdraw`, {}), 200);
    });
    expect(acts).toEqual([
      ['work_week.added', ['technician']],
      ['absence.added', ['second_technician']],
      ['absence.withdrawn', ['second_technician']],
    ]);
  });

  it('are told to both where one goes along with the other', async () => {
    const path = `${pathOf('technician')}/helpers`;
    const helperId = service.staff.second_technician.id;
    const days = { firstDay: '2026-07-16', lastDay: '2026-07-17' };
    const acts = await told(async () => {
      const helper = expectStatus(await post(path, { helperId, ...days }), 201);
      expectStatus(await post(`${path}/${helper.body.id}/end`, {}), 200);
    });
    expect(acts).toEqual([
      ['helper.added', [...technicians]],
      ['helper.ended', [...technicians]],
    ]);
  });
});

describe('what every column is reckoned from', () => {
  it('is told to everybody', async () => {
    const before = await boardsOf(technicians);
    const policy = { mph: 60, parkMinutes: 1 };
    const acts = await told(() => changeAt('/v1/dispatch-policy', policy));
    expect(acts).toEqual([['dispatch_policy.changed', [...technicians]]]);
    expect((await boardsOf(technicians))[0]).not.toEqual(before[0]);
  });

  it('is the base of one where the company has none: homes that nobody placed are taken to be there', async () => {
    await changeAt('/v1/dispatch-policy', { base: null });
    const [first, second] = [...technicians].sort((one, other) =>
      service.staff[one].id < service.staff[other].id ? -1 : 1,
    );
    if (first === undefined || second === undefined) throw new Error('there are two');
    const far = { latitudeDeg: townBase.latitudeDeg + 0.5, longitudeDeg: townBase.longitudeDeg };
    await changeAt(pathOf(second), { base: far });
    const window = { windowStart: `${today}T21:00:00Z`, windowEnd: `${today}T23:00:00Z` };
    const call = await takeCall(service);
    expectStatus(
      await service.as('dispatcher').post('/v1/visits', {
        ...{ ticketId: call.ticketId, technicianId: service.staff[second].id, ...window },
        feeDisclosure: { toldFeeCents: 8_900, agreedBy: 'Winifred Ashgrove' },
      }),
      201,
    );
    const before = await boardsOf([second]);
    const acts = await told(() => changeAt(pathOf(first), { base: townBase }));
    expect(await boardsOf([second])).not.toEqual(before);
    expect(acts).toEqual([['technician.changed', [...technicians]]]);
  });
});
