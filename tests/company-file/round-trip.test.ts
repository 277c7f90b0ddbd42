import { mkdtemp, readFile, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { exportCompany, restoreCompany } from '../../src/company-file/index.ts';
import { sealJournal, verifyJournal } from '../../src/journal/index.ts';
import { sha256 } from '../../src/platform/sha256.ts';
import { billSoldJob, move } from '../harness/invoice.ts';
import { addSite, arriveAtJob, bookJob, findCapacitor, issueQuote } from '../harness/job.ts';
import { addPhoto } from '../harness/photos.ts';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import {
  addConsumerRules,
  makeLink,
  type Offer,
  offerAtLink,
  visit,
  yesForm,
} from '../harness/visitor.ts';

/** What a later migration might add, with every kind of value that is easily written otherwise. */
const LATER = `
  CREATE TABLE later (
    number int GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
    after_number int REFERENCES later (number),
    words text, said json, bytes bytea, sum numeric, ratio float8, at timestamptz, day date,
    names text[], days daterange, doubled numeric GENERATED ALWAYS AS (sum * 2) STORED);`;

/** Text that a careless reader takes for the end of a value, a line or a row, or for no value. */
const HARD_WORDS =
  'tab\there, line\nthere\r, \\N, \\., "quoted" \\\\t \u2028 \u{1f9ca} \b\f\v end\\';

const LATER_ROWS = `
  INSERT INTO later (after_number, words, said, bytes, sum, ratio, at, day, names, days) VALUES
    (2, $1, '{"b" : 1.10,  "a":[ 1e2 ], "b":2}', '\\x00ff0a5c', 1.10, 0.1,
     '2026-07-14 18:00:00.123456+00', '2026-02-28', ARRAY['', NULL, 'a,"b"\\c'],
     '[2026-01-01,2027-01-01)'),
    (NULL, '', 'null', '', 1e30, 'NaN', 'infinity', '-infinity', '{}', 'empty'),
    (1, '\\N', NULL, NULL, NULL, -0.0, NULL, NULL, NULL, NULL)`;

let service: TestService;
let offer: Offer;
let restored: TestDatabase;
let folder: string;

beforeAll(async () => {
  folder = await mkdtemp(path.join(tmpdir(), 'evenhand-file-'));
  service = await createTestService();
  await addConsumerRules(service);
  await liveADay(service);
  offer = await offerAtLink(service);
  await service.owner.query(LATER);
  await service.owner.query(LATER_ROWS, [HARD_WORDS]);
  await sealJournal(service.db.pool);
  restored = await createTestDatabase();
  await restored.owner.query(LATER);
  await exportCompany(service.url, fileAt('first'));
  await restoreCompany(restored.url, fileAt('first'));
}, 120_000);

afterAll(async () => {
  await restored.drop();
  await service.close();
  await rm(folder, { recursive: true, force: true });
});

/** A paid job with its papers, a job with a photo, and a customer with a hard name. */
async function liveADay(lived: TestService): Promise<void> {
  const invoice = await billSoldJob(lived);
  const payment = { method: 'check', reference: 'No. 4711', amountCents: 5_000 };
  await move(lived, invoice, 'payments', payment);
  await addPhoto(lived, await arriveAtJob(lived), 'nameplate');
  const named = { name: 'Zoë "Tab" O’Grady \\N', phone: '555-0112' };
  expectStatus(await lived.as('dispatcher').post('/v1/customers', named), 201);
}

function fileAt(name: string): string {
  return path.join(folder, `${name}.ndjson`);
}

async function linesOf(name: string): Promise<string[]> {
  return (await readFile(fileAt(name), 'utf8')).split('\n').slice(0, -1);
}

describe('a company that was exported and restored', () => {
  it('comes out again as the same file, byte for byte', async () => {
    await exportCompany(restored.url, fileAt('again'));
    expect(await readFile(fileAt('again'))).toEqual(await readFile(fileAt('first')));
  });

  it('has the same journal, up to the tip that the file tells', async () => {
    const { tip } = await verifyJournal(service.db.pool);
    const [head = ''] = await linesOf('first');
    expect(JSON.parse(head).journalTip).toEqual({ position: String(tip.position), hash: tip.hash });
    expect(await verifyJournal(restored.db.pool, tip)).toEqual({
      faults: [],
      sealed: tip.position,
      tip,
      unsealed: 0,
    });
  });

  it('has every value of every column, however it is written', async () => {
    for (const { name, columns } of await storedColumns(service.owner)) {
      const texts = `SELECT ${columns} FROM ${name}`;
      const sorted = async (database: TestDatabase) =>
        (await database.owner.query({ text: texts, rowMode: 'array' })).rows.map(String).sort();
      expect(await sorted(restored), name).toEqual(await sorted(service));
    }
    const { rows } = await restored.owner.query('SELECT words, doubled FROM later ORDER BY number');
    expect(rows.map(({ words }) => words)).toEqual([HARD_WORDS, '', '\\N']);
    expect(rows[0].doubled).toBe('2.20');
  });

  it('is guarded as before: every trigger and every constraint is on', async () => {
    const guards = `
      SELECT format('%s %s %s', tgrelid::regclass, tgname, tgenabled) AS guard FROM pg_trigger
      WHERE NOT tgisinternal
      UNION ALL SELECT format('%s %s %s %s', conname, convalidated, condeferrable, condeferred)
      FROM pg_constraint ORDER BY 1`;
    const before = await service.owner.query(guards);
    expect(before.rows.length).toBeGreaterThan(200);
    expect((await restored.owner.query(guards)).rows).toEqual(before.rows);
    const change = restored.owner.query('UPDATE quote_issue SET valid_until = now()');
    await expect(change).rejects.toThrow('quote_issue_insert_only');
  });

  it('goes on counting where it was', async () => {
    const [head = ''] = await linesOf('first');
    const { rows } = await service.owner.query<{ name: string }>(
      'SELECT sequencename AS name FROM pg_sequences ORDER BY 1',
    );
    expect(Object.keys(JSON.parse(head).nextNumbers)).toEqual(rows.map(({ name }) => name));
    for (const { name } of rows) {
      const next = async ({ owner }: TestDatabase) =>
        (await owner.query(`SELECT nextval($1)::text AS next`, [name])).rows[0].next;
      expect(await next(restored), name).toBe(await next(service));
    }
  });

  it('is served as before: old tokens and links hold, and a quote is made, sent and accepted', async () => {
    const { clock, staff } = service;
    const again = await createTestService({ clock, on: { database: restored, staff } });
    try {
      const page = await visit(again, offer);
      expectStatus(await page.get(offer.page), 200);
      expectStatus(await page.post(`${offer.page}/accept`, yesForm(offer)), 303);
      const job = await arriveAtJob(again, await addSite(again));
      const capacitor = await findCapacitor(again, job);
      const options = [{ title: 'Capacitor', findingIds: [capacitor] }];
      const drafted = await again.as('technician').post('/v1/quotes', {
        visitId: job.visitId,
        options,
      });
      const tag = expectStatus(drafted, 201).headers['etag'] ?? '';
      const quote = await issueQuote(again, { body: drafted.body, tag });
      const made: Offer = { job, quote, ...(await makeLink(again, quote)) };
      const customer = await visit(again, made);
      expectStatus(await customer.post(`${made.page}/accept`, yesForm(made)), 303);
      const { body } = expectStatus(
        await again.as('technician').get(`/v1/quotes/${quote.body.id}`),
        200,
      );
      expect(body.state).toBe('accepted');
      await bookJob(again);
      await sealJournal(restored.db.pool);
      expect((await verifyJournal(restored.db.pool)).faults).toEqual([]);
    } finally {
      await again.app.close();
    }
  });
});

interface StoredTable {
  name: string;
  /** Each column as text. */
  columns: string;
}

async function storedColumns(owner: TestDatabase['owner']): Promise<StoredTable[]> {
  const { rows } = await owner.query<StoredTable>(`
    SELECT quote_ident(table_name) AS name,
      string_agg(quote_ident(column_name) || '::text', ', ' ORDER BY ordinal_position) AS columns
    FROM information_schema.columns JOIN information_schema.tables USING (table_schema, table_name)
    WHERE table_schema = 'public' AND table_type = 'BASE TABLE'
      AND table_name <> '_prisma_migrations'
    GROUP BY table_name ORDER BY table_name`);
  return rows;
}

describe('the file', () => {
  it('holds every table and every stored column that the catalog knows, with all rows', async () => {
    const lines = await linesOf('first');
    const tables = lines.map((line) => JSON.parse(line)).filter(({ table }) => table);
    const { rows } = await service.owner.query(`
      SELECT table_name AS table, array_agg(column_name::text ORDER BY ordinal_position)
        FILTER (WHERE is_generated = 'NEVER') AS columns
      FROM information_schema.columns JOIN information_schema.tables USING (table_schema, table_name)
      WHERE table_schema = 'public' AND table_type = 'BASE TABLE'
        AND table_name <> '_prisma_migrations'
      GROUP BY table_name`);
    const told = tables.map(({ table, columns }) => ({
      table,
      columns: columns.map(({ name }: { name: string }) => name),
    }));
    const byName = (a: { table: string }, b: { table: string }) => (a.table < b.table ? -1 : 1);
    expect(told.sort(byName)).toEqual(rows.sort(byName));
    const counts: Record<string, number> = JSON.parse(lines.at(-1) ?? '').rows;
    for (const { table } of rows) {
      const { rows: counted } = await service.owner.query(
        `SELECT count(*)::int AS rows FROM ${table}`,
      );
      expect(counts[table], table).toBe(counted[0].rows);
    }
  });

  it('ends with the SHA-256 of everything before its last line, and tells no hour', async () => {
    const text = await readFile(fileAt('first'), 'utf8');
    const end = text.lastIndexOf('\n', text.length - 2) + 1;
    expect(JSON.parse(text.slice(end)).sha256).toBe(sha256(text.slice(0, end)));
    const [head = ''] = await linesOf('first');
    expect(head).not.toMatch(/\d\d:\d\d/);
  });

  it('may be read by its owner alone, and is never put in place of another', async () => {
    expect((await stat(fileAt('first'))).mode & 0o777).toBe(0o600);
    const again = exportCompany(service.url, fileAt('first'));
    await expect(again).rejects.toThrow('is there already');
  });
});
