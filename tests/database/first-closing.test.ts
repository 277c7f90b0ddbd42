import { readFile } from 'node:fs/promises';
import type pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';
import { inVain } from './in-vain.ts';
import { entryRow, id, type Statement, sql, ticketRow, visitRow } from './rows.ts';
import { stock } from './stock.ts';

let database: TestDatabase;
beforeAll(async () => {
  database = await createTestDatabase();
  await stock(database.owner);
});
afterAll(() => database.drop());

const ticket = id(39);

describe('a ticket closed by the version before, which does not say since when', () => {
  it.each([
    ['in a step', [ticketRow(), sql(`UPDATE ticket SET state = 'closed' WHERE id = '${ticket}'`)]],
    ['from the start', [ticketRow({ state: 'closed' })]],
  ])('%s, is closed since that moment', async (_, statements) => {
    await inVain(database, async (client) => {
      for (const statement of statements) await client.query(statement);
      const found = await client.query(
        `SELECT first_closed_at = now() AS "isNow" FROM ticket WHERE id = '${ticket}'`,
      );
      expect(found.rows).toEqual([{ isNow: true }]);
    });
  });

  it('keeps the day of its first closing when it is closed again', async () => {
    const closedAt = '2026-07-16T19:00:00Z';
    await inVain(database, async (client) => {
      await client.query(ticketRow({ state: 'closed', first_closed_at: closedAt }));
      for (const state of ['new', 'closed']) {
        await client.query(`UPDATE ticket SET state = $1 WHERE id = '${ticket}'`, [state]);
      }
      expect(await firstClosing(client)).toEqual(new Date(closedAt));
    });
  });
});

describe('the first closing of a ticket from before it was noted', () => {
  const moved = (number: number, state: string, at: string): Statement =>
    entryRow({
      ...{ id: id(number), event: 'ticket.moved', subject_id: ticket, at },
      changes: JSON.stringify({ before: { state: 'work_complete' }, after: { state } }),
    });
  const visit = visitRow({ ticket_id: ticket, state: 'cancelled' });
  const journal = [
    moved(801, 'work_complete', '2026-07-16T19:30:00Z'),
    moved(802, 'closed', '2026-07-17T15:00:00Z'),
    moved(803, 'closed', '2026-07-25T15:00:00Z'),
  ];

  it.each([
    ['is when the journal says', 'closed', [visit, ...journal], '2026-07-17T15:00:00Z'],
    ['is that even if it is open again', 'new', [visit, ...journal], '2026-07-17T15:00:00Z'],
    ['is the end of its visit where no journal tells', 'closed', [visit], '2026-07-16T20:00:00Z'],
    ['is when it was made where there was no visit', 'closed', [], '2026-07-15T19:00:00Z'],
    ['is unknown as long as it never was closed', 'new', [visit], null],
  ])('%s', async (_, state, others, expected) => {
    await inVain(database, async (client) => {
      await client.query(undo);
      for (const statement of [ticketRow({ state }), ...others]) await client.query(statement);
      await client.query('SET CONSTRAINTS ALL IMMEDIATE');
      await client.query(await migration());
      expect(await firstClosing(client)).toEqual(expected === null ? null : new Date(expected));
    });
  });
});

const undo = `
  DROP TRIGGER ticket_first_closing_noted ON ticket;
  DROP TRIGGER ticket_first_closing_stays ON ticket;
  DROP FUNCTION note_first_closing();
  DROP FUNCTION check_first_closing();
  ALTER TABLE ticket DROP COLUMN first_closed_at;
  DROP INDEX finding_proven`;

function migration(): Promise<string> {
  const path = '../../prisma/migrations/20261125120000_first_closing/migration.sql';
  return readFile(new URL(path, import.meta.url), 'utf8');
}

async function firstClosing(client: pg.ClientBase): Promise<unknown> {
  const found = await client.query(`SELECT first_closed_at FROM ticket WHERE id = '${ticket}'`);
  return found.rows[0].first_closed_at;
}
