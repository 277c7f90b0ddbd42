import { readdir } from 'node:fs/promises';
import path from 'node:path';
import { afterEach, expect, it } from 'vitest';
import { type StaffKey, taxRule } from '../../seed/company.ts';
import { apiClient } from '../../seed/demo/api-client.ts';
import { openTheDepot } from '../../seed/demo/depot.ts';
import { stories } from '../../seed/demo/stories.ts';
import { loadCompany } from '../../seed/load-company.ts';
import { priceBook } from '../../seed/price-book.ts';
import { verifyJournal } from '../../src/journal/index.ts';
import { systemClock } from '../../src/platform/clock.ts';
import { timedIds } from '../../src/platform/ids.ts';
import { createTestDatabase } from '../harness/test-database.ts';
import { figure, startProcess } from './process.ts';
import { temporaryFolder, type Undo, undoAll, until } from './temporary.ts';

const undo: Undo = [];
afterEach(() => undoAll(undo));

it('two processes that answer and two that work do everything once, on one database', async () => {
  const database = await createTestDatabase();
  undo.push(database.drop);
  const dataDir = await temporaryFolder(undo);
  const shared = { DATABASE_URL: database.url, EVENHAND_DATA_DIR: dataDir };
  const startAs = (role: string) => startProcess(undo, { ...shared, EVENHAND_ROLE: role });
  const staff = await loadCompany({
    ...{ db: database.db, clock: systemClock },
    ids: timedIds(systemClock),
  });
  const count = async (what: string): Promise<number> => {
    const { rows } = await database.owner.query<{ n: number }>(`SELECT count(*)::int AS n ${what}`);
    return rows[0]?.n ?? 0;
  };

  const apis = await Promise.all([startAs('api'), startAs('api')]);
  const as = (who: StaffKey, api: number) => apiClient(apis[api]?.url ?? '', staff[who].token);
  await as('owner', 0).post('/v1/price-books', priceBook);
  await as('owner', 1).post('/v1/tax-rules', taxRule);
  await openTheDepot(as('owner', 0), staff);
  // A reset and a no, each with its papers and their mails; what one process began the other goes on
  // with.
  for (const at of [1, 5]) {
    await stories[at]?.({
      dispatcher: as('dispatcher', at % 2),
      technician: as('technician', (at + 1) % 2),
      technicianId: staff.technician.id,
      say: () => undefined,
    });
  }
  // Whoever only answers neither seals nor delivers nor audits.
  const mails = await count('FROM delivery');
  expect(mails).toBeGreaterThan(3);
  expect(await count(`FROM delivery_state WHERE state = 'waiting' AND attempts = 0`)).toBe(mails);
  expect(await count('FROM journal_seal')).toBe(0);
  expect(await count('FROM audit_run')).toBe(0);

  const workers = await Promise.all([startAs('worker'), startAs('worker')]);
  for (const { url } of workers) {
    await until(async () => (await fetch(`${url}/readyz`)).ok);
    const headers = { authorization: `Bearer ${staff.owner.token}` };
    expect((await fetch(`${url}/v1/company`, { headers })).status).toBe(404);
  }
  await until(async () => (await count(`FROM delivery_state WHERE state = 'sent'`)) === mails);
  for (const { metricsUrl } of workers) {
    for (const name of ['evenhand_journal_unsealed_entries', 'evenhand_audit_unread_entries']) {
      await until(async () => (await figure(metricsUrl, name)) === 0);
    }
  }
  await until(async () => (await count('FROM audit_run WHERE finished_at IS NOT NULL')) === 1);
  expect(await count('FROM delivery_state WHERE attempts <> 1')).toBe(0);
  const files = (await readdir(path.join(dataDir, 'mail'))).filter((each) => each.endsWith('.eml'));
  expect(files).toHaveLength(mails);
  expect(await count('FROM audit_run')).toBe(1);
  expect((await verifyJournal(database.owner)).faults).toEqual([]);
  expect(await count('FROM journal_entry')).toBe(await count('FROM journal_seal'));

  for (const each of [...apis, ...workers]) each.terminate();
  const ends = await Promise.all([...apis, ...workers].map(({ ended }) => ended));
  expect(ends).toEqual([0, 0, 0, 0]);
}, 480_000);
