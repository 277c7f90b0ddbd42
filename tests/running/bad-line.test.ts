import { afterEach, expect, it } from 'vitest';
import { verifyJournal } from '../../src/journal/index.ts';
import { databaseOnALine } from './database-on-a-line.ts';
import { startJobWriters } from './job-writers.ts';
import { loadOffice, openBooks, poolFor } from './load-office.ts';
import type { Line } from './open-line.ts';
import { figure, startProcess } from './process.ts';
import { temporaryFolder, type Undo, undoAll, until } from './temporary.ts';

const undo: Undo = [];
afterEach(() => undoAll(undo));

/** What a network does to the way between the service and its database, again and again, and its end. */
const TROUBLES: Record<string, { go(line: Line): void; end(line: Line): void }> = {
  'is slow': {
    go: (line) => line.delay(150),
    end: (line) => line.delay(0),
  },
  // Whoever sends nothing at that moment does not feel it, so once is not enough.
  'resets every connection': {
    go: (line) => line.cut(),
    end: () => undefined,
  },
  'swallows what is sent': {
    go: (line) => line.swallow(true),
    end: (line) => line.swallow(false),
  },
};

it('a way to the database that is slow, resets or swallows leaves nobody without an answer, and nothing twice', async () => {
  const { url, line, server } = await databaseOnALine(undo);
  const office = await loadOffice(url);
  const service = await startProcess(undo, {
    DATABASE_URL: url,
    EVENHAND_DATA_DIR: await temporaryFolder(undo),
  });
  await openBooks(service.url, office.tokens.owner);
  const { written, stop } = startJobWriters(undo, { url: () => service.url, office, count: 8 });
  const more = async (count: number) => {
    const enough = written.writes + count;
    await until(() => written.writes >= enough || written.refused.length > 0);
  };
  await more(20);
  for (const [name, trouble] of Object.entries(TROUBLES)) {
    const felt = written.troubles.length + 8;
    const enough = written.writes + 20;
    await until(() => {
      trouble.go(line);
      return name === 'is slow' ? written.writes >= enough : written.troubles.length >= felt;
    });
    trouble.end(line);
    await more(20);
  }
  await stop();

  expect(written.refused).toEqual([]);
  // Everybody was answered: nobody was cut off, and nothing was called a mistake of ours.
  const codes = new Set(written.troubles.map(({ code }) => code));
  codes.delete('request-in-progress');
  expect([...codes]).toEqual(['unavailable']);
  for (const { code, retryAfter } of written.troubles) {
    if (code === 'unavailable') expect(Number(retryAfter)).toBeGreaterThan(0);
  }
  const pool = poolFor(server().superuserUrl, undo);
  const twice = await pool.query(
    `SELECT name FROM customer WHERE name LIKE 'Perpetua Load %' GROUP BY name HAVING count(*) > 1`,
  );
  expect(twice.rows).toEqual([]);
  await until(
    async () => (await figure(service.metricsUrl, 'evenhand_journal_unsealed_entries')) === 0,
  );
  expect((await verifyJournal(pool)).faults).toEqual([]);
  expect(service.exitCode()).toBeUndefined();
}, 240_000);
