import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { sqlOf, type Tx } from '../../../src/platform/database/database.ts';
import { inTx } from '../../../src/platform/database/in-tx.ts';
import { violationOf } from '../../../src/platform/database/violation.ts';
import { id } from '../../database/rows.ts';
import { createTestDatabase, type TestDatabase } from '../../harness/test-database.ts';

let database: TestDatabase;

beforeAll(async () => {
  database = await createTestDatabase();
});

afterEach(async () => {
  await database.owner.query('DELETE FROM customer');
});

afterAll(() => database.drop());

describe('a transaction', () => {
  it('leaves nothing when its work fails, in plain SQL or typed', async () => {
    const work = async (tx: Tx) => {
      await addCustomer(tx, 1, 'typed');
      await sqlOf(tx).query(INSERT, [id(2), 'plain']);
      throw new Error('the roof came down');
    };
    await expect(inTx(database.db, work)).rejects.toThrow('the roof came down');
    expect(await names()).toEqual([]);
  });

  it('gives what its work gives, and is there for everybody afterwards', async () => {
    const given = await inTx(database.db, async (tx) => {
      await addCustomer(tx, 1, 'first');
      return 'done';
    });
    expect(given).toBe('done');
    expect(await names()).toEqual(['first']);
  });

  it('is one, for plain SQL and the typed client, and seen by nobody else before its end', async () => {
    await inTx(database.db, async (tx) => {
      await addCustomer(tx, 1, 'typed');
      await sqlOf(tx).query(INSERT, [id(2), 'plain']);
      const plain = await sqlOf(tx).query('SELECT name FROM customer ORDER BY id');
      const typed = await tx.customer.findMany({ orderBy: { id: 'asc' }, select: { name: true } });
      expect(plain.rows).toEqual([{ name: 'typed' }, { name: 'plain' }]);
      expect(typed).toEqual(plain.rows);
      expect(await names()).toEqual([]);
      const [plainOne, typedOne] = [
        await sqlOf(tx).query('SELECT pg_current_xact_id()::text AS xid, pg_backend_pid() AS pid'),
        await tx.$queryRaw`SELECT pg_current_xact_id()::text AS xid, pg_backend_pid() AS pid`,
      ];
      expect(typedOne).toEqual(plainOne.rows);
    });
    expect(await names()).toEqual(['typed', 'plain']);
  });

  it('keeps to its own connection among many that run side by side', async () => {
    const pids = await Promise.all(
      Array.from({ length: 20 }, () =>
        inTx(database.db, async (tx) => {
          const before = await sqlOf(tx).query<{ pid: number }>('SELECT pg_backend_pid() AS pid');
          const typed = await tx.$queryRaw<{ pid: number }[]>`SELECT pg_backend_pid() AS pid`;
          expect(typed).toEqual(before.rows);
          return before.rows[0]?.pid;
        }),
      ),
    );
    expect(new Set(pids).size).toBeGreaterThan(1);
  });

  it('takes statements that are sent side by side one after the other', async () => {
    const texts = await inTx(database.db, (tx) =>
      Promise.all(
        Array.from({ length: 30 }, async (_, at) => {
          if (at % 2 === 0) return tx.$queryRawUnsafe(`SELECT ${at} AS at`);
          return (await sqlOf(tx).query(`SELECT ${at} AS at`)).rows;
        }),
      ),
    );
    expect(texts).toEqual(Array.from({ length: 30 }, (_, at) => [{ at }]));
  });

  it('has no plain connection once it is over', async () => {
    const kept = await inTx(database.db, async (tx) => ({ tx }));
    expect(() => sqlOf(kept.tx)).toThrow('sqlOf needs a transaction opened by this database');
    expect(() => sqlOf(database.db.prisma)).toThrow('sqlOf needs a transaction');
  });

  it('gives its connection back however it ends', async () => {
    for (let round = 0; round < 15; round += 1) {
      await inTx(database.db, (tx) => addCustomer(tx, 1, 'same')).catch(() => undefined);
      await inTx(database.db, () => Promise.reject(new Error('no'))).catch(() => undefined);
    }
    const { totalCount, idleCount, waitingCount } = database.db.pool;
    expect({ idleCount, waitingCount }).toEqual({ idleCount: totalCount, waitingCount: 0 });
  });
});

describe('a conflict', () => {
  it('found by a statement of the typed client is run again', async () => {
    const errors = await collide('at the statement', (tx, name) =>
      tx.customer.update({ where: { id: id(1) }, data: { name } }),
    );
    expect(errors.map((error) => (error as { code?: string }).code)).toEqual(['P2034']);
  });

  it('found by a statement of plain SQL is run again', async () => {
    const errors = await collide('at the statement', (tx, name) =>
      sqlOf(tx).query('UPDATE customer SET name = $2 WHERE id = $1', [id(1), name]),
    );
    expect(errors.map((error) => (error as { code?: string }).code)).toEqual(['40001']);
  });

  it('found at the commit is run again', async () => {
    const errors = await collide('at the commit', async (tx, name) => {
      const count = await tx.customer.count();
      await addCustomer(tx, name === 'slow' ? 3 : 2, `${name} saw ${count}`);
    });
    expect(errors.map(violationOf)).toEqual([{ sqlState: '40001' }]);
    expect(errors.map((error) => (error as { code?: string }).code)).not.toContain('P2034');
    expect(await names()).toEqual(['stock', 'quick saw 1', 'slow saw 2']);
  });

  it('by deadlock is run again for whoever gave way', async () => {
    await database.owner.query(INSERT, [id(1), 'one']);
    await database.owner.query(INSERT, [id(2), 'two']);
    const met = meeting(2);
    const retried: unknown[] = [];
    const touch = (first: string, second: string) => {
      let attempt = 0;
      return inTx(
        database.db,
        async (tx) => {
          attempt += 1;
          const add = { data: { version: { increment: 1 } } };
          await tx.customer.update({ where: { id: first }, ...add });
          if (attempt === 1) await met();
          await tx.customer.update({ where: { id: second }, ...add });
        },
        { onRetry: (error) => retried.push(error) },
      );
    };
    await Promise.all([touch(id(1), id(2)), touch(id(2), id(1))]);
    expect(retried).toHaveLength(1);
    const versions = await database.owner.query('SELECT version FROM customer');
    expect(versions.rows).toEqual([{ version: 3 }, { version: 3 }]);
  });

  it('among many at once ends with all of them committed, as if one after the other', async () => {
    const shapes = new Set<string>();
    const many = 24;
    await Promise.all(
      Array.from({ length: many }, (_, at) =>
        inTx(
          database.db,
          async (tx) => {
            const count = await tx.customer.count();
            const insert = [id(100 + at), `saw ${count}`];
            if (at % 2 === 0) await sqlOf(tx).query(INSERT, insert);
            else await addCustomer(tx, 100 + at, `saw ${count}`);
          },
          {
            isolation: 'Serializable',
            retriesMax: 100,
            onRetry: (error) => shapes.add(violationOf(error)?.sqlState ?? 'P2034'),
          },
        ),
      ),
    );
    expect(new Set(await names())).toEqual(
      new Set(Array.from({ length: many }, (_, at) => `saw ${at}`)),
    );
    expect(shapes.size).toBeGreaterThan(0);
  });

  it('that never ends is given up after the retries, with the database’s own error', async () => {
    const attempts: number[] = [];
    let runs = 0;
    const work = (tx: Tx) => {
      runs += 1;
      return sqlOf(tx).query(`DO $$ BEGIN RAISE EXCEPTION 'again' USING ERRCODE = '40001'; END $$`);
    };
    const options = {
      retriesMax: 3,
      onRetry: (_: unknown, attempt: number) => attempts.push(attempt),
    };
    await expect(inTx(database.db, work, options)).rejects.toMatchObject({ code: '40001' });
    expect({ runs, attempts }).toEqual({ runs: 4, attempts: [1, 2, 3] });
  });
});

describe('anything but a conflict is not run again', () => {
  it.each([
    {
      what: 'a key that is taken',
      statement: `INSERT INTO of_ours VALUES (1), (1)`,
      sqlState: '23505',
    },
    { what: 'a division by zero', statement: 'SELECT 1/0', sqlState: '22012' },
    {
      what: 'a statement that took too long',
      statement: 'SET LOCAL statement_timeout = 1; SELECT pg_sleep(1)',
      sqlState: '57014',
    },
    {
      what: 'a table that may not be touched',
      statement: 'TRUNCATE journal_entry',
      sqlState: '42501',
    },
    { what: 'a word the server does not know', statement: 'SELEKT 1', sqlState: '42601' },
  ])('$what', async ({ statement, sqlState }) => {
    let runs = 0;
    const work = async (tx: Tx) => {
      runs += 1;
      await sqlOf(tx).query('CREATE TEMP TABLE of_ours (number int UNIQUE)');
      for (const each of statement.split('; ')) await sqlOf(tx).query(each);
    };
    await expect(inTx(database.db, work)).rejects.toMatchObject({ code: sqlState });
    expect(runs).toBe(1);
  });

  it('nor is an error of the work itself', async () => {
    let runs = 0;
    const work = async () => {
      runs += 1;
      throw new Error('the roof came down');
    };
    await expect(inTx(database.db, work)).rejects.toThrow('the roof came down');
    expect(runs).toBe(1);
  });
});

const INSERT = `
  INSERT INTO customer (id, name, phone, journal_salt, created_at)
  VALUES ($1, $2, '555-0111', '', now())`;

function addCustomer(tx: Tx, number: number, name: string) {
  return tx.customer.create({
    data: {
      id: id(number),
      name,
      phone: '555-0111',
      journalSalt: new Uint8Array(),
      createdAt: new Date('2026-07-15T19:00:00Z'),
    },
  });
}

/** What is committed, in the order of the identifiers. */
async function names(): Promise<string[]> {
  const found = await database.owner.query<{ name: string }>(
    'SELECT name FROM customer ORDER BY id',
  );
  return found.rows.map(({ name }) => name);
}

/**
 * Lets a quick transaction commit its change while a slow one, that has read already, is about to
 * make its own or to commit it.
 * @returns what made the slow one run again
 */
async function collide(
  found: 'at the statement' | 'at the commit',
  change: (tx: Tx, name: string) => Promise<unknown>,
): Promise<unknown[]> {
  await database.owner.query(INSERT, [id(1), 'stock']);
  const isolation = 'Serializable';
  const errors: unknown[] = [];
  let runs = 0;
  await inTx(
    database.db,
    async (tx) => {
      runs += 1;
      await tx.customer.count();
      if (found === 'at the commit' || runs > 1) await change(tx, 'slow');
      if (runs > 1) return;
      await inTx(database.db, (quick) => change(quick, 'quick'), { isolation });
      if (found === 'at the statement') await change(tx, 'slow');
    },
    { isolation, onRetry: (error) => errors.push(error) },
  );
  expect(runs).toBe(2);
  return errors;
}

/** A place where so many wait for each other. */
function meeting(size: number): () => Promise<void> {
  let open = () => {};
  const met = new Promise<void>((resolve) => {
    open = resolve;
  });
  let here = 0;
  return () => {
    here += 1;
    if (here === size) open();
    return met;
  };
}
