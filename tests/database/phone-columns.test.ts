import { afterAll, beforeAll, expect, it } from 'vitest';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';
import { personalPhoneColumns, plainPhoneColumns } from './phone-columns.ts';

let database: TestDatabase;
beforeAll(async () => {
  database = await createTestDatabase();
});
afterAll(() => database.drop());

it('every column of the phone tables but ids and times is personal or not, by the list', async () => {
  expect(await columnsOf(database)).toEqual([...personalPhoneColumns, ...plainPhoneColumns].sort());
});

it('a column that nobody put on the list is noticed', async () => {
  await database.owner.query('ALTER TABLE phone_answer ADD COLUMN said_by text');
  const listed: readonly string[] = [...personalPhoneColumns, ...plainPhoneColumns];
  const found = await columnsOf(database);
  expect(found.filter((column) => !listed.includes(column))).toEqual(['phone_answer.said_by']);
});

/** Whatever is no identifier and no instant may hold words or figures. */
async function columnsOf({ owner }: TestDatabase): Promise<string[]> {
  const { rows } = await owner.query<{ name: string }>(`
    SELECT table_name || '.' || column_name AS name FROM information_schema.columns
    WHERE table_schema = 'public' AND (table_name LIKE 'phone\\_%' OR table_name = 'call_back')
      AND data_type NOT IN ('uuid', 'timestamp with time zone')`);
  return rows.map(({ name }) => name).sort();
}
