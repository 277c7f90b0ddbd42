import { readFile } from 'node:fs/promises';
import type pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';
import { revisionId } from './quote-rows.ts';
import { documentRow, insert, sha256Of } from './rows.ts';
import { quotes, stock } from './stock.ts';

let database: TestDatabase;
beforeAll(async () => {
  database = await createTestDatabase();
  await stock(database.owner);
});
afterAll(() => database.drop());

describe('papers of what was issued before papers were on record', () => {
  it('are on record, each once, with the ticket and at the moment of its act', async () => {
    await afterMigration(async (client) => {
      const { rows } = await client.query(`
        SELECT kind, count(*)::int AS papers FROM paper GROUP BY kind ORDER BY kind`);
      const acts = await client.query(`
        SELECT 'acceptance' AS kind, count(*)::int AS papers FROM quote_acceptance
        UNION ALL SELECT 'credit_memo', count(*)::int FROM credit_memo
        UNION ALL SELECT 'decline', count(*)::int FROM quote_decline
        UNION ALL SELECT 'invoice', count(*)::int FROM invoice_issue
        UNION ALL SELECT 'quote', count(*)::int FROM quote_issue
        UNION ALL SELECT 'work_record', count(*)::int FROM ticket_closing`);
      expect(rows).toEqual(acts.rows);
      expect(rows).toHaveLength(6);
      // The guard takes each row again as it stands: ticket and moment are those of its act.
      await client.query('CREATE TEMP TABLE again AS SELECT * FROM paper');
      await client.query('ALTER TABLE paper_file DISABLE TRIGGER USER; DELETE FROM paper_file');
      await client.query('ALTER TABLE paper DISABLE TRIGGER paper_insert_only; DELETE FROM paper');
      await client.query('INSERT INTO paper SELECT * FROM again');
    });
  });

  it('have identifiers in the order of time', async () => {
    await afterMigration(async (client) => {
      const { rows } = await client.query(`
        SELECT count(*)::int AS n FROM paper a JOIN paper b ON a.issued_at < b.issued_at
          AND date_trunc('milliseconds', a.issued_at) < date_trunc('milliseconds', b.issued_at)
          AND a.id > b.id`);
      expect(rows).toEqual([{ n: 0 }]);
      const odd = await client.query(
        `SELECT id FROM paper WHERE substr(id::text, 15, 1) <> '7' OR substr(id::text, 20, 1) !~ '[89ab]'`,
      );
      expect(odd.rows).toEqual([]);
    });
  });

  it('keep the file that was handed out first, where a newer hand had drawn another', async () => {
    await afterMigration(async (client) => {
      const { rows } = await client.query(
        `SELECT f.language, f.renderer, f.sha256 FROM paper_file f JOIN paper p ON p.id = f.paper_id
         WHERE p.revision_id = $1`,
        [revisionId(quotes.issued)],
      );
      expect(rows).toEqual([{ language: 'en', renderer: 'paper-1', sha256: sha256Of('a paper') }]);
    });
  });
});

/** Puts the database back before the migration, with two files of one paper, and runs it. */
async function afterMigration(work: (client: pg.ClientBase) => Promise<void>): Promise<void> {
  const client = await database.owner.connect();
  try {
    await client.query('BEGIN');
    await client.query(UNDO);
    await client.query(
      documentRow({
        ...{ sha256: sha256Of('drawn later'), bytes: Buffer.from('drawn later') },
        created_at: '2026-09-01T00:00:00Z',
      }),
    );
    for (const [renderer, content] of [
      ['paper-2', 'drawn later'],
      ['paper-1', 'a paper'],
    ] as const) {
      await client.query(
        insert('quote_paper', {
          ...{ revision_id: revisionId(quotes.issued), kind: 'quote', language: 'en' },
          ...{ renderer, sha256: sha256Of(content) },
        }),
      );
    }
    const path = '../../prisma/migrations/20261126120000_papers/migration.sql';
    await client.query(await readFile(new URL(path, import.meta.url), 'utf8'));
    await work(client);
  } finally {
    await client.query('ROLLBACK');
    client.release();
  }
}

const UNDO = `
  DROP TABLE delivery_state, delivery, work_record, paper_key, paper_file, paper CASCADE;
  DROP FUNCTION check_paper();
  CREATE TABLE quote_paper (revision_id uuid, kind text, language text, renderer text, sha256 text)`;
