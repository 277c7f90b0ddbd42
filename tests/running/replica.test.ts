import { readFile } from 'node:fs/promises';
import type pg from 'pg';
import { pino } from 'pino';
import { afterAll, afterEach, beforeAll, describe, expect, inject, it } from 'vitest';
import { type ApiClient, apiClient } from '../../seed/demo/api-client.ts';
import { openTheDepot } from '../../seed/demo/depot.ts';
import { stories } from '../../seed/demo/stories.ts';
import { loadCompany } from '../../seed/load-company.ts';
import { routes } from '../../src/app.ts';
import { exportCompany } from '../../src/company-file/index.ts';
import { systemClock } from '../../src/platform/clock.ts';
import { type Database, inSnapshot, openDatabase } from '../../src/platform/database/database.ts';
import { type EmbeddedServer, startEmbedded } from '../../src/platform/database/embedded/index.ts';
import { migrate } from '../../src/platform/database/migrate.ts';
import { openWatch } from '../../src/platform/database/open-watch.ts';
import { notFound } from '../../src/platform/http/problem.ts';
import { timedIds } from '../../src/platform/ids.ts';
import { catchUp, NotUsable } from '../../src/platform/reports/catch-up.ts';
import { openReports, type Reports } from '../../src/platform/reports/open-reports.ts';
import { runOnServer } from '../harness/find-server.ts';
import { withDatabase } from '../harness/with-database.ts';
import { type Follower, startFollower } from './follower.ts';
import { openBooks, poolFor } from './load-office.ts';
import { postmasterOf } from './postmaster-of.ts';
import { figure, type ServiceProcess, startProcess } from './process.ts';
import { temporaryFolder, type Undo, undoAll, until } from './temporary.ts';

const whole: Undo = [];
const undo: Undo = [];
let mainDataDir: string;
let main: EmbeddedServer;
let follower: Follower;
let ownerToken: string;
let service: ServiceProcess;
let owner: ApiClient;
/** A draft of a price book: each change of it is told by its preview, which is a report. */
let draft: { id: string; tag: string; version: number };

beforeAll(async () => {
  mainDataDir = await temporaryFolder(whole);
  main = await startEmbedded({ dataDir: mainDataDir });
  whole.push(main.stop);
  await migrate(main.superuserUrl);
  const db = await openDatabase({ url: main.superuserUrl, poolMax: 2 });
  const staff = await loadCompany({ db, clock: systemClock, ids: timedIds(systemClock) });
  await db.close();
  ownerToken = staff.owner.token;
  follower = await startFollower(whole, { dataDir: mainDataDir, server: main });
  service = await startService(whole, follower.url);
  owner = apiClient(service.url, ownerToken);
  await openBooks(service.url, ownerToken);
  const { body, tag } = await owner.post('/v1/price-book-drafts', {
    note: 'First',
    from: 'in_force',
  });
  draft = { id: body.id, tag, version: body.version };
  // A whole job, so that reports have something to tell.
  await openTheDepot(owner, staff);
  await stories[FAILED_CAPACITOR]?.({
    dispatcher: apiClient(service.url, staff.dispatcher.token),
    technician: apiClient(service.url, staff.technician.token),
    technicianId: staff.technician.id,
    say: () => undefined,
  });
  await untilQuiet();
}, 300_000);
afterEach(() => undoAll(undo));
afterAll(() => undoAll(whole));

const FAILED_CAPACITOR = 3;

async function startService(into: Undo, replicaUrl: string): Promise<ServiceProcess> {
  return startProcess(into, {
    DATABASE_URL: main.superuserUrl,
    DATABASE_REPLICA_URL: replicaUrl,
    EVENHAND_DATA_DIR: await temporaryFolder(into),
  });
}

/** Waits until nothing is left to be done beside the requests. */
async function untilQuiet(): Promise<void> {
  for (const name of ['evenhand_journal_unsealed_entries', 'evenhand_audit_unread_entries']) {
    await until(async () => (await figure(service.metricsUrl, name)) === 0);
  }
}

/** How many reports a service read there by now. */
async function readFrom(from: 'replica' | 'main', { metricsUrl } = service): Promise<number> {
  const count = await figure(metricsUrl, `evenhand_reports_read_total\\{from="${from}"\\}`);
  return count ?? Number.NaN;
}

/** Changes something and asks for a report at once; fails unless the report has the change. */
async function changeAndRead(): Promise<void> {
  const change = { note: `Version ${draft.version + 1}` };
  const { body, tag } = await owner.patch(`/v1/price-book-drafts/${draft.id}`, change, draft.tag);
  draft = { ...draft, tag, version: body.version };
  const preview = await owner.get(`/v1/price-book-drafts/${draft.id}/preview`);
  expect(preview.body.draftVersion).toBe(draft.version);
}

/** Does so until one more report was read there. A machine with much to do may take a few. */
async function untilReadFrom(from: 'replica' | 'main', read = changeAndRead): Promise<void> {
  const before = await readFrom(from);
  await until(async () => {
    await read();
    return (await readFrom(from)) > before;
  });
}

/** Why reports were not read from the replica, each time that was told; "used" when they were again. */
function told({ lines } = service): string[] {
  return lines.flatMap(({ msg, reason }) => {
    if (msg === 'reports are read from the replica') return ['used'];
    return msg === 'reports are read from the main database' ? [String(reason)] : [];
  });
}

/** A report of every kind there is, by its operation: one that is not asked for here fails the test. */
const REPORTS: Record<string, () => string> = {
  getAudit: () => '/v1/audit',
  getAuditReport: () => `/v1/audit/report?${PERIOD}`,
  getAuditReportTable: () => `/v1/audit/report/csv?${PERIOD}`,
  getAuditReportPaper: () => `/v1/audit/report/pdf?${PERIOD}`,
  getAuditPlot: () => `/v1/audit/plots/prices-by-work?${PERIOD}`,
  getReceivables: () => '/v1/receivables',
  getTakings: () => '/v1/takings',
  getBookkeepingEntries: () => '/v1/bookkeeping/entries.csv',
  previewPriceBookDraft: () => `/v1/price-book-drafts/${draft.id}/preview`,
  getReorderList: () => '/v1/reorder-list',
  getReorderTable: () => '/v1/reorder-list/csv',
  listCostChanges: () => '/v1/cost-changes',
};
const PERIOD = 'from=2026-01-01&to=2026-12-31';

describe('a service with a replica', () => {
  it('knows which of its routes are reports', () => {
    const reports = routes.filter((route) => 'isReport' in route && route.isReport);
    expect(reports.map(({ operationId }) => operationId).sort()).toEqual(
      Object.keys(REPORTS).sort(),
    );
  });

  it.each(Object.entries(REPORTS))('reads %s from there', async (_, address) => {
    const headers = { authorization: `Bearer ${ownerToken}` };
    await untilReadFrom('replica', async () => {
      expect((await fetch(`${service.url}${address()}`, { headers })).status).toBe(200);
    });
    expect(service.lines.map(({ msg }) => msg)).not.toContain(
      'the replica gave up a report; the main database is asked for it',
    );
  });

  it('reads nothing else from there', async () => {
    const before = [await readFrom('replica'), await readFrom('main')];
    await owner.get('/v1/company');
    await owner.get(`/v1/price-book-drafts/${draft.id}`);
    await owner.post('/v1/customers', { name: 'Perpetua Ledgerwood', phone: '555-0171' });
    expect([await readFrom('replica'), await readFrom('main')]).toEqual(before);
  });

  it('waits until the replica has what was changed a moment ago, also where commits wait for no disk', async () => {
    const [onMain, onFollower] = [poolFor(main.superuserUrl, undo), poolFor(follower.url, undo)];
    // Each commit comes to the replica at once and can be seen there later; what writes it out on the
    // main server sleeps for long.
    await set(onFollower, `recovery_min_apply_delay = '300ms'`);
    await set(onMain, `synchronous_commit = off`);
    await set(onMain, `wal_writer_delay = '10s'`);
    undo.push(async () => {
      await reset(onFollower);
      await reset(onMain);
    });
    for (let times = 0; times < 5; times += 1) await untilReadFrom('replica');
  }, 120_000);

  it('reads from the main database while the replica is behind, and says so once', async () => {
    await untilReadFrom('replica');
    const resume = await pauseReplay();
    const before = await readFrom('main');
    for (let times = 0; times < 5; times += 1) await changeAndRead();
    expect((await readFrom('main')) - before).toBe(5);
    await until(async () => {
      await changeAndRead();
      return told().at(-1) === 'the replica is too far behind';
    });
    await resume();
    await untilReadFrom('replica');
    expect(told().at(-1)).toBe('used');
  }, 120_000);

  it('goes on while the replica is killed, hangs and is back', async () => {
    await untilReadFrom('replica');
    const lost = follower.server();
    process.kill(await postmasterOf(lost), 'SIGKILL');
    await lost.unexpectedEnd;
    follower.line.cut();
    const before = await readFrom('main');
    for (let times = 0; times < 5; times += 1) await changeAndRead();
    expect((await readFrom('main')) - before).toBe(5);
    expect((await fetch(`${service.url}/readyz`)).status).toBe(200);
    await follower.startAgain();
    await untilReadFrom('replica');

    swallow();
    await untilReadFrom('main');
    expect((await fetch(`${service.url}/readyz`)).status).toBe(200);
    letThrough();
    await untilReadFrom('replica');
    expect(service.exitCode()).toBeUndefined();
  }, 240_000);

  it('tells once for each time that the replica was away', () => {
    const all = told();
    expect(all.filter((reason, at) => reason === all[at - 1])).toEqual([]);
  });
});

describe('a server that cannot be read from', () => {
  it('is told at the start and not used, and keeps nobody from anything', async () => {
    const other = await startService(undo, main.superuserUrl);
    // It is told without anybody's asking; on a machine with much to do the first look may come to
    // nothing, and the next is at a report.
    await until(() => told(other).length > 0);
    const client = apiClient(other.url, ownerToken);
    await until(async () => {
      await client.get('/v1/takings');
      return told(other).at(-1) === 'the server given as its replica is none';
    });
    expect(await readFrom('replica', other)).toBe(0);
    expect(await readFrom('main', other)).toBeGreaterThan(0);
    expect((await fetch(`${other.url}/readyz`)).status).toBe(200);
    other.terminate();
    expect(await other.ended).toBe(0);
  }, 120_000);

  it('is used as soon as it can be, also when it was away at the start', async () => {
    swallow();
    const other = await startService(undo, follower.url);
    const client = apiClient(other.url, ownerToken);
    await until(async () => {
      await client.get('/v1/takings');
      return told(other).at(-1) === 'the replica cannot be reached: it does not answer';
    });
    expect(await readFrom('replica', other)).toBe(0);
    letThrough();
    await until(async () => {
      await client.get('/v1/takings');
      return (await readFrom('replica', other)) > 0;
    });
    expect(told(other).at(-1)).toBe('used');

    // And its end waits for nobody who is away.
    swallow();
    const asked = client.get('/v1/takings');
    other.terminate();
    await asked;
    expect(await other.ended).toBe(0);
  }, 180_000);
});

/** From now on nothing comes from the replica, and nobody is told. */
function swallow(): void {
  follower.line.swallow(true);
  undo.push(async () => letThrough());
}

function letThrough(): void {
  follower.line.swallow(false);
  follower.line.cut();
}

describe('a report', () => {
  const lines: string[] = [];
  const log = pino({}, { write: (line) => lines.push(JSON.parse(line).msg) });
  const role = 'evenhand_app';

  async function openBoth(): Promise<{ db: Database; reports: Reports; counted: string[] }> {
    const db = await openDatabase({ url: main.superuserUrl, poolMax: 2, role });
    undo.push(db.close);
    const watch = openWatch({ url: main.superuserUrl, role });
    undo.push(() => watch.end());
    const counted: string[] = [];
    const replica = { url: follower.url, role, answerMsMax: 60_000 };
    const onRead = (from: string) => counted.push(from);
    const reports = openReports({ main: db, watch, replica, log, onRead });
    undo.push(reports.close);
    return { db, reports, counted };
  }

  it('that the replica cancels, because what it reads is cleared away, is read from the main database', async () => {
    const [onMain, onFollower] = [poolFor(main.superuserUrl, undo), poolFor(follower.url, undo)];
    await set(onFollower, 'max_standby_streaming_delay = 0');
    undo.push(() => reset(onFollower));
    const { db, reports, counted } = await openBoth();
    await onMain.query('CREATE TABLE cleared (id int)');
    undo.push(() => onMain.query('DROP TABLE cleared'));
    const clearAway = async () => {
      await onMain.query('INSERT INTO cleared VALUES (1)');
      await onMain.query('DELETE FROM cleared');
      await onMain.query('VACUUM cleared');
      await until(() => isFollowed(onMain, onFollower));
    };
    const count = () =>
      reports.read((source) =>
        inSnapshot(source.prisma, async (tx) => {
          // At the replica it goes on until that has had enough.
          while (source !== db && (await tx.staff.count()) > 0) await clearAway();
          return tx.staff.count();
        }),
      );
    await until(async () => {
      expect(await count()).toBeGreaterThan(0);
      return counted.includes('replica');
    });
    expect(counted.slice(-2)).toEqual(['replica', 'main']);
    expect(lines).toContain('the replica gave up a report; the main database is asked for it');
  }, 120_000);

  it('that is refused is not asked for again', async () => {
    const { reports, counted } = await openBoth();
    const refuse = () => Promise.reject(notFound('report'));
    await until(async () => {
      await expect(reports.read(refuse)).rejects.toThrow('There is no such report.');
      return counted.includes('replica');
    });
    expect(counted.at(-1)).toBe('replica');
  });

  const watch = (url: string, as = role) => {
    const pool = openWatch({ url, role: as });
    undo.push(() => pool.end());
    return pool;
  };

  it('is not read from a replica that lacks the last change, until that has it', async () => {
    const pair = { main: watch(main.superuserUrl), replica: watch(follower.url), role };
    const resume = await pauseReplay();
    await expect(catchUp(pair, 0)).rejects.toThrow(new NotUsable('the replica is too far behind'));
    await resume();
    await catchUp(pair, 60_000);
  });

  it.each([
    ['that takes changes itself', 'the server given as its replica is none'],
    ['that is away', 'the replica cannot be reached: nothing listens there'],
    ['of another database', 'the replica is one of another database'],
    ['of another name', 'the replica is one of another database'],
    ['that follows its former main one', 'the replica follows another server than the main one'],
    ['with other sessions', 'sessions of the replica have another time zone or role'],
  ])(
    'is not read from a replica %s',
    async (kind, reason) => {
      const watch = (url: string, as = role) => {
        const pool = openWatch({ url, role: as });
        undo.push(() => pool.end());
        return pool;
      };
      const pair = { main: watch(main.superuserUrl), replica: watch(follower.url), role };
      if (kind === 'that takes changes itself') pair.replica = pair.main;
      if (kind === 'that is away') pair.replica = watch('postgres://app@127.0.0.1:1/postgres');
      if (kind === 'of another database') pair.main = watch(inject('serverUrl'));
      if (kind === 'of another name') pair.replica = watch(withDatabase(follower.url, 'template1'));
      if (kind === 'with other sessions') pair.replica = watch(follower.url, 'postgres');
      if (kind === 'that follows its former main one') pair.main = watch(await promoted());
      await expect(catchUp(pair, 60_000)).rejects.toThrow(new NotUsable(reason));
    },
    120_000,
  );
});

/** Where another follower of the main server is, which has become a main one. */
async function promoted(): Promise<string> {
  const { server } = await startFollower(undo, { dataDir: mainDataDir, server: main });
  await runOnServer(server().superuserUrl, 'SELECT pg_promote()');
  return server().superuserUrl;
}

/** From when this has returned the follower has nothing new, until it is told to go on. */
async function pauseReplay(): Promise<() => Promise<unknown>> {
  const onFollower = poolFor(follower.url, undo);
  const resume = () => onFollower.query('SELECT pg_wal_replay_resume()');
  await onFollower.query('SELECT pg_wal_replay_pause()');
  undo.push(resume);
  await until(async () => {
    const state = 'SELECT pg_get_wal_replay_pause_state() AS state';
    return (await onFollower.query<{ state: string }>(state)).rows[0]?.state === 'paused';
  });
  return resume;
}

/** Whether the follower has everything. */
async function isFollowed(onMain: pg.Pool, onFollower: pg.Pool): Promise<boolean> {
  const mark = `SELECT pg_logical_emit_message(false, 'test', '', true)::text AS mark`;
  const { rows } = await onMain.query<{ mark: string }>(mark);
  const asked = 'SELECT pg_last_wal_replay_lsn() >= $1::pg_lsn AS has';
  const has = await onFollower.query<{ has: boolean }>(asked, [rows[0]?.mark]);
  return has.rows[0]?.has === true;
}

it('everything of the company can be written into a file from the replica: the same rows', async () => {
  const folder = await temporaryFolder(undo);
  const [onMain, onFollower] = [poolFor(main.superuserUrl, undo), poolFor(follower.url, undo)];
  await untilQuiet();
  await until(() => isFollowed(onMain, onFollower));
  const linesOf = async (url: string, name: string) => {
    await exportCompany(url, `${folder}/${name}`);
    return (await readFile(`${folder}/${name}`, 'utf8')).trimEnd().split('\n');
  };
  const ours = await linesOf(main.superuserUrl, 'main');
  const theirs = await linesOf(follower.url, 'replica');
  expect(ours.length).toBeGreaterThan(300);
  expect(theirs.slice(1, -1)).toEqual(ours.slice(1, -1));
  // A sequence is up to 32 numbers further where it is followed (PostgreSQL 18, `SEQ_LOG_VALS`).
  const head = ([line = '{}']: string[]) => ({ ...JSON.parse(line), nextNumbers: undefined });
  expect(head(theirs)).toEqual(head(ours));
});

async function set(pool: pg.Pool, setting: string): Promise<void> {
  await pool.query(`ALTER SYSTEM SET ${setting}`);
  await pool.query('SELECT pg_reload_conf()');
}

async function reset(pool: pg.Pool): Promise<void> {
  for (const name of CHANGED) await pool.query(`ALTER SYSTEM RESET ${name}`);
  await pool.query('SELECT pg_reload_conf()');
}

const CHANGED = [
  ...['recovery_min_apply_delay', 'max_standby_streaming_delay'],
  ...['synchronous_commit', 'wal_writer_delay'],
];
