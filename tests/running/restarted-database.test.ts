import { afterEach, expect, it } from 'vitest';
import { verifyJournal } from '../../src/journal/index.ts';
import type { EmbeddedServer } from '../../src/platform/database/embedded/index.ts';
import { databaseOnALine } from './database-on-a-line.ts';
import { loadOffice, poolFor } from './load-office.ts';
import { postmasterOf } from './postmaster-of.ts';
import { figure, startProcess } from './process.ts';
import { temporaryFolder, type Undo, undoAll, until } from './temporary.ts';
import { startWriters } from './writers.ts';

const undo: Undo = [];
afterEach(() => undoAll(undo));

it('a service outlives its database being restarted under load, fast and at once, and loses and doubles nothing', async () => {
  const { url, line, server, startAgain } = await databaseOnALine(undo);
  const token = (await loadOffice(url)).tokens.dispatcher;
  const service = await startProcess(undo, {
    DATABASE_URL: url,
    EVENHAND_DATA_DIR: await temporaryFolder(undo),
  });
  const writers = startWriters(undo, { url: service.url, token, count: 8, again: true });
  const { written } = writers;

  for (const end of [endFast, endAtOnce]) {
    const before = written.acknowledged.size;
    await until(() => written.acknowledged.size >= before + 40);
    const told = written.problems.length;
    await end(server());
    line.cut();
    await until(() => written.problems.length >= told + 8);
    expect(await figure(service.metricsUrl, 'evenhand_database_up')).toBe(0);
    expect((await fetch(`${service.url}/healthz`)).status).toBe(200);
    await startAgain();
    await until(async () => (await fetch(`${service.url}/readyz`)).ok);
  }
  const before = written.acknowledged.size;
  await until(() => written.acknowledged.size >= before + 40);
  await writers.stop();

  expect(service.exitCode()).toBeUndefined();
  expect(written.cuts).toBe(0);
  // The same key while the first attempt still runs is told so; everything else is one problem.
  const codes = new Set(written.problems.map(({ code, status }) => `${status} ${code}`));
  codes.delete('409 request-in-progress');
  expect([...codes]).toEqual(['503 unavailable']);
  for (const { retryAfter, mediaType } of written.problems) {
    expect(Number(retryAfter)).toBeGreaterThan(0);
    expect(mediaType).toBe('application/problem+json; charset=utf-8');
  }
  const pool = poolFor(url, undo);
  const { rows } = await pool.query<{ name: string }>('SELECT name FROM customer');
  expect(rows.map(({ name }) => name).sort()).toEqual([...written.acknowledged].sort());
  // What runs beside the requests goes on: all is sealed, and the audit has read it.
  for (const name of ['evenhand_journal_unsealed_entries', 'evenhand_audit_unread_entries']) {
    await until(async () => (await figure(service.metricsUrl, name)) === 0);
  }
  expect((await verifyJournal(pool)).faults).toEqual([]);
  service.terminate();
  expect(await service.ended).toBe(0);
}, 240_000);

/** As an administrator restarts it: sessions are cut, the data is written out. */
async function endFast(server: EmbeddedServer): Promise<void> {
  await server.stop();
}

/** As a machine that fails: nothing is written out, and the next start recovers. */
async function endAtOnce(server: EmbeddedServer): Promise<void> {
  process.kill(await postmasterOf(server), 'SIGQUIT');
  await server.unexpectedEnd;
}
