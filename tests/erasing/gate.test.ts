import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { erasureRow, goneRow } from '../database/erasing-rows.ts';
import { attempt, refusalOf, restrict } from '../database/guard-case.ts';
import { id, ids, type Statement, sql } from '../database/rows.ts';
import { stock } from '../database/stock.ts';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';

let database: TestDatabase;

beforeAll(async () => {
  database = await createTestDatabase();
  await stock(database.owner);
});

afterAll(() => database.drop());

const onRecord: Statement[] = [goneRow(), erasureRow()];
const note = (said: string | null): Statement =>
  sql('UPDATE observation SET note = $2 WHERE id = $1', [ids.observation, said]);

describe('what never changes is opened by an erasure alone, for what is personal alone', () => {
  const refused = { sqlState: restrict, constraint: 'observation_insert_only' };

  it('a note is erased in the transaction that puts an erasure on record', async () => {
    expect(await attempt(database.owner, [...onRecord, note('erased')])).toBeUndefined();
    const billed = sql(`UPDATE imported_bill SET content = '{"said":"erased"}'`);
    expect(await attempt(database.owner, [...onRecord, billed])).toBeUndefined();
  });

  it.each<[string, Statement[]]>([
    ['without an erasure on record', [note('erased')]],
    ['by other words', [...onRecord, note('Nothing to see.')]],
    [
      'with anything else beside it',
      [
        ...onRecord,
        sql(`UPDATE observation SET note = 'erased', answer = 'unknown' WHERE id = $1`, [
          ids.observation,
        ]),
      ],
    ],
    [
      'by taking the row away',
      [...onRecord, sql('DELETE FROM observation WHERE id = $1', [ids.observation])],
    ],
    ['to the same value', [...onRecord, sql('UPDATE observation SET note = note')]],
  ])('and not %s', async (_, statements) => {
    expect(await attempt(database.owner, statements)).toEqual(refused);
  });

  it.each(['quote_issue', 'invoice_issue', 'credit_memo', 'work_record'])(
    'never on a paper: %s stays',
    async (table) => {
      const erase = sql(`UPDATE ${table} SET paper = '{"said":"erased"}'`);
      expect(await attempt(database.owner, [...onRecord, erase])).toEqual({
        sqlState: restrict,
        constraint: `${table}_insert_only`,
      });
    },
  );

  it('nor by an erasure that another transaction put on record', async () => {
    const [gone, record] = [
      goneRow({ id: id(1_805) }),
      erasureRow({ id: id(1_806), customer_id: id(1_805) }),
    ];
    await database.owner.query(gone);
    await database.owner.query(record);
    expect(await attempt(database.owner, [note('erased')])).toEqual(refused);
  });
});

describe('the application', () => {
  const denied = '42501';

  async function asApplication(...statements: Statement[]): Promise<string | undefined> {
    const client = await database.db.pool.connect();
    try {
      await client.query('BEGIN');
      for (const statement of statements) await client.query(statement);
      return undefined;
    } catch (error) {
      return refusalOf(error).sqlState;
    } finally {
      await client.query('ROLLBACK');
      client.release();
    }
  }

  it('erases nobody whose erasure it does not put on record', async () => {
    const erase = sql('SELECT erase_person($1)', [ids.customer]);
    expect(await asApplication(erase)).toBe(denied);
    expect(await asApplication(...onRecord, erase)).toBe(denied);
    const named = [goneRow({ name: 'Winifred Ashgrove' }), erasureRow()];
    expect(await asApplication(...named, sql('SELECT erase_person($1)', [id(1_802)]))).toBe(
      undefined,
    );
  });

  it('changes nothing by itself, an erasure on record or not', async () => {
    expect(await asApplication(...onRecord, note('erased'))).toBe(denied);
  });
});
