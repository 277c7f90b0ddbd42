import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { StaffKey } from '../../seed/company.ts';
import { addSite, bookJob, freeWindow, type Site } from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

type Technician = 'technician' | 'second_technician';

/** A site with a visit of one technician, and people of its own for every part they may have. */
interface Place extends Site {
  ticketId: string;
  visitId: string;
  visitTag: string;
  approverId: string;
  payerId: string;
  callerId: string;
}

let service: TestService;
let places: Record<Technician, Place>;
let unvisited: Place;
beforeAll(async () => {
  service = await createTestService();
  places = {
    technician: await bookedPlace('technician'),
    second_technician: await bookedPlace('second_technician'),
  };
  unvisited = await openPlace();
});
afterAll(() => service.close());

const dispatcher = () => service.as('dispatcher');
const others: Record<Technician, Technician> = {
  technician: 'second_technician',
  second_technician: 'technician',
};

const reads: [string, (place: Place) => string][] = [
  ['the site', ({ siteId }) => `/v1/sites/${siteId}`],
  ['a ticket of the site', ({ ticketId }) => `/v1/tickets/${ticketId}`],
  ['a machine of the site', ({ outdoorId }) => `/v1/equipment/${outdoorId}`],
  ['who lives there', ({ customerId }) => `/v1/customers/${customerId}`],
  ['who decides', ({ approverId }) => `/v1/customers/${approverId}`],
  ['who pays', ({ payerId }) => `/v1/customers/${payerId}`],
  ['who called', ({ callerId }) => `/v1/customers/${callerId}`],
];

const changes: [string, 'POST' | 'PATCH', (place: Place) => string, object][] = [
  ['add a system', 'POST', ({ siteId }) => `/v1/sites/${siteId}/systems`, { name: 'Upstairs' }],
  [
    'add a machine',
    'POST',
    ({ systemId }) => `/v1/systems/${systemId}/equipment`,
    { kind: 'furnace', nameplate: {} },
  ],
  [
    'rewrite a nameplate',
    'PATCH',
    ({ outdoorId }) => `/v1/equipment/${outdoorId}`,
    { nameplate: { capacitorHermUf: 35 } },
  ],
  [
    'prolong a warranty',
    'PATCH',
    ({ indoorId }) => `/v1/equipment/${indoorId}`,
    { partsWarrantyUntil: '2036-01-01' },
  ],
];

describe.each(['technician', 'second_technician'] as const)('the %s', (who) => {
  const own = () => places[who];
  const foreign = () => places[others[who]];

  it.each(reads)('sees %s of an own visit', async (_, path) => {
    expectStatus(await as(who).get(path(own())), 200);
  });

  it.each(reads)('is told of %s of another as if it were not there', async (_, path) => {
    for (const place of [foreign(), unvisited]) {
      sameAsMissing(await as(who).get(path(place)), await as(who).get(path(nowhere)));
    }
  });

  it.each(changes)('may not %s at the site of another, and nothing changes', async (...row) => {
    const [, method, path, body] = row;
    const before = await everything();
    for (const place of [foreign(), unvisited]) {
      const refused = await send(who, method, path(place), body);
      sameAsMissing(refused, await send(who, method, path(nowhere), body));
    }
    expect(await everything()).toEqual(before);
  });

  it.each(changes)('may %s at a site of an own visit', async (_, method, path, body) => {
    const sent = await send(who, method, path(own()), body);
    expectStatus(sent, method === 'POST' ? 201 : 200);
  });

  it('finds the tickets of own sites only in the list, whatever is asked for', async () => {
    const earlier = await openTicket(own());
    const { number } = (await dispatcher().get(`/v1/tickets/${foreign().ticketId}`)).body;
    const all = await listed(who, 'limit=200');
    expect(all).toEqual(expect.arrayContaining([own().ticketId, earlier]));
    for (const place of [foreign(), unvisited]) expect(all).not.toContain(place.ticketId);
    expect(await listed(who, `siteId=${own().siteId}`)).toEqual([own().ticketId, earlier].sort());
    for (const query of [`siteId=${foreign().siteId}`, `number=${number}`]) {
      expect(await listed(who, query)).toEqual([]);
    }
  });
});

describe('a visit', () => {
  it('opens its site to its technician until it is cancelled', async () => {
    const place = await bookedPlace('technician');
    const pages = reads.map(([, path]) => path(place));
    for (const page of pages) expectStatus(await as('technician').get(page), 200);
    const cancel = `/v1/visits/${place.visitId}/cancel`;
    const reason = { reason: 'The caller fixed it.' };
    expectStatus(await dispatcher().post(cancel, reason, { ifMatch: place.visitTag }), 200);
    for (const page of pages) expectProblem(await as('technician').get(page), 'not-found');
    expect(await listed('technician', `siteId=${place.siteId}`)).toEqual([]);
  });

  it('that came to nothing leaves its site open to its technician', async () => {
    const place = await bookedPlace('technician');
    const step = `/v1/visits/${place.visitId}`;
    const started = expectStatus(
      await as('technician').post(`${step}/start-travel`, {}, { ifMatch: place.visitTag }),
      200,
    );
    const ifMatch = started.headers['etag'] ?? '';
    const reason = { reason: 'Nobody at home.' };
    expectStatus(await as('technician').post(`${step}/report-no-access`, reason, { ifMatch }), 200);
    expectStatus(await as('technician').get(`/v1/sites/${place.siteId}`), 200);
  });

  it('opens the earlier tickets of the same site, which are its history', async () => {
    const place = await openPlace();
    await bookJob(service, place);
    expectStatus(await as('technician').get(`/v1/tickets/${place.ticketId}`), 200);
  });
});

describe.each(['dispatcher', 'owner'] as const)('the %s', (who) => {
  it.each(reads)('sees %s, with a visit or without', async (_, path) => {
    for (const place of [places.technician, places.second_technician, unvisited]) {
      expectStatus(await as(who).get(path(place)), 200);
    }
  });

  it('sees a customer without any site', async () => {
    expectStatus(await as(who).get(`/v1/customers/${await addCustomer()}`), 200);
  });

  it.each(changes)('may %s where nobody was yet', async (_, method, path, body) => {
    const sent = await send(who, method, path(await openPlace()), body);
    expectStatus(sent, method === 'POST' ? 201 : 200);
  });

  it('finds every ticket in the list', async () => {
    const ids = await listed(who, 'limit=200');
    const all = await service.owner.query<{ id: string }>('SELECT id FROM ticket ORDER BY id');
    expect(ids).toEqual(all.rows.map(({ id }) => id));
  });
});

const as = (who: StaffKey) => service.as(who);
type Answer = Awaited<ReturnType<ReturnType<TestService['as']>['get']>>;

/** A place where every identifier leads nowhere. */
const nowhere: Place = {
  customerId: randomUUID(),
  siteId: randomUUID(),
  systemId: randomUUID(),
  outdoorId: randomUUID(),
  indoorId: randomUUID(),
  ticketId: randomUUID(),
  visitId: randomUUID(),
  visitTag: '"1"',
  approverId: randomUUID(),
  payerId: randomUUID(),
  callerId: randomUUID(),
};

/** The tag is that of a machine nobody changed; who may change it has it from the machine. */
async function send(who: StaffKey, method: 'POST' | 'PATCH', path: string, body: object) {
  if (method === 'POST') return as(who).post(path, body);
  const seen = await dispatcher().get(path);
  return as(who).patch(path, body, { ifMatch: seen.headers['etag'] ?? '"1"' });
}

function sameAsMissing(foreign: Answer, missing: Answer): void {
  expectProblem(expectStatus(foreign, 404), 'not-found');
  expectStatus(missing, 404);
  const plain = ({ body }: Answer) => ({ ...body, requestId: '', instance: '' });
  expect(plain(foreign)).toEqual(plain(missing));
}

/** Everything a refused change might have touched. */
async function everything(): Promise<unknown[]> {
  const tables = ['site', 'comfort_system', 'equipment', 'journal_entry'];
  const rows = tables.map((table) =>
    service.owner.query(`SELECT t::text AS row FROM ${table} t ORDER BY 1`),
  );
  return (await Promise.all(rows)).map((found) => found.rows);
}

async function listed(who: StaffKey, query: string): Promise<string[]> {
  const { body } = expectStatus(await as(who).get(`/v1/tickets?${query}`), 200);
  return body.items.map(({ id }: { id: string }) => id).sort();
}

async function addCustomer(): Promise<string> {
  const person = { name: 'Peregrine Holt', phone: '555-0155' };
  return expectStatus(await dispatcher().post('/v1/customers', person), 201).body.id;
}

async function openTicket({ siteId }: Site, callerId?: string): Promise<string> {
  const call = { siteId, complaint: 'It hums.', ...(callerId && { callerId }) };
  return expectStatus(await dispatcher().post('/v1/tickets', call), 201).body.id;
}

/** A site with a ticket, to which nobody is booked. */
async function openPlace(): Promise<Place> {
  const site = await addSite(service);
  const [approverId, payerId, callerId] = [
    await addCustomer(),
    await addCustomer(),
    await addCustomer(),
  ];
  const path = `/v1/sites/${site.siteId}`;
  const ifMatch = (await dispatcher().get(path)).headers['etag'] ?? '';
  expectStatus(await dispatcher().patch(path, { approverId, payerId }, { ifMatch }), 200);
  const ticketId = await openTicket(site, callerId);
  return { ...site, ticketId, approverId, payerId, callerId, visitId: '', visitTag: '' };
}

async function bookedPlace(who: Technician): Promise<Place> {
  const place = await openPlace();
  const visit = expectStatus(
    await dispatcher().post('/v1/visits', {
      ticketId: place.ticketId,
      technicianId: service.staff[who].id,
      ...freeWindow(),
      feeDisclosure: { toldFeeCents: 8_900, agreedBy: 'Winifred Ashgrove' },
    }),
    201,
  );
  return { ...place, visitId: visit.body.id, visitTag: visit.headers['etag'] ?? '' };
}
