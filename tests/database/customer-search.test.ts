import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findCustomers, findStatement, findValues } from '../../src/customers/find-customers.ts';
import { likenessSetting, sqlOn } from '../../src/platform/database/database.ts';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';

let database: TestDatabase;

// Invented people: every given name with every family name, several times over.
const given =
  'Winifred Peregrine Philippa Maribel Orson Lavinia Desmond Thaddeus Odette Ansel Beatrix Cormac Delphine Edwin Fiona Gareth Hollis Imogen Jasper Katya Leopold Marguerite Nestor Ophelia Quentin Rosalind Silas Tabitha Ulric Verena'.split(
    ' ',
  );
const family =
  'Ashgrove Holt Wraysbury Quenell Smith Garcia Fernandez Johnson Williams Brown Miller Davis Rodriguez Martinez Anderson Taylor Moore Jackson Lee Thompson White Harris Clark Lewis Robinson Walker Allen King Scott Torres Nguyen Hill Flores Green Adams Nelson Baker Hall Rivera Campbell Mitchell Carter Roberts Kowalski Petersen Bishop Smythe Gardner Quincey Quesnel Marsh Sims Garland Bradbury Salisbury'.split(
    ' ',
  );
const ROUNDS = 12;

beforeAll(async () => {
  database = await createTestDatabase();
  await database.owner.query(
    `INSERT INTO customer (id, name, phone, journal_salt, created_at)
     SELECT gen_random_uuid(), g || ' ' || f, '555-0100', '\\x00', now()
     FROM unnest($1::text[]) g, unnest($2::text[]) f, generate_series(1, $3)`,
    [given, family, ROUNDS],
  );
  await database.owner.query('VACUUM ANALYZE customer');
}, 60_000);
afterAll(() => database.drop());

const everybody = given.length * family.length * ROUNDS;

/** How many of each family name are found, and how many in all. */
async function found(search: string): Promise<{ of: (name: string) => number; all: number }> {
  const filter = { search, after: undefined, limit: everybody };
  const people = await findCustomers(sqlOn(database.db.pool), filter);
  const of = (name: string) => people.filter((each) => each.name.endsWith(` ${name}`)).length;
  return { of, all: people.length };
}

describe('a mistyped family name', () => {
  it.each([
    ['simth', 'Smith'],
    ['smiht', 'Smith'],
    ['nguyne', 'Nguyen'],
    ['garsia', 'Garcia'],
    ['quennel', 'Quenell'],
    ['wrasbury', 'Wraysbury'],
    ['ferandez', 'Fernandez'],
    ['jonson', 'Johnson'],
    ['kowalsky', 'Kowalski'],
    ['tompson', 'Thompson'],
    ['petersan', 'Petersen'],
    ['philipa wrasbury', 'Wraysbury'],
  ])('%s finds every %s, and with them a tenth of all people at most', async (search, name) => {
    const people = await found(search);
    const withBoth = search.includes(' ') ? ROUNDS : given.length * ROUNDS;
    expect(people.of(name)).toBeGreaterThanOrEqual(withBoth);
    expect(people.all).toBeLessThan(everybody / 10);
  });

  it.each(['smith', 'garcia', 'quenell', 'sims'])(
    'does not crowd out the right one: %s finds those who are called that, and nobody else',
    async (search) => {
      const name = search.replace(/^./, (letter) => letter.toUpperCase());
      const people = await found(search);
      expect(people.of(name)).toBe(given.length * ROUNDS);
      expect(people.all).toBe(people.of(name));
    },
  );

  it('of two or three letters is not guessed at', async () => {
    expect((await found('zx')).all).toBe(0);
  });
});

describe('the search reads an index, not the table', () => {
  it.each([
    ['a name', 'wraysbury', 'customer_name_search_trgm'],
    ['a mistyped name', 'wrasbury', 'customer_name_search_trgm'],
    ['swapped letters', 'simth', 'customer_name_search_trgm'],
    ['digits of a phone', '555-0177', 'customer_phone_digits_trgm'],
  ])('for %s', async (_, search, index) => {
    const client = await database.owner.connect();
    try {
      await client.query('BEGIN');
      await client.query(`SET LOCAL ${likenessSetting}`);
      const plan = await client.query<{ 'QUERY PLAN': string }>(
        `EXPLAIN ${findStatement}`,
        findValues({ search, after: undefined, limit: 26 }),
      );
      const lines = plan.rows.map((row) => row['QUERY PLAN']).join('\n');
      expect(lines).toContain(index);
      expect(lines).not.toContain('Seq Scan');
    } finally {
      await client.query('ROLLBACK');
      client.release();
    }
  });
});
