import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findCustomers, plainName } from '../../src/customers/find-customers.ts';
import { sqlOn } from '../../src/platform/database/database.ts';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';
import { attempt } from './guard-case.ts';
import { customerRow, id, sql } from './rows.ts';

let database: TestDatabase;

const people = [
  { id: id(101), name: 'Núñez Ágata', phone: '(555) 555-0142' },
  { id: id(102), name: 'NUNEZ AGATA', phone: '+1 555 555 0143 ext. 7' },
  { id: id(103), name: 'Zoë Brontë-O’Hara', phone: '555.555.0144' },
  { id: id(104), name: 'İpek Ağaoğlu', phone: '5555550145' },
  // The same letters put together from a base letter and a mark.
  { id: id(105), name: 'Re\u0301my Che\u0302ne', phone: '555-0146' },
  { id: id(107), name: 'Łukasz Strauß-Bjørn', phone: '555-0148' },
  { id: id(108), name: 'Ægir Þórður Œuvrard', phone: '555-0149' },
  { id: id(106), name: '100% Comfort_Home', phone: '555-0147' },
];

beforeAll(async () => {
  database = await createTestDatabase();
  for (const person of people) await database.owner.query(customerRow(person));
});

afterAll(() => database.drop());

describe('the search form of a customer, kept by the database', () => {
  it.each([
    { of: 101, name: 'nunez agata', digits: '5555550142' },
    { of: 102, name: 'nunez agata', digits: '155555501437' },
    { of: 103, name: 'zoe bronte-o’hara', digits: '5555550144' },
    { of: 104, name: 'ipek agaoglu', digits: '5555550145' },
    { of: 105, name: 'remy chene', digits: '5550146' },
    { of: 107, name: 'lukasz strauss-bjorn', digits: '5550148' },
    { of: 108, name: 'aegir thordur oeuvrard', digits: '5550149' },
  ])('is “$name”, $digits', async ({ of, name, digits }) => {
    const found = await database.owner.query(
      'SELECT name_search, phone_digits FROM customer WHERE id = $1',
      [id(of)],
    );
    expect(found.rows).toEqual([{ name_search: name, phone_digits: digits }]);
    expect(plainName(people.find((each) => each.id === id(of))?.name ?? '')).toBe(name);
  });

  it('follows a change of name and phone', async () => {
    const changed = sql(`UPDATE customer SET name = 'Öykü', phone = '555-0199' WHERE id = $1`, [
      id(106),
    ]);
    const client = await database.owner.connect();
    try {
      await client.query('BEGIN');
      await client.query(changed);
      const found = await client.query(
        'SELECT name_search, phone_digits FROM customer WHERE id = $1',
        [id(106)],
      );
      expect(found.rows).toEqual([{ name_search: 'oyku', phone_digits: '5550199' }]);
    } finally {
      await client.query('ROLLBACK');
      client.release();
    }
  });

  it('is written by nobody else', async () => {
    const byHand = sql(`UPDATE customer SET phone_digits = '0' WHERE id = $1`, [id(101)]);
    expect((await attempt(database.owner, [byHand]))?.sqlState).toBe('428C9');
  });
});

describe('a customer is found', () => {
  it.each([
    { by: 'the name without its accents', search: 'nunez', finds: [101, 102] },
    { by: 'the name with accents it does not have', search: 'NÚÑEZ ágata', finds: [101, 102] },
    { by: 'a part of the name', search: 'bront', finds: [103] },
    { by: 'letters put together the other way', search: 'R\u00e9my', finds: [105] },
    { by: 'a name with a slip of the finger', search: 'nunes', finds: [101, 102] },
    { by: 'letters without their stroke', search: 'lukasz', finds: [107] },
    { by: 'a letter the name does not have', search: 'STRAUẞ', finds: [107] },
    { by: 'two letters for one', search: 'aegir thordur', finds: [108] },
    { by: 'a capital with a dot', search: 'İPEK', finds: [104] },
    {
      by: 'the digits of the phone, however they are written',
      search: '555-555-0144',
      finds: [103],
    },
    { by: 'the last four digits', search: '0142', finds: [101] },
    { by: 'a percent sign as itself', search: '100%', finds: [106] },
    { by: 'an underscore as itself', search: 'comfort_home', finds: [106] },
  ])('by $by', async ({ search, finds }) => {
    const found = await findCustomers(sqlOn(database.db.pool), {
      search,
      after: undefined,
      limit: 50,
    });
    expect(found.map((each) => each.id)).toEqual(finds.map(id));
  });

  it.each([
    { search: '%', finds: [106] },
    { search: '_', finds: [106] },
    { search: '\\', finds: [] },
    { search: 'n%z', finds: [] },
  ])('not by $search standing for something else', async ({ search, finds }) => {
    const found = await findCustomers(sqlOn(database.db.pool), {
      search,
      after: undefined,
      limit: 50,
    });
    expect(found.map((each) => each.id)).toEqual(finds.map(id));
  });
});
