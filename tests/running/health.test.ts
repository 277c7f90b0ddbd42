import pg from 'pg';
import { pino } from 'pino';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { startSealer } from '../../src/journal/index.ts';
import { readConfig } from '../../src/platform/config.ts';
import { migrationNames } from '../../src/platform/database/migrate.ts';
import { openWatch } from '../../src/platform/database/open-watch.ts';
import { createServer } from '../../src/platform/http/create-server.ts';
import { healthRoutes } from '../../src/platform/http/health.ts';
import { createReadiness } from '../../src/platform/readiness.ts';
import { type Running, start } from '../../src/start.ts';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';
import { temporaryFolder, type Undo, undoAll, until } from './temporary.ts';

const log = pino({ level: 'silent' });
let database: TestDatabase;
beforeAll(async () => {
  database = await createTestDatabase();
});
afterAll(() => database.drop());

const undo: Undo = [];
afterEach(() => undoAll(undo));

/** A busy machine may take its time. */
const withinMs = 30_000;

/** What the two addresses answer. */
async function ask(whyNotReady: () => Promise<string | undefined>) {
  const app = createServer({ log, typeBase: '' });
  healthRoutes(app, whyNotReady);
  undo.push(() => app.close());
  const [health, ready] = await Promise.all([app.inject('/healthz'), app.inject('/readyz')]);
  return { health: health.statusCode, ready: ready.statusCode, body: ready.json() };
}

describe('a process is ready', () => {
  it('when the database answers and has every migration, of this release and of the next', async () => {
    const ready = createReadiness({ sql: database.owner, withinMs });
    expect(await ask(ready)).toEqual({ health: 200, ready: 200, body: { status: 'ready' } });
    const older = (await migrationNames()).slice(0, -1);
    const before = createReadiness({ sql: database.owner, withinMs, expected: async () => older });
    expect(await before()).toBeUndefined();
  });

  it('also while every connection that works is taken', async () => {
    const config = readConfig({
      ...{ DATABASE_URL: database.url, DATABASE_POOL_MAX: '1', PORT: '0' },
      EVENHAND_DATA_DIR: await temporaryFolder(undo),
    });
    const running = await start(config, log);
    undo.push(running.stop);
    await holdAll(running);
    await until(async () => (await fetch(`${running.url}/readyz`)).ok);
    expect(running.db.pool.idleCount).toBe(0);
  }, 120_000);
});

describe('a process lives and is not ready', () => {
  it('when the database does not answer', async () => {
    // The address is for documentation alone (RFC 5737): nothing answers there.
    const watch = openWatch({ url: 'postgres://app@192.0.2.1/evenhand', role: 'evenhand_app' });
    undo.push(() => watch.end());
    const answer = await ask(createReadiness({ sql: watch, withinMs: 50 }));
    expect([answer.health, answer.ready]).toEqual([200, 503]);
    expect(answer.body).toMatchObject({
      code: 'unavailable',
      detail: 'The database cannot be reached.',
    });
  });

  it('when a migration is missing', async () => {
    const expected = async () => [...(await migrationNames()), '29991231000000_to_come'];
    const answer = await ask(createReadiness({ sql: database.owner, withinMs, expected }));
    expect([answer.health, answer.ready]).toEqual([200, 503]);
    expect(answer.body.detail).toBe('The database has another schema.');
  });

  it('when the sealer hangs, and again ready when it goes on', async () => {
    let nowMs = 0;
    const hanging = new pg.Pool();
    let goOn = () => {};
    const stuck = new Promise<void>((resolve) => {
      goOn = resolve;
    });
    hanging.connect = async () => {
      await stuck;
      return database.owner.connect();
    };
    const sealer = startSealer(hanging, 1, log, () => nowMs);
    const ready = createReadiness({
      ...{ sql: database.owner, withinMs },
      sealerQuietMs: sealer.quietMs,
    });
    expect(await ready()).toBeUndefined();
    nowMs = 3_600_000;
    expect(await ready()).toBe('The journal is not being sealed.');
    goOn();
    // Whoever stops it waits for the turn that was stuck.
    await sealer.stop();
    expect(await ready()).toBeUndefined();
    await hanging.end();
  });
});

it('however often it is asked meanwhile, a database that hangs is asked once', async () => {
  let asked = 0;
  let answer = (_: { rows: { migration_name: string }[] }) => {};
  const sql = {
    query: () => {
      asked += 1;
      return new Promise<{ rows: { migration_name: string }[] }>((resolve) => {
        answer = resolve;
      });
    },
  };
  const ready = createReadiness({ sql, expected: async () => [], withinMs: 1 });
  const answers = await Promise.all([ready(), ready(), ready()]);
  expect(answers).toEqual(Array(3).fill('The database cannot be reached.'));
  expect(asked).toBe(1);
  answer({ rows: [] });
});

/** Takes every connection that works, until the test is over. */
async function holdAll({ db }: Running): Promise<void> {
  const holder = await db.pool.connect();
  undo.push(async () => holder.release());
}
