import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

let phones = 0;
/** Somebody new at a place of their own. */
function stranger() {
  phones += 1;
  return {
    customer: {
      new: { name: 'Lavinia Holt', phone: `(312) 555-${String(phones).padStart(4, '0')}` },
    },
    site: {
      new: {
        street: `${phones} Bobolink Street`,
        city: 'Wrenfield',
        region: 'QX',
        postalCode: '00000',
        accessNotes: 'The gate sticks; lift it.',
      },
    },
    complaint: 'It blows warm air since noon.',
    symptoms: ['no_cooling'],
  };
}

const call = (body: object) => service.as('dispatcher').post('/v1/calls', body);

async function countAll() {
  const counted = await service.owner.query(`
    SELECT (SELECT count(*)::int FROM customer) AS customers, (SELECT count(*)::int FROM site) AS sites,
      (SELECT count(*)::int FROM ticket) AS tickets, (SELECT count(*)::int FROM journal_entry) AS entries`);
  return counted.rows[0];
}

describe('a call is taken in one act', () => {
  it('makes the caller, the site and the ticket', async () => {
    const body = stranger();
    const taken = expectStatus(await call(body), 201);
    const { customerId, siteId, ticket } = taken.body;
    expect(taken.headers['location']).toBe(`/v1/tickets/${ticket.id}`);
    const dispatcher = service.as('dispatcher');
    expect((await dispatcher.get(`/v1/customers/${customerId}`)).body).toMatchObject(
      body.customer.new,
    );
    expect((await dispatcher.get(`/v1/sites/${siteId}`)).body).toMatchObject({
      ...body.site.new,
      ...{ occupantId: customerId, approverId: customerId, payerId: customerId },
    });
    const read = await dispatcher.get(`/v1/tickets/${ticket.id}`);
    expect(read.headers['etag']).toBe(taken.headers['etag']);
    expect({ ...read.body, recentWork: [] }).toEqual(ticket);
    expect(ticket).toMatchObject({
      ...{ siteId, callerId: customerId, complaint: body.complaint, symptoms: body.symptoms },
      ...{ state: 'new', kind: 'repair' },
    });
  });

  it('from somebody known at a known site makes only the ticket', async () => {
    const first = expectStatus(await call(stranger()), 201);
    const before = await countAll();
    const { customerId, siteId } = first.body;
    const again = { customer: { id: customerId }, site: { id: siteId }, complaint: 'Ice on it.' };
    expectStatus(await call(again), 201);
    expect(await countAll()).toEqual({
      ...before,
      tickets: before.tickets + 1,
      entries: before.entries + 1,
    });
  });

  it('from a manager about a tenant’s home opens the ticket for the one who called', async () => {
    const tenant = expectStatus(await call(stranger()), 201).body.customerId;
    const { site, ...rest } = stranger();
    const home = { ...site.new, occupantId: tenant };
    const { body } = expectStatus(await call({ ...rest, site: { new: home } }), 201);
    expect(body.ticket.callerId).toBe(body.customerId);
    const made = (await service.as('dispatcher').get(`/v1/sites/${body.siteId}`)).body;
    expect(made.occupantId).toBe(tenant);
  });

  it('sent twice with one key is taken once', async () => {
    const body = stranger();
    const send = () => service.as('dispatcher').post('/v1/calls', body, { key: 'one-call' });
    const first = expectStatus(await send(), 201);
    const before = await countAll();
    expect((await send()).body).toEqual(first.body);
    expect(await countAll()).toEqual(before);
  });
});

describe('a call that cannot be taken leaves nothing behind', () => {
  const unknown = randomUUID();
  it.each([
    ['an unknown caller', { customer: { id: unknown } }, '/customer/id'],
    ['an unknown site', { site: { id: unknown } }, '/site/id'],
    [
      'an unknown occupant of a new site',
      { site: { new: { ...stranger().site.new, occupantId: unknown } } },
      '/site/new/occupantId',
    ],
    [
      'an unknown payer of a new site',
      { site: { new: { ...stranger().site.new, payerId: unknown } } },
      '/site/new/payerId',
    ],
    [
      'a county without a tax rule',
      { site: { new: { ...stranger().site.new, jurisdiction: 'nowhere_county' } } },
      '/site/new/jurisdiction',
    ],
  ])('%s is named by its field', async (_what, change, pointer) => {
    const before = await countAll();
    const refused = await call({ ...stranger(), ...change });
    expectProblem(refused, 'unknown-reference');
    expect(refused.body.errors[0].pointer).toBe(pointer);
    expect(await countAll()).toEqual(before);
  });
});

describe('somebody who is on record is not made again', () => {
  it('whose phone number is known, however it is written, and is named', async () => {
    const known = stranger();
    const { customerId } = expectStatus(await call(known), 201).body;
    const digits = known.customer.new.phone.replace(/\D/g, '');
    for (const phone of [known.customer.new.phone, digits, `+1 ${digits}`]) {
      const before = await countAll();
      const refused = await call({ ...stranger(), customer: { new: { name: 'L. Holt', phone } } });
      expectProblem(refused, 'already-exists');
      expect(refused.body.known).toEqual({
        customers: [{ id: customerId, ...known.customer.new }],
        sites: [],
      });
      expect(await countAll()).toEqual(before);
    }
  });

  it.each([
    ['as it is', (street: string) => street, 'Unit 4'],
    ['shortened', (street: string) => street.replace('Street', 'St.'), '#4'],
    ['in capitals', (street: string) => street.toUpperCase(), 'apt 4'],
  ])('at a known street and unit, written %s', async (_how, write, unit) => {
    const known = stranger();
    const home = { ...known.site.new, unit: '4' };
    const { siteId, customerId } = expectStatus(
      await call({ ...known, site: { new: home } }),
      201,
    ).body;
    const newcomer = stranger();
    const site = { new: { ...home, street: write(home.street), unit } };
    const refused = await call({ ...newcomer, site });
    expectProblem(refused, 'already-exists');
    expect(refused.body.known).toEqual({
      customers: [],
      sites: [
        {
          ...{ id: siteId, street: home.street, unit: '4', city: 'Wrenfield' },
          ...{ occupantId: customerId, occupantName: 'Lavinia Holt' },
        },
      ],
    });
  });

  it('but a neighbor in another unit or another town is somebody else', async () => {
    const known = stranger();
    expectStatus(await call({ ...known, site: { new: { ...known.site.new, unit: '4' } } }), 201);
    const elsewhere = { city: 'Plover Bend', postalCode: '00003', unit: '4' };
    for (const other of [{ unit: '5' }, {}, elsewhere]) {
      const site = { new: { ...known.site.new, ...other } };
      expectStatus(await call({ ...stranger(), site }), 201);
    }
  });

  it('unless they are to be made anyway, such as two who share a phone', async () => {
    const known = stranger();
    const first = expectStatus(await call(known), 201).body;
    const second = expectStatus(await call({ ...known, anyway: true }), 201).body;
    expect(second.customerId).not.toBe(first.customerId);
    expect(second.siteId).not.toBe(first.siteId);
  });

  // Two dispatchers who hear the same household at once: advisory locks let one wait for the other.
  it('of ten calls at once that would make the same person one is taken', async () => {
    const body = stranger();
    const answers = await Promise.all(Array.from({ length: 10 }, () => call(body)));
    expect(answers.map(({ status }) => status).sort()).toEqual([201, ...Array(9).fill(409)]);
    const same = await service.owner.query('SELECT 1 FROM customer WHERE phone = $1', [
      body.customer.new.phone,
    ]);
    expect(same.rowCount).toBe(1);
  });
});
