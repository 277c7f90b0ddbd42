import pg from 'pg';
import { taxRule } from '../../seed/company.ts';
import { loadCompany } from '../../seed/load-company.ts';
import { priceBook } from '../../seed/price-book.ts';
import { systemClock } from '../../src/platform/clock.ts';
import { openDatabase } from '../../src/platform/database/database.ts';
import { timedIds } from '../../src/platform/ids.ts';
import type { Office } from '../harness/steps-of-job.ts';

/** Loads the invented company into an empty, migrated database, and gives who works there. */
export async function loadOffice(url: string): Promise<Office> {
  const db = await openDatabase({ url, poolMax: 2 });
  try {
    const staff = await loadCompany({ db, clock: systemClock, ids: timedIds(systemClock) });
    const { rows } = await db.pool.query<{ id: string }>(
      `SELECT id FROM staff WHERE role = 'technician' ORDER BY id`,
    );
    return {
      tokens: { dispatcher: staff.dispatcher.token, owner: staff.owner.token },
      technicianIds: rows.map(({ id }) => id),
    };
  } finally {
    await db.close();
  }
}

/** Gives the company its prices and its tax, without which no visit is booked and no quote issued. */
export async function openBooks(url: string, ownerToken: string): Promise<void> {
  for (const [path, body] of [
    ['/v1/price-books', priceBook],
    ['/v1/tax-rules', taxRule],
  ] as const) {
    const answer = await fetch(`${url}${path}`, {
      method: 'POST',
      headers: {
        authorization: `Bearer ${ownerToken}`,
        'content-type': 'application/json',
        'idempotency-key': crypto.randomUUID(),
      },
      body: JSON.stringify(body),
    });
    if (answer.status !== 201) throw new Error(`${path}: ${answer.status} ${await answer.text()}`);
  }
}

/** A pool of the test's own, ended after it. */
export function poolFor(url: string, undo: (() => Promise<unknown>)[]): pg.Pool {
  const pool = new pg.Pool({ connectionString: url, max: 2, options: '-c timezone=UTC' });
  pool.on('error', () => undefined);
  undo.push(() => pool.end());
  return pool;
}
