import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type AuditFlagState, auditFlagLifecycle } from '../../src/lifecycles/index.ts';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';
import { audit, flagIs } from './audit-rows.ts';
import { check, type Refusal, refusalOf } from './guard-case.ts';
import { stock } from './stock.ts';

const states = ['open', 'accepted', 'dismissed', 'gone'] as const;

let database: TestDatabase;

beforeAll(async () => {
  database = await createTestDatabase();
  await stock(database.owner);
});
afterAll(() => database.drop());

describe('the table of a flag’s life in the database is the program’s', () => {
  it('knows the same states', () => {
    expect(Object.keys(auditFlagLifecycle.moves)).toEqual(states);
  });

  const steps = states.flatMap((from) => states.map((to) => ({ from, to })));

  it.each(steps)('$from to $to is answered alike', async ({ from, to }) => {
    const allowed = Object.values(auditFlagLifecycle.moves[from]).includes(to);
    const refused = { sqlState: check, constraint: 'audit_flag_state_moves_on' };
    expect(await takeStep(from, to)).toEqual(allowed ? undefined : refused);
  });
});

/** How a step is answered at once. Whether the flag's answer fits it is looked at by commit. */
async function takeStep(from: AuditFlagState, to: AuditFlagState): Promise<Refusal | undefined> {
  const client = await database.owner.connect();
  try {
    await client.query('BEGIN');
    await client.query("SET LOCAL session_replication_role = 'replica'");
    const set = 'UPDATE audit_flag_state SET state = $2, version = 1 WHERE flag_id = $1';
    await client.query(set, [audit.open, from]);
    await client.query("SET LOCAL session_replication_role = 'origin'");
    const { text, values } = flagIs(audit.open, to, 2);
    await client.query(text, values);
    return undefined;
  } catch (error) {
    return refusalOf(error);
  } finally {
    await client.query('ROLLBACK');
    client.release();
  }
}
