import { randomUUID } from 'node:crypto';
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { exportCompany, restoreCompany } from '../../src/company-file/index.ts';
import { sha256 } from '../../src/platform/sha256.ts';
import { arriveAtJob } from '../harness/job.ts';
import { rowsOfAll } from '../harness/rows-of-all.ts';
import {
  createEmptyDatabase,
  createTestDatabase,
  type TestDatabase,
} from '../harness/test-database.ts';
import { createTestService, type TestService } from '../harness/test-service.ts';

let service: TestService;
let empty: TestDatabase;
let folder: string;
let whole: string;
let customers: string[];

beforeAll(async () => {
  folder = await mkdtemp(path.join(tmpdir(), 'evenhand-refused-'));
  service = await createTestService();
  await arriveAtJob(service);
  const { rows } = await service.owner.query<{ id: string }>('SELECT id FROM customer');
  customers = rows.map(({ id }) => id);
  empty = await createTestDatabase();
  await exportCompany(service.url, path.join(folder, 'whole.ndjson'));
  whole = await readFile(path.join(folder, 'whole.ndjson'), 'utf8');
}, 120_000);

afterAll(async () => {
  await empty.drop();
  await service.close();
  await rm(folder, { recursive: true, force: true });
});

/** Restores a file with another text. */
async function restoreText(text: string | Buffer, url = empty.url): Promise<unknown> {
  const file = path.join(folder, 'changed.ndjson');
  await writeFile(file, text);
  return restoreCompany(url, file);
}

/** The file with its lines changed by somebody who then counts and sums up as the program does. */
function forged(change: (lines: string[]) => string[]): string {
  const lines = change(whole.split('\n').slice(0, -2));
  const body = lines.map((line) => `${line}\n`).join('');
  const rows: Record<string, number> = {};
  let table = '';
  for (const line of lines.slice(1)) {
    if (line.startsWith('[')) rows[table] = (rows[table] ?? 0) + 1;
    else table = JSON.parse(line).table;
    rows[table] ??= 0;
  }
  return `${body}${JSON.stringify({ end: true, rows, sha256: sha256(body) })}\n`;
}

function withHead(change: object): string {
  return forged(([head = '', ...others]) => [
    JSON.stringify({ ...JSON.parse(head), ...change }),
    ...others,
  ]);
}

/** The lines of a table that has no rows here, changed. */
function withEmptyTable(change: (line: string) => string[]): string {
  return forged((lines) =>
    lines.flatMap((line) => (line.startsWith('{"table":"day_plan_use"') ? change(line) : [line])),
  );
}

/** The rows of a table, changed. */
function withRows(table: string, change: (row: unknown[]) => unknown[]): string {
  let now = '';
  return forged((lines) =>
    lines.map((line, at) => {
      if (!line.startsWith('[')) now = at === 0 ? '' : JSON.parse(line).table;
      return line.startsWith('[') && now === table
        ? JSON.stringify(change(JSON.parse(line)))
        : line;
    }),
  );
}

function spoiled(): Buffer {
  const bytes = Buffer.from(whole);
  bytes[whole.indexOf('Ashgrove')] = 0xff;
  return bytes;
}

describe('a file is refused in plain words, and nothing of it is in', () => {
  const cut = 'The file is cut off';
  const changed = 'The file was changed or damaged';

  it.each<[string, () => string | Buffer, string]>([
    ['that ends within a row', () => whole.slice(0, whole.length >> 1), cut],
    ['whose last line is gone', () => whole.slice(0, whole.lastIndexOf('{"end"')), cut],
    ['that lacks its last byte', () => whole.slice(0, -1), cut],
    ['with nothing in it', () => '', 'not the file of a company'],
    ['that is something else', () => 'name,phone\n', 'not the file of a company'],
    ['with one letter changed', () => whole.replace('Ashgrove', 'Ashgrave'), changed],
    ['with one byte that is no text', spoiled, changed],
    ['with a row taken out', () => whole.replace(/\n\[.*/, ''), changed],
    ['with words after its end', () => `${whole}[]\n`, 'stands after the end'],
    ['with a value too few', () => withRows('ticket', ([, ...row]) => row), `${changed}: line`],
    ['with a number for a text', () => withRows('ticket', (row) => [1, ...row.slice(1)]), changed],
    ['with a table told twice', () => withEmptyTable((line) => [line, line]), `${changed}: line`],
    ['of another format version', () => withHead({ formatVersion: 2 }), 'format version 2'],
    [
      'of another schema',
      () => withHead({ migrations: ['20261125090000_tables'] }),
      'The file is of schema 20261125090000_tables, the database of 2',
    ],
    [
      'with a table that nobody knows',
      () => withEmptyTable((line) => [line.replace('day_plan_use', 'day_use')]),
      'The database has no table day_use',
    ],
    ['without a table', () => withEmptyTable(() => []), 'The file has no table day_plan_use'],
    [
      'with a column that nobody knows',
      () => withEmptyTable((line) => [line.replace('used_at', 'used_on')]),
      'The database has no column of day_plan_use used_on',
    ],
    [
      'with a column of another type',
      () => withEmptyTable((line) => [line.replace('uuid', 'text')]),
      'The database has no column of day_plan_use day_plan_id (text)',
    ],
    ['without its sequences', () => withHead({ nextNumbers: {} }), 'The file has no sequence'],
    [
      'with a row that names nothing',
      () =>
        withRows('site', (row) => row.map((value) => (isCustomer(value) ? randomUUID() : value))),
      'The rows of site do not fit',
    ],
    [
      'with a value that is none',
      () => withRows('site', ([, ...row]) => ['nobody', ...row]),
      'The rows of site do not fit',
    ],
  ])('%s', async (_, text, words) => {
    const before = await rowsOfAll(empty);
    await expect(restoreText(text())).rejects.toThrow(words);
    expect(await rowsOfAll(empty)).toEqual(before);
  });

  it('and the same database then takes the whole file', async () => {
    await restoreText(whole);
    expect(await rowsOfAll(empty)).toEqual(await rowsOfAll(service));
    await expect(restoreText(whole)).rejects.toThrow('The database is not empty');
  });
});

/** Where the tests' customers are named: by their identifiers alone. */
function isCustomer(value: unknown): boolean {
  return customers.includes(String(value));
}

describe('a database is refused', () => {
  it('that holds a company', async () => {
    const before = await rowsOfAll(service);
    await expect(restoreText(whole, service.url)).rejects.toThrow('The database is not empty');
    expect(await rowsOfAll(service)).toEqual(before);
  });

  it('that has no schema', async () => {
    const bare = await createEmptyDatabase();
    await expect(restoreText(whole, bare.url)).rejects.toThrow('no company schema');
    await expect(exportCompany(bare.url, path.join(folder, 'bare'))).rejects.toThrow('no company');
    await bare.drop();
  });

  it('whose login does not own it', async () => {
    const other = await createTestDatabase();
    const url = `${other.url}?options=${encodeURIComponent('-c role=evenhand_app')}`;
    await expect(restoreText(whole, url)).rejects.toThrow('does not own the tables');
    await other.drop();
  });

  it('in which somebody is at work', async () => {
    const other = await createTestDatabase();
    const busy = await other.owner.connect();
    await busy.query('BEGIN; SELECT FROM company');
    await expect(restoreText(whole, other.url)).rejects.toThrow('Stop the service on it first');
    await busy.query('ROLLBACK');
    busy.release();
    await other.drop();
  });
});

it('an export that fails leaves no file behind', async () => {
  await service.owner.query('CREATE TABLE keyless (word text)');
  const failing = exportCompany(service.url, path.join(folder, 'failed.ndjson'));
  await expect(failing).rejects.toThrow('keyless');
  expect((await readdir(folder)).filter((name) => name.startsWith('failed'))).toEqual([]);
  await service.owner.query('DROP TABLE keyless');
});
