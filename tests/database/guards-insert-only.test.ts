import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';
import { attempt, restrict } from './guard-case.ts';
import { insertOnlyTables, livingTables } from './insert-only-tables.ts';
import { id, ids, insert, observationRow, sql } from './rows.ts';
import { stock } from './stock.ts';

let database: TestDatabase;

beforeAll(async () => {
  database = await createTestDatabase();
  await stock(database.owner);
});

afterAll(() => database.drop());

describe.each(insertOnlyTables)('%s', (table) => {
  const refused = { sqlState: restrict, constraint: `${table}_insert_only` };

  it('is never changed, not even to the same value', async () => {
    const columns = await columnsOf(table);
    for (const column of columns) {
      const change = [sql(`UPDATE ${table} SET ${column} = ${column}`)];
      expect(await attempt(database.owner, change), column).toEqual(refused);
    }
    const first = [sql(`UPDATE ${table} SET ${columns[0]} = ${columns[0]}`)];
    expect(await attempt(database.owner, first, [`${table}_insert_only`])).toBeUndefined();
  });

  it('is never changed by an insert that finds its row there already', async () => {
    const [column] = await columnsOf(table);
    const key = await keyOf(table);
    const again = sql(
      `INSERT INTO ${table} OVERRIDING SYSTEM VALUE SELECT * FROM ${table} LIMIT 1
       ON CONFLICT (${key}) DO UPDATE SET ${column} = excluded.${column}`,
    );
    // The state of a quote refuses a repeated answer before the conflict is seen.
    const others = (await beforeInsertTriggersOf(table)).filter(
      (name) => name !== refused.constraint,
    );
    expect(await attempt(database.owner, [again], others)).toEqual(refused);
  });

  it('is never deleted from', async () => {
    const deletion = [sql(`DELETE FROM ${table}`)];
    expect(await attempt(database.owner, deletion)).toEqual(refused);
  });

  it('is never emptied', async () => {
    expect(await attempt(database.owner, [sql(`TRUNCATE ${table} CASCADE`)])).toEqual({
      sqlState: restrict,
      constraint: `${table}_never_emptied`,
    });
  });
});

describe('what was recorded is not reached through what it hangs on', () => {
  it('not by emptying a table that others point to', async () => {
    for (const table of ['customer', 'staff', 'site', 'ticket', 'visit', 'equipment']) {
      const emptied = await attempt(database.owner, [sql(`TRUNCATE ${table} CASCADE`)]);
      expect(emptied?.sqlState, table).toBe(restrict);
    }
  });

  it('not by a change of key that cascades', async () => {
    const moved = [sql('UPDATE visit SET id = $2 WHERE id = $1', [ids.visit, id(48)])];
    expect((await attempt(database.owner, moved))?.sqlState).toBe(restrict);
  });

  it('not by deleting the equipment an observation was made at', async () => {
    const machine = insert('equipment', {
      id: id(15),
      system_id: ids.system,
      kind: 'air_handler',
      created_at: '2026-07-15T18:00:00Z',
    });
    const deletion = sql('DELETE FROM equipment WHERE id = $1', [id(15)]);
    const observed = observationRow({ equipment_id: id(15) });
    expect(await attempt(database.owner, [machine, deletion])).toBeUndefined();
    expect(await attempt(database.owner, [machine, observed, deletion])).toEqual({
      sqlState: restrict,
      constraint: 'observation_insert_only',
    });
  });
});

describe.each(livingTables)('%s', (table) => {
  it('changes along its life and is never emptied', async () => {
    const emptied = [sql(`TRUNCATE ${table} CASCADE`)];
    const refused = `${table}_never_emptied`;
    const answer = { sqlState: restrict, constraint: refused };
    expect(await attempt(database.owner, emptied)).toEqual(answer);
    const others = livingOn(table).map((name) => `${name}_never_emptied`);
    expect(await attempt(database.owner, emptied, [refused, ...others])).toBeUndefined();
  });
});

/** What would be emptied with a table, because it points to it. */
function livingOn(table: (typeof livingTables)[number]): string[] {
  if (table === 'phone_check') return ['phone_answer'];
  if (table === 'staff_second_factor') return ['staff_recovery_code'];
  return table === 'quote_link'
    ? [
        'quote_acceptance',
        'quote_decline',
        'quote_decline_note',
        'acceptance_cancellation',
        ...livingOnAYes,
        'paper',
        'paper_file',
        'delivery',
        'delivery_state',
      ]
    : [];
}

const livingOnAYes: string[] = [
  'work_outcome',
  'part_use',
  'part_left_over',
  'work_strike',
  'warranty_claim',
  'warranty_claim_state',
  'warranty_claim_step',
  'invoice_document',
  'invoice_line',
];

async function columnsOf(table: string): Promise<string[]> {
  const columns = await database.owner.query<{ name: string }>(
    `SELECT attname AS name FROM pg_attribute
     WHERE attrelid = $1::regclass AND attnum > 0 AND NOT attisdropped ORDER BY attnum`,
    [table],
  );
  return columns.rows.map(({ name }) => name);
}

async function keyOf(table: string): Promise<string> {
  const key = await database.owner.query<{ columns: string }>(
    `SELECT string_agg(a.attname, ', ') AS columns
     FROM pg_index i JOIN pg_attribute a ON a.attrelid = i.indrelid AND a.attnum = ANY (i.indkey)
     WHERE i.indrelid = $1::regclass AND i.indisprimary`,
    [table],
  );
  return key.rows[0]?.columns ?? '';
}

// tgtype: 1 for each row, 2 before, 4 insert.
async function beforeInsertTriggersOf(table: string): Promise<string[]> {
  const triggers = await database.owner.query<{ name: string }>(
    `SELECT tgname AS name FROM pg_trigger
     WHERE tgrelid = $1::regclass AND NOT tgisinternal AND tgtype & 7 = 7`,
    [table],
  );
  return triggers.rows.map(({ name }) => name);
}
