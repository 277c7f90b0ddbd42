import { setTimeout as wait } from 'node:timers/promises';
import type pg from 'pg';
import { pino } from 'pino';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import type { StaffKey } from '../../seed/company.ts';
import { type LoadedStaff, loadCompany } from '../../seed/load-company.ts';
import { systemClock } from '../../src/platform/clock.ts';
import { readConfig } from '../../src/platform/config.ts';
import { createServer } from '../../src/platform/http/create-server.ts';
import { healthRoutes } from '../../src/platform/http/health.ts';
import { isBehind, refuseWhenBehind } from '../../src/platform/http/refuse-when-behind.ts';
import { timedIds } from '../../src/platform/ids.ts';
import { measureLoop } from '../../src/platform/measure-loop.ts';
import { type Running, start } from '../../src/start.ts';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';
import { temporaryFolder, type Undo, undoAll, until } from './temporary.ts';

const log = pino({ level: 'silent' });
const whole: Undo = [];
const undo: Undo = [];
let database: TestDatabase;
let running: Running;
let staff: Record<StaffKey, LoadedStaff>;
beforeAll(async () => {
  database = await createTestDatabase();
  whole.push(database.drop);
  const config = readConfig({
    ...{ DATABASE_URL: database.url, PORT: '0', METRICS_PORT: '0' },
    ...{ DATABASE_POOL_MAX: '3', DATABASE_WAITING_MAX: '4' },
    // A busy machine must not decide this test.
    EVENT_LOOP_DELAY_MAX_MS: '60000',
    EVENHAND_DATA_DIR: await temporaryFolder(whole),
  });
  running = await start(config, log);
  whole.push(running.stop);
  staff = await loadCompany({ db: running.db, clock: systemClock, ids: timedIds(systemClock) });
}, 120_000);
afterEach(() => undoAll(undo));
afterAll(() => undoAll(whole));

/** Adds a customer; the key makes the same act of it when it is sent again. */
function add(name: string, key: string): Promise<Response> {
  return fetch(`${running.url}/v1/customers`, {
    method: 'POST',
    headers: {
      authorization: `Bearer ${staff.dispatcher.token}`,
      'content-type': 'application/json',
      'idempotency-key': key,
    },
    body: JSON.stringify({ name, phone: '555-0140' }),
  });
}

async function countOf(name: string): Promise<number> {
  const { rows } = await database.owner.query<{ count: number }>(
    'SELECT count(*)::int AS count FROM customer WHERE name = $1',
    [name],
  );
  return rows[0]?.count ?? 0;
}

/** Takes every connection, and gives them back when told. */
async function takeAll(pool: pg.Pool): Promise<() => void> {
  const taken = await Promise.all([pool.connect(), pool.connect(), pool.connect()]);
  let isBack = false;
  const giveBack = () => {
    if (!isBack) for (const client of taken) client.release();
    isBack = true;
  };
  undo.push(async () => giveBack());
  return giveBack;
}

describe('a service with too much to do', () => {
  it('refuses the next request before it begins, and the same one does its work later, once', async () => {
    const { pool } = running.db;
    // However slow the machine is, nobody of the crowd gives up.
    pool.options.connectionTimeoutMillis = 0;
    const giveBack = await takeAll(pool);
    const crowd = Array.from({ length: 4 }, async () => (await pool.connect()).release());
    expect(pool.waitingCount).toBeGreaterThanOrEqual(4);
    const key = crypto.randomUUID();
    const refused = await add('Ismene Valcourt', key);
    expect([refused.status, refused.headers.get('retry-after')]).toEqual([503, '2']);
    expect(refused.headers.get('content-type')).toContain('application/problem+json');
    expect(await refused.json()).toMatchObject({
      code: 'unavailable',
      detail: 'Too many requests are waiting. Nothing was begun; send the same again in a moment.',
    });
    for (const address of ['/healthz', '/readyz']) {
      await until(async () => (await fetch(`${running.url}${address}`)).ok);
    }
    const figures = await (await fetch(running.metricsUrl ?? '')).text();
    expect(figures).toMatch(/^evenhand_database_requests_waiting [4-9]$/m);
    expect(figures).toMatch(/route="\/v1\/customers",status="503"\} 1$/m);
    expect(await countOf('Ismene Valcourt')).toBe(0);

    giveBack();
    await Promise.all(crowd);
    await until(() => pool.waitingCount === 0);
    const [first, again] = [await add('Ismene Valcourt', key), await add('Ismene Valcourt', key)];
    expect([first.status, again.status]).toEqual([201, 201]);
    expect([first, again].map(({ headers }) => headers.get('idempotency-replayed'))).toEqual([
      null,
      'true',
    ]);
    expect(await countOf('Ismene Valcourt')).toBe(1);
  });

  it('is behind from its limits on, by what waits for the database or by the event loop', () => {
    const limits = { poolWaitingMax: 4, loopDelayMsMax: 250 };
    const behind = (poolWaiting: number, loopDelayMs: number) =>
      isBehind({ poolWaiting: () => poolWaiting, loopDelayMs: () => loopDelayMs }, limits);
    expect([behind(0, 0), behind(3, 249), behind(4, 0), behind(0, 250)]).toEqual([
      ...[false, false, true, true],
    ]);
  });

  it('whose event loop hangs refuses all but the question how it is', async () => {
    const app = createServer({ log, typeBase: '' });
    undo.push(() => app.close());
    const pace = { poolWaiting: () => 0, loopDelayMs: () => 5_000 };
    refuseWhenBehind(app, pace, { poolWaitingMax: 1, loopDelayMsMax: 1_000 });
    healthRoutes(app, async () => undefined);
    app.get('/work', async () => 'done');
    const answers = await Promise.all(
      ['/healthz', '/readyz', '/work', '/nowhere'].map((address) => app.inject(address)),
    );
    expect(answers.map(({ statusCode }) => statusCode)).toEqual([200, 200, 503, 503]);
  });
});

describe('the watch over the event loop', () => {
  it('sees for how long other work keeps it busy again and again', async () => {
    const loop = measureLoop(20);
    undo.push(async () => loop.stop());
    for (let piece = 0; piece < 3; piece += 1) {
      const began = performance.now();
      // Nothing else runs meanwhile, however fast or slow the machine is.
      while (performance.now() - began < 200);
      await wait(0);
    }
    expect(loop.delayMs()).toBeGreaterThan(150);
  });

  it('takes one or two long pieces of work for no crowd, and forgets one at its first prompt look', () => {
    vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] });
    undo.push(async () => vi.useRealTimers());
    let nowMs = 0;
    const loop = measureLoop(100, () => nowMs);
    const look = (lateMs: number) => {
      nowMs += 100 + lateMs;
      vi.advanceTimersByTime(100);
      return loop.delayMs();
    };
    expect([look(900), look(800), look(700), look(600), look(0), look(900)]).toEqual([
      ...[0, 0, 700, 600, 0, 0],
    ]);
    loop.stop();
  });
});
