import { readFile } from 'node:fs/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';
import { jobs, partUseRow } from './life-rows.ts';
import { id, ids, type Row, type Statement } from './rows.ts';
import { stock } from './stock.ts';
import { moveRow, supplies } from './supply-rows.ts';

let database: TestDatabase;
beforeAll(async () => {
  database = await createTestDatabase();
  await stock(database.owner);
});
afterAll(() => database.drop());

const { agreed } = jobs;
const use = (change: Row = {}) => partUseRow(agreed, { id: id(1_201), ...change });
const at = { moved_at: '2026-07-16T21:00:00Z', recorded_by_id: ids.technician };
const took = (change: Row = {}) =>
  moveRow({
    ...{ id: id(187), place_id: supplies.truck, part_code: 'CAP-45-5-440', quantity: -1 },
    ...{ kind: 'used', visit_id: agreed.visit, ...at, ...change },
  });
const used = (change: Row = {}) => use({ recorded_at: at.moved_at, ...change });

describe('a part that was used before its use named where it was taken from', () => {
  it.each<[string, Statement[], string | null]>([
    ['was taken in the same moment', [used(), took()], id(187)],
    ['not at another time', [used(), took({ moved_at: '2026-07-16T21:00:01Z' })], null],
    ['not by somebody else', [used(), took({ recorded_by_id: ids.owner })], null],
    ['not as another part', [used(), took({ part_code: 'FUSE-3' })], null],
    ['not more of it', [used(), took({ quantity: -2 })], null],
    ['not for another visit', [used(), took({ visit_id: ids.visit })], null],
    ['nor is it guessed which move it was', [used(), took(), took({ id: id(188) })], null],
    ['or which use', [used(), used({ id: id(1_299) }), took()], null],
  ])('%s', async (_, statements, expected) => {
    const client = await database.owner.connect();
    try {
      await client.query('BEGIN');
      for (const statement of statements) await client.query(statement);
      await client.query('SET CONSTRAINTS ALL IMMEDIATE');
      await client.query(await namesMoves());
      const found = await client.query(
        `SELECT stock_move_id FROM part_use WHERE id = '${id(1_201)}'`,
      );
      expect(found.rows).toEqual([{ stock_move_id: expected }]);
    } finally {
      await client.query('ROLLBACK');
      client.release();
    }
  });
});

/** What the migration does with the uses of before. */
async function namesMoves(): Promise<string> {
  const path = '../../prisma/migrations/20261126110200_corrections/migration.sql';
  const migration = await readFile(new URL(path, import.meta.url), 'utf8');
  const found = /ALTER TABLE part_use DISABLE[\s\S]*?ENABLE TRIGGER part_use_insert_only;/.exec(
    migration,
  );
  if (found === null) throw new Error('the migration names no moves');
  return found[0];
}
