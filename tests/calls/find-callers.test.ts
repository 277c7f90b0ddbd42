import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findCallersStatement, findCallersValues } from '../../src/calls/find-callers.ts';
import { likenessSetting } from '../../src/platform/database/database.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';

// Invented people on invented streets, enough of them that reading every row would be another plan.
const given =
  'Winifred Peregrine Orson Lavinia Thaddeus Odette Ansel Beatrix Cormac Delphine'.split(' ');
const family =
  'Ashgrove Holt Wraysbury Quenell Garcia Fernandez Kowalski Petersen Bradbury Marsh'.split(' ');
const streets = [
  'Foxglove Lane',
  'Thistle Court',
  'Millrace Street',
  'Harebell Road',
  'N Juniper Ave',
  'Whippoorwill Terrace',
  'Kingfisher Way',
  'Périgord Drive',
];
const PEOPLE = 4_000;

let service: TestService;
beforeAll(async () => {
  service = await createTestService({ withPriceBook: false });
  await service.owner.query(
    `WITH person AS (
       INSERT INTO customer (id, name, phone, journal_salt, created_at)
       SELECT gen_random_uuid(), ($1::text[])[1 + n % 10] || ' ' || ($2::text[])[1 + n / 10 % 10],
         '(312) 555-' || lpad(n::text, 4, '0'), '\\x00', now()
       FROM generate_series(0, $4 - 1) n RETURNING id, phone_digits)
     INSERT INTO site (id, street, city, region, postal_code, jurisdiction, occupant_id, approver_id,
       payer_id, created_at)
     SELECT gen_random_uuid(), (10 + n / 8) || ' ' || ($3::text[])[1 + n % 8], 'Wrenfield', 'QX',
       '00000', 'quill_county', id, id, id, now()
     FROM (SELECT id, right(phone_digits, 4)::int AS n FROM person) numbered`,
    [given, family, streets, PEOPLE],
  );
  await service.owner.query('VACUUM ANALYZE customer, site');
}, 60_000);
afterAll(() => service.close());

interface Caller {
  name: string;
  phone: string;
  foundBy: string;
  sites: { street: string; city: string; roles: string[] }[];
}

async function callers(search: string): Promise<Caller[]> {
  const path = `/v1/callers?search=${encodeURIComponent(search)}`;
  return expectStatus(await service.as('dispatcher').get(path), 200).body.items;
}

const firstStreet = async (search: string) => {
  const [first] = await callers(search);
  return `${first?.foundBy}: ${first?.sites[0]?.street}`;
};

describe('a street as it is heard on the phone finds the house first', () => {
  it.each([
    ['as it is', '12 Foxglove Lane', 'street: 12 Foxglove Lane'],
    ['shortened', '12 foxglove ln', 'street: 12 Foxglove Lane'],
    ['shortened with a dot', '12 Millrace St.', 'street: 12 Millrace Street'],
    [
      'written out where it is on record shortened',
      '12 north juniper avenue',
      'street: 12 N Juniper Ave',
    ],
    ['without the kind of street', '12 foxglove', 'street: 12 Foxglove Lane'],
    ['the number last', 'Foxglove Lane 12', 'street: 12 Foxglove Lane'],
    ['swapped letters', '12 Foxglvoe Lane', 'street_alike: 12 Foxglove Lane'],
    ['without its accent', '12 perigord', 'street: 12 Périgord Drive'],
    ['a letter wrong', '12 Harebill Road', 'street_alike: 12 Harebell Road'],
    ['letters missing', '12 Whiporwil Terrace', 'street_alike: 12 Whippoorwill Terrace'],
    ['a letter too many', '12 Thisstle Court', 'street_alike: 12 Thistle Court'],
    ['another kind of street', '12 Foxglove Road', 'street_alike: 12 Foxglove Lane'],
    ['with a unit', '12 Kingfisher Way apt 3', 'street_alike: 12 Kingfisher Way'],
  ])('%s: %s', async (_how, search, expected) => {
    expect(await firstStreet(search)).toBe(expected);
  });

  it('where no house has that number, the street alone is looked for', async () => {
    const found = await callers('9999 Harebell Road');
    expect(found).toHaveLength(20);
    for (const { sites } of found) expect(sites[0]?.street).toMatch(/ Harebell Road$/);
  });

  it('of the houses 12 and 112 the one that was said is first', async () => {
    const found = await callers('12 Foxglove Lane');
    expect(found.map(({ sites }) => sites[0]?.street)[0]).toBe('12 Foxglove Lane');
    expect(found.map(({ sites }) => sites[0]?.street).sort()).toEqual([
      '112 Foxglove Lane',
      '12 Foxglove Lane',
      '212 Foxglove Lane',
      '312 Foxglove Lane',
      '412 Foxglove Lane',
    ]);
  });
});

describe('a phone number finds its holder', () => {
  it.each([
    ['whole', '(312) 555-0177', 'phone: (312) 555-0177'],
    ['with the 1 that is dialed before it', '+1 312 555 0177', 'phone: (312) 555-0177'],
    ['without its area code', '5550177', 'phone: (312) 555-0177'],
    ['two digits swapped', '312 555 7100', 'phone_alike: (312) 555-1700'],
  ])('%s: %s', async (_how, search, expected) => {
    const [first] = await callers(search);
    expect(`${first?.foundBy}: ${first?.phone}`).toBe(expected);
  });
});

describe('a name finds its people', () => {
  it.each([
    ['Wraysbury', 'name', /Wraysbury$/],
    ['odette mar', 'name', /^Odette Marsh$/],
    ['simply mistyped: wrasbury', 'name_alike', /Wraysbury$/],
    ['family name first: Kowalski Odette', 'name_alike', /^Odette Kowalski$/],
  ])('%s', async (said, foundBy, name) => {
    const [first] = await callers(said.replace(/^.*: /, ''));
    expect(first?.foundBy).toBe(foundBy);
    expect(first?.name).toMatch(name);
  });

  it('never more than twenty, and nobody twice', async () => {
    const found = await callers('odette');
    expect(found).toHaveLength(20);
    expect(new Set(found.map(({ phone }) => phone)).size).toBe(20);
  });

  it('nobody at all for what nobody is called', async () => {
    expect(await callers('zzqx')).toEqual([]);
  });

  it.each(['%%', '__', "o'%'--", '\\\\'])(
    '%s stands for itself, not for anything',
    async (typed) => {
      expect(await callers(typed)).toEqual([]);
    },
  );
});

describe('who is found comes with the sites that are theirs', () => {
  it('a manager with more sites than are shown is found with the one that was named', async () => {
    const dispatcher = service.as('dispatcher');
    const added = await dispatcher.post('/v1/customers', { name: 'Umber Care', phone: '555-9000' });
    const managerId = expectStatus(added, 201).body.id;
    await service.owner.query(
      `UPDATE site SET approver_id = $1, payer_id = $1 WHERE street LIKE '% Kingfisher Way'`,
      [managerId],
    );
    const found = await callers('77 Kingfisher Way');
    expect(found.slice(0, 2).map(({ sites }) => sites[0])).toMatchObject([
      { street: '77 Kingfisher Way', city: 'Wrenfield', roles: ['occupant'] },
      { street: '77 Kingfisher Way', city: 'Wrenfield', roles: ['approver', 'payer'] },
    ]);
    expect(found[1]?.sites).toHaveLength(10);
  });

  it('somebody who was only written down is found without any', async () => {
    const person = { name: 'Zebulon Tarn', phone: '555-9001' };
    expectStatus(await service.as('dispatcher').post('/v1/customers', person), 201);
    expect(await callers('zebulon')).toMatchObject([{ ...person, foundBy: 'name', sites: [] }]);
  });
});

describe('the search reads indexes, never a whole table', () => {
  beforeAll(async () => {
    await service.owner.query(`
      WITH person AS (
        INSERT INTO customer (id, name, phone, journal_salt, created_at)
        SELECT gen_random_uuid(), left(md5(n::text), 6) || ' ' || right(md5(n::text), 8),
          '(401) 555-0100', '\\x00', now()
        FROM generate_series(1, 40000) n RETURNING id, name)
      INSERT INTO site (id, street, city, region, postal_code, jurisdiction, occupant_id,
        approver_id, payer_id, created_at)
      SELECT gen_random_uuid(), 5000 + length(name) || ' ' || name || ' Pike', 'Wrenfield', 'QX',
        '00000', 'quill_county', id, id, id, now()
      FROM person`);
    await service.owner.query('VACUUM ANALYZE customer, site');
  }, 60_000);

  it.each([
    ['a name', 'wraysbury'],
    ['a mistyped name', 'wrasbury'],
    ['digits of a phone', '555-0177'],
    ['a street with its number', '12 foxglove lane'],
    ['a mistyped street with its number', '12 harebill road'],
    ['a street of no such number', '9999 harebell road'],
  ])('for %s', async (_what, search) => {
    const client = await service.owner.connect();
    try {
      await client.query('BEGIN');
      await client.query(`SET LOCAL ${likenessSetting}`);
      const plan = await client.query<{ 'QUERY PLAN': string }>(
        `EXPLAIN ${findCallersStatement}`,
        findCallersValues(search),
      );
      const lines = plan.rows.map((row) => row['QUERY PLAN']).join('\n');
      expect(lines).toContain('site_street_search_trgm');
      expect(lines).not.toContain('Seq Scan');
    } finally {
      await client.query('ROLLBACK');
      client.release();
    }
  });
});
