import pg from 'pg';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import {
  type Database,
  type DatabaseOptions,
  openDatabase,
} from '../../../src/platform/database/database.ts';
import { createEmptyDatabase } from '../../harness/test-database.ts';

let database: { url: string; drop(): Promise<void> };
let admin: pg.Client;

beforeEach(async () => {
  database = await createEmptyDatabase();
  admin = new pg.Client({ connectionString: database.url });
  await admin.connect();
});

afterEach(async () => {
  await admin.end();
  await database.drop();
});

describe('a session of the application', () => {
  it('runs in UTC, takes its role and bounds every wait, whatever the database’s defaults are', async () => {
    await admin.query(`ALTER DATABASE ${nameOf(database.url)} SET timezone = 'Asia/Kolkata'`);
    await admin.query(`ALTER DATABASE ${nameOf(database.url)} SET statement_timeout = 0`);
    await admin.query(
      `ALTER DATABASE ${nameOf(database.url)} SET default_transaction_isolation = 'serializable'`,
    );
    expect(await settingsOf({ url: database.url, role: 'evenhand_app' })).toEqual({
      zone: 'UTC',
      role: 'evenhand_app',
      statement: '5s',
      lock: '2s',
      idle: '10s',
      isolation: 'read committed',
    });
  });

  it('keeps options of the connection string, but not against its own', async () => {
    const url = withOptions('-c timezone=America/New_York -c role=none -c work_mem=5MB');
    const settings = await settingsOf({ url, role: 'evenhand_app' });
    expect(settings).toMatchObject({ zone: 'UTC', role: 'evenhand_app', statement: '5s' });
    await withDatabase({ url }, async ({ pool }) => {
      expect((await pool.query('SHOW work_mem')).rows).toEqual([{ work_mem: '5MB' }]);
    });
  });

  it('is refused in any other zone than UTC', async () => {
    await atEveryLogin(`set_config('timezone', 'America/New_York', false)`);
    await expect(openDatabase({ url: database.url, poolMax: 2 })).rejects.toThrow(
      'The database session runs in America/New_York, not in UTC.',
    );
  });

  it('is refused without the role it should take', async () => {
    await atEveryLogin(`set_config('role', 'evenhand_read', false)`);
    await expect(
      openDatabase({ url: database.url, poolMax: 2, role: 'evenhand_app' }),
    ).rejects.toThrow('The database session acts as evenhand_read, not as evenhand_app.');
  });

  it('that was refused leaves no connection behind', async () => {
    await atEveryLogin(`set_config('timezone', 'America/New_York', false)`);
    const url = new URL(database.url);
    url.searchParams.set('application_name', 'refused');
    await expect(openDatabase({ url: url.toString(), poolMax: 2 })).rejects.toThrow('UTC');
    // The server notices the end of a connection a moment after the client has let go of it.
    await expect
      .poll(async () => {
        const left = await admin.query(
          `SELECT 1 FROM pg_stat_activity WHERE application_name = 'refused'`,
        );
        return left.rowCount;
      })
      .toBe(0);
  });

  it('is refused where there is no server', async () => {
    const url = new URL(database.url);
    url.port = '1';
    await expect(openDatabase({ url: url.toString(), poolMax: 2 })).rejects.toThrow('ECONNREFUSED');
  });
});

describe('a connection that breaks while it is idle', () => {
  it('is told, and the next statement gets another one', async () => {
    const told: Error[] = [];
    const onPoolError = (error: Error) => told.push(error);
    await withDatabase({ url: database.url, onPoolError }, async ({ pool }) => {
      const process = await pool.query<{ pid: number }>('SELECT pg_backend_pid() AS pid');
      await admin.query('SELECT pg_terminate_backend($1)', [process.rows[0]?.pid]);
      await expect.poll(() => told.length).toBe(1);
      expect((await pool.query('SELECT 1 AS one')).rows).toEqual([{ one: 1 }]);
    });
  });
});

async function settingsOf(options: Omit<DatabaseOptions, 'poolMax'>): Promise<unknown> {
  return withDatabase(options, async ({ pool }) => {
    const settings = await pool.query(
      `SELECT current_setting('timezone') AS zone, current_user AS role,
         current_setting('statement_timeout') AS statement, current_setting('lock_timeout') AS lock,
         current_setting('idle_in_transaction_session_timeout') AS idle,
         current_setting('transaction_isolation') AS isolation`,
    );
    return settings.rows[0];
  });
}

async function withDatabase<T>(
  options: Omit<DatabaseOptions, 'poolMax'>,
  use: (database: Database) => Promise<T>,
): Promise<T> {
  const opened = await openDatabase({ poolMax: 2, ...options });
  try {
    return await use(opened);
  } finally {
    await opened.close();
  }
}

/** What an administrator, or a pooler in between, can do to a session behind our back. */
async function atEveryLogin(expression: string): Promise<void> {
  await admin.query(
    `CREATE FUNCTION meddle() RETURNS event_trigger LANGUAGE plpgsql AS
     $$ BEGIN PERFORM ${expression}; END $$;
     CREATE EVENT TRIGGER meddle ON login EXECUTE FUNCTION meddle()`,
  );
}

function withOptions(options: string): string {
  const url = new URL(database.url);
  url.searchParams.set('options', options);
  return url.toString();
}

function nameOf(url: string): string {
  return new URL(url).pathname.slice(1);
}
