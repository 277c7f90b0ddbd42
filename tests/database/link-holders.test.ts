import { readFile } from 'node:fs/promises';
import type pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';
import { inVain } from './in-vain.ts';
import { linkRow } from './life-rows.ts';
import { accepted } from './quote-rows.ts';
import { customerRow, entryRow, id, ids, type Statement, sql } from './rows.ts';
import { quotes, stock } from './stock.ts';

let database: TestDatabase;
beforeAll(async () => {
  database = await createTestDatabase();
  await stock(database.owner);
});
afterAll(() => database.drop());

const linkId = id(1_206);
const [winifred, orla] = [ids.customer, id(1_297)];

/** The site gets another approver, as it is and as the journal has it. */
function approverFromNowOn(number: number, from: string, to: string, at: string): Statement[] {
  const change = { before: { approverId: from }, after: { approverId: to } };
  return [
    sql('UPDATE site SET approver_id = $1 WHERE id = $2', [to, ids.site]),
    entryRow({
      ...{ id: id(number), at, event: 'site.changed' },
      ...{ subject_kind: 'site', subject_id: ids.site, changes: JSON.stringify(change) },
    }),
  ];
}

/** The link was made at 19:11. */
const [beforeTheLink, afterTheLink] = ['2026-07-15T19:10:00Z', '2026-07-15T19:13:00Z'];

describe('a link from before it was a person’s', () => {
  it.each<[string, Statement[], string]>([
    ['is of whoever still has the place', [], winifred],
    [
      'is of theirs whatever else of the site was changed',
      approverFromNowOn(801, winifred, winifred, afterTheLink),
      winifred,
    ],
    [
      'is of whoever was replaced since',
      [
        ...approverFromNowOn(801, winifred, orla, afterTheLink),
        ...approverFromNowOn(802, orla, winifred, '2026-07-15T19:14:00Z'),
        ...approverFromNowOn(803, winifred, orla, '2026-07-15T19:15:00Z'),
      ],
      winifred,
    ],
    [
      'is of whoever took the place before it was made',
      approverFromNowOn(801, winifred, orla, beforeTheLink),
      orla,
    ],
  ])('%s, and opens as it did', async (_, since, holder) => {
    await inVain(database, async (client) => {
      const made = [customerRow({ id: orla }), linkRow(quotes.issued), ...since];
      for (const statement of made) await client.query(statement);
      expect(await migrated(client)).toEqual([{ holder_id: holder, revoked_at: null }]);
    });
  });

  it('at which a yes was given opens as it did, whatever its person is called now', async () => {
    await inVain(database, async (client) => {
      const yes = { link_id: linkId, recorded_by_id: null };
      const made = [linkRow(quotes.issued), ...accepted(quotes.issued, yes)];
      for (const statement of made) await client.query(statement);
      await client.query(`UPDATE customer SET name = 'Winifred Corrected' WHERE id = $1`, [
        winifred,
      ]);
      expect(await migrated(client)).toEqual([{ holder_id: winifred, revoked_at: null }]);
    });
  });
});

/** The link after the migration, from a database as it was before. */
async function migrated(client: pg.ClientBase): Promise<unknown[]> {
  await client.query(undo);
  await client.query(await migration());
  const { rows } = await client.query(
    'SELECT holder_id, revoked_at FROM quote_link WHERE id = $1',
    [linkId],
  );
  return rows;
}

const undo = `
  SET CONSTRAINTS ALL IMMEDIATE;
  DROP INDEX quote_link_one_live;
  ALTER TABLE quote_link DROP COLUMN holder_id,
    ADD COLUMN holder_name TEXT NOT NULL DEFAULT 'Somebody as they were called then';
  CREATE UNIQUE INDEX quote_link_one_live ON quote_link (quote_id, holder)
    WHERE revoked_at IS NULL`;

function migration(): Promise<string> {
  const path = '../../prisma/migrations/20261126110000_link_holders/migration.sql';
  return readFile(new URL(path, import.meta.url), 'utf8');
}
