import { setTimeout as wait } from 'node:timers/promises';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { appendJournal, sealJournal, verifyJournal } from '../../src/journal/index.ts';
import type { Tx } from '../../src/platform/database/database.ts';
import { inTx } from '../../src/platform/database/in-tx.ts';
import { timedIds } from '../../src/platform/ids.ts';
import { fixedClock } from '../harness/fixed-clock.ts';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';
import { createTestService } from '../harness/test-service.ts';

const clock = fixedClock();
const ids = timedIds(clock);

let database: TestDatabase;
beforeAll(async () => {
  database = await createTestDatabase();
});
afterAll(() => database.drop());
beforeEach(async () => {
  await sealAll();
});

describe('the sealer', () => {
  it('misses nothing and seals nothing twice: five of them, beside eight who write', async () => {
    let writing = true;
    const writers = Array.from({ length: 8 }, async () => {
      for (let entry = 0; entry < 25; entry += 1) await write();
    });
    const sealers = Array.from({ length: 5 }, async () => {
      while (writing) await sealJournal(database.db.pool, 7);
    });
    await Promise.all(writers);
    writing = false;
    await Promise.all(sealers);
    await sealAll();
    const { rows } = await database.owner.query(
      `SELECT (SELECT count(*) FROM journal_entry) = count(*) AS all_sealed,
         count(DISTINCT entry_id) = count(*) AS none_twice,
         min(position) = 1 AND max(position) = count(*) AS without_gap
       FROM journal_seal`,
    );
    expect(rows).toEqual([{ all_sealed: true, none_twice: true, without_gap: true }]);
    expect(await verifyJournal(database.db.pool)).toMatchObject({ faults: [], unsealed: 0 });
  });

  it('works alone: while one is at it, another has nothing to do and does not wait', async () => {
    await write();
    const holding = await database.owner.connect();
    try {
      await holding.query('BEGIN');
      await holding.query('LOCK TABLE journal_seal IN SHARE ROW EXCLUSIVE MODE');
      const first = sealJournal(database.db.pool);
      await somebodyWaits();
      expect(await sealJournal(database.db.pool)).toBe(0);
      await holding.query('COMMIT');
      expect(await first).toBe(1);
    } finally {
      holding.release();
    }
  });

  it('seals an entry with an earlier identifier that was committed later', async () => {
    const early = ids.next();
    const late = ids.next();
    await database.db.transact(async (tx) => {
      await append(tx, early);
      // Another transaction, with a later identifier, is committed and sealed meanwhile.
      await database.db.transact((other) => append(other, late), 'ReadCommitted');
      expect(await sealJournal(database.db.pool)).toBe(1);
    }, 'ReadCommitted');
    expect(await sealJournal(database.db.pool)).toBe(1);
    const sealed = await database.owner.query<{ entry_id: string }>(
      'SELECT entry_id FROM journal_seal ORDER BY position DESC LIMIT 2',
    );
    expect(sealed.rows.map(({ entry_id }) => entry_id)).toEqual([early, late]);
    expect((await verifyJournal(database.db.pool)).faults).toEqual([]);
  });

  it('never seals what was rolled back', async () => {
    const lost = ids.next();
    const given = database.db.transact(async (tx) => {
      await append(tx, lost);
      throw new Error('the work failed');
    }, 'ReadCommitted');
    await expect(given).rejects.toThrow('the work failed');
    expect(await sealJournal(database.db.pool)).toBe(0);
    const kept = await database.owner.query('SELECT 1 FROM journal_entry WHERE id = $1', [lost]);
    expect(kept.rows).toEqual([]);
  });

  it('goes on from the highest position, past the tenth and the hundredth', async () => {
    for (let entry = 0; entry < 12; entry += 1) {
      await write();
      expect(await sealJournal(database.db.pool)).toBe(1);
    }
    expect((await verifyJournal(database.db.pool)).faults).toEqual([]);
  });

  it('an entry queued again after it was sealed leaves the queue, and the rest goes on', async () => {
    await write();
    await sealAll();
    await database.owner.query(
      'INSERT INTO journal_unsealed SELECT entry_id FROM journal_seal ORDER BY position LIMIT 1',
    );
    await write();
    expect(await sealJournal(database.db.pool)).toBe(1);
    expect(await verifyJournal(database.db.pool)).toMatchObject({ faults: [], unsealed: 0 });
    const queue = await database.owner.query('SELECT 1 FROM journal_unsealed');
    expect(queue.rowCount).toBe(0);
  });

  it('leaves what is beyond its batch for the next turn', async () => {
    for (let entry = 0; entry < 5; entry += 1) await write();
    expect(await sealJournal(database.db.pool, 3)).toBe(3);
    expect((await verifyJournal(database.db.pool)).unsealed).toBe(2);
    expect(await sealJournal(database.db.pool, 3)).toBe(2);
  });

  it('the owner reads the tip, and how much no seal vouches for yet', async () => {
    const service = await createTestService();
    try {
      const before = await service.as('owner').get('/v1/journal/tip');
      expect(before.body).toMatchObject({ position: 0, hash: '0'.repeat(64) });
      expect(before.body.unsealed).toBeGreaterThan(0);
      await sealJournal(service.db.pool);
      const after = await service.as('owner').get('/v1/journal/tip');
      expect(after.body).toMatchObject({ position: before.body.unsealed, unsealed: 0 });
      const { tip } = await verifyJournal(service.db.pool);
      expect(tip).toEqual({ position: BigInt(after.body.position), hash: after.body.hash });
    } finally {
      await service.close();
    }
  });
});

/** Resolves when a session of this database waits for another one's lock. */
async function somebodyWaits(): Promise<void> {
  for (;;) {
    const waiting = await database.owner.query(
      `SELECT 1 FROM pg_stat_activity
       WHERE datname = current_database() AND wait_event_type = 'Lock'`,
    );
    if (waiting.rows.length > 0) return;
    await wait(10);
  }
}

function write(): Promise<void> {
  return inTx(database.db, (tx) => append(tx, ids.next()));
}

function append(tx: Tx, id: string): Promise<void> {
  return appendJournal(
    { tx, now: clock.now(), newId: () => id },
    {
      event: 'ticket.moved',
      subject: { kind: 'ticket', id: '1' },
      before: { state: 'new' },
      after: { state: 'scheduled' },
    },
  );
}

async function sealAll(): Promise<void> {
  while ((await sealJournal(database.db.pool)) > 0);
}
