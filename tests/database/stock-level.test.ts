import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';
import { attempt } from './guard-case.ts';
import { id, ids, type Statement, sql } from './rows.ts';
import { stock } from './stock.ts';
import { carriedRows, levelRow, moveRow, supplies } from './supply-rows.ts';

const { shelves, truck } = supplies;
const asApplication = sql('SET LOCAL ROLE evenhand_app');
const denied = { sqlState: '42501', constraint: undefined };

let database: TestDatabase;

beforeAll(async () => {
  database = await createTestDatabase();
  await stock(database.owner);
});

afterAll(() => database.drop());

describe('how much of a part lies where', () => {
  it('is what was billed, less what was carried off and used', async () => {
    expect(await levels()).toEqual([
      { place: shelves, part: 'FUSE-3', quantity: '6.000' },
      { place: truck, part: 'FUSE-3', quantity: '3.000' },
    ]);
    expect(await levels()).toEqual(await sums());
  });

  it('is the sum of the moves, whoever makes them together, in packs and in thousandths', async () => {
    // Each in a transaction of its own: they wait for each other at the level they share.
    const amounts = ['0.1', '0.2', '-0.3', '12', '-0.001', '7.125', '-19', '3', '0.001', '-2.5'];
    const moves = amounts.flatMap((quantity, at) =>
      [shelves, truck].map((place_id, side) =>
        moveRow({ id: id(2_000 + 2 * at + side), part_code: 'WIRE-14', place_id, quantity }),
      ),
    );
    await Promise.all(moves.map((move) => committedByApplication([move])));
    await committedByApplication(carriedRows());
    expect(await levels()).toEqual(await sums());
    const wire = (await levels()).filter(({ part }) => part === 'WIRE-14');
    expect(wire).toEqual([
      { place: shelves, part: 'WIRE-14', quantity: '0.625' },
      { place: truck, part: 'WIRE-14', quantity: '0.625' },
    ]);
  });

  it('is not moved by a move that came to nothing', async () => {
    const before = await levels();
    // Half of what is carried is refused at commit.
    const half = carriedRows().slice(0, 1);
    expect(await attempt(database.owner, half)).toBeDefined();
    expect(await levels()).toEqual(before);
  });

  it('falls below zero when more was used than was counted: the part was there', async () => {
    const use = { kind: 'used', visit_id: ids.visit, part_code: 'CAP-45-5-440', quantity: -1 };
    await committedByApplication([moveRow({ id: id(2_100), place_id: truck, ...use })]);
    expect(await levels()).toContainEqual({
      place: truck,
      part: 'CAP-45-5-440',
      quantity: '-1.000',
    });
  });

  it.each([
    ['added', levelRow()],
    ['changed', sql('UPDATE stock_level SET quantity = 1')],
    ['deleted', sql('DELETE FROM stock_level')],
    ['emptied', sql('TRUNCATE stock_level')],
    [
      'merged',
      sql(`MERGE INTO stock_level l USING (SELECT 1) one ON l.part_code = 'FUSE-3'
      WHEN MATCHED THEN UPDATE SET quantity = 0`),
    ],
  ])('is not %s by the application: only by moves', async (_, statement: Statement) => {
    expect(await attempt(database.owner, [asApplication, statement])).toEqual(denied);
    expect(await attempt(database.owner, [asApplication, moveRow({ id: id(2_200) })])).toBe(
      undefined,
    );
  });

  it('is kept by its trigger: without it the moves go by and the level stays', async () => {
    const client = await database.owner.connect();
    try {
      await client.query('BEGIN');
      await client.query('ALTER TABLE stock_move DISABLE TRIGGER stock_move_kept_in_level');
      await client.query(moveRow({ id: id(2_300) }));
      const level = await client.query<{ equal: boolean }>(
        `SELECT l.quantity = (SELECT sum(m.quantity) FROM stock_move m
           WHERE m.place_id = l.place_id AND m.part_code = l.part_code) AS equal
         FROM stock_level l WHERE place_id = $1 AND part_code = 'FUSE-3'`,
        [shelves],
      );
      expect(level.rows).toEqual([{ equal: false }]);
    } finally {
      await client.query('ROLLBACK');
      client.release();
    }
  });
});

interface Lying {
  place: string;
  part: string;
  quantity: string;
}

async function levels(): Promise<Lying[]> {
  const found = await database.owner.query<Lying>(
    `SELECT place_id AS place, part_code AS part, quantity FROM stock_level ORDER BY 2, 1`,
  );
  return found.rows;
}

async function sums(): Promise<Lying[]> {
  const found = await database.owner.query<Lying>(
    `SELECT place_id AS place, part_code AS part, sum(quantity) AS quantity FROM stock_move
     GROUP BY 1, 2 ORDER BY 2, 1`,
  );
  return found.rows;
}

async function committedByApplication(statements: Statement[]): Promise<void> {
  const client = await database.owner.connect();
  try {
    await client.query('BEGIN');
    for (const statement of [asApplication, ...statements]) await client.query(statement);
    await client.query('COMMIT');
  } finally {
    client.release();
  }
}
