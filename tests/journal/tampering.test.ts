import type pg from 'pg';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { appendJournal, sealJournal, type Tip, verifyJournal } from '../../src/journal/index.ts';
import { entryTextsSql, genesisHash, sealHash } from '../../src/journal/seal-hash.ts';
import { inTx } from '../../src/platform/database/in-tx.ts';
import { timedIds } from '../../src/platform/ids.ts';
import { fixedClock } from '../harness/fixed-clock.ts';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';

const ENTRIES = 12;
/** The entry that is tampered with; there are others before and after it. */
const AT = 5;
/** An entry of the program itself: nobody's, and with a line break in one of its texts. */
const BY_ITSELF = 8;

let database: TestDatabase;
let outside: Tip;
let victim: string;
let neighbour: string;
const changed = 'the entry is not what was sealed';
const tables = ['journal_entry', 'journal_seal', 'journal_unsealed'];

beforeAll(async () => {
  database = await createTestDatabase();
  const clock = fixedClock();
  const ids = timedIds(clock);
  for (let entry = 0; entry < ENTRIES; entry += 1) {
    clock.advance(1_000);
    await inTx(database.db, (tx) =>
      appendJournal(
        {
          tx,
          now: clock.now(),
          newId: () => ids.next(),
          ...(entry + 1 === BY_ITSELF
            ? { requestId: 'request\nquote.accepted' }
            : {
                requestId: `request-${entry}`,
                actor: { kind: 'staff', id: ids.next(), role: 'owner' },
              }),
        },
        {
          event: 'quote.accepted',
          subject: { kind: 'quote', id: `quote-${entry}` },
          after: { revision: 1, totalCents: 20_490 + entry },
        },
      ),
    );
  }
  await sealJournal(database.db.pool);
  outside = (await verifyJournal(database.db.pool)).tip;
  const sealed = await database.owner.query<{ entry_id: string }>(
    'SELECT entry_id FROM journal_seal WHERE position IN ($1, $2) ORDER BY position',
    [AT, AT + 1],
  );
  victim = sealed.rows[0]?.entry_id ?? '';
  neighbour = sealed.rows[1]?.entry_id ?? '';
  for (const table of tables)
    await database.owner.query(`CREATE TABLE kept_${table} AS TABLE ${table}`);
});
afterEach(async () => {
  await asSuperuser(async (client) => {
    for (const table of tables) {
      await client.query(`DELETE FROM ${table}`);
      await client.query(`INSERT INTO ${table} TABLE kept_${table}`);
    }
  });
});
afterAll(() => database.drop());

describe('whoever can switch off every guard and changes what is on record', () => {
  it('an untouched journal has no faults', async () => {
    expect(await verifyJournal(database.db.pool, outside)).toMatchObject({
      faults: [],
      sealed: BigInt(ENTRIES),
      unsealed: 0,
    });
  });

  const cases: { name: string; sql: string; fault: string }[] = [
    { name: 'when it was', sql: "at = at + interval '1 microsecond'", fault: changed },
    { name: 'what kind of actor did it', sql: "actor_kind = 'system'", fault: changed },
    { name: 'who did it', sql: 'actor_id = gen_random_uuid()', fault: changed },
    { name: 'who did it, to nobody', sql: 'actor_id = NULL', fault: changed },
    { name: 'in which role', sql: "actor_role = 'technician'", fault: changed },
    { name: 'in which role, to none', sql: 'actor_role = NULL', fault: changed },
    { name: 'in which role, to an empty one', sql: "actor_role = ''", fault: changed },
    { name: 'in which request', sql: "request_id = 'request-0'", fault: changed },
    { name: 'in which request, to none', sql: 'request_id = NULL', fault: changed },
    { name: 'what happened', sql: "event = 'quote.declined'", fault: changed },
    { name: 'to what kind of thing', sql: "subject_kind = 'ticket'", fault: changed },
    { name: 'to which thing', sql: "subject_id = 'quote-0'", fault: changed },
    { name: 'a value', sql: "changes = replace(changes, '20494', '20495')", fault: changed },
    { name: 'a space in the values', sql: "changes = changes || ' '", fault: changed },
    { name: 'the identifier', sql: 'id = gen_random_uuid()', fault: 'its entry is gone' },
  ];

  it.each(cases)('is found out: $name', async ({ sql, fault }) => {
    await asSuperuser(async (client) => {
      const done = await client.query(`UPDATE journal_entry SET ${sql} WHERE id = $1`, [victim]);
      expect(done.rowCount).toBe(1);
    });
    const { faults } = await verifyJournal(database.db.pool);
    expect(faults).toContain(`position ${AT}: ${fault}`);
  });

  it.each([
    { name: 'nobody to an empty role', sql: "actor_role = ''" },
    {
      name: 'a line from the end of one text to the start of the next',
      sql: "request_id = 'request', event = E'quote.accepted\\nquote.accepted'",
    },
  ])('is found out where the texts in a row read the same: $name', async ({ sql }) => {
    await asSuperuser((client) =>
      client.query(
        `UPDATE journal_entry SET ${sql}
         WHERE id = (SELECT entry_id FROM journal_seal WHERE position = $1)`,
        [BY_ITSELF],
      ),
    );
    expect((await verifyJournal(database.db.pool)).faults).toEqual([
      `position ${BY_ITSELF}: ${changed}`,
    ]);
  });

  it('is found out whichever character, digit or bit of any column of an entry is another one', async () => {
    await withoutChecks();
    const before = await textsAt(AT);
    const entry = { table: 'journal_entry', key: 'id', is: victim } as const;
    const missed: string[] = [];
    let tried = 0;
    for (const { column, altered } of alterations(before)) {
      const faults = await faultsWith(entry, column, { altered, before: before[column] ?? '' });
      if (faults.length === 0) missed.push(`${column} = ${altered}`);
      tried += 1;
    }
    expect(missed).toEqual([]);
    const characters = textColumns.map((column) => before[column]?.length ?? 0);
    expect(Math.min(...characters)).toBeGreaterThan(0);
    expect(tried).toBe(characters.reduce((sum, each) => sum + each, 0) + 2 * 32 + INSTANT_BITS);
    expect((await verifyJournal(database.db.pool, outside)).faults).toEqual([]);
  });

  it('is found out whichever digit or bit of its seal is another one', async () => {
    const { rows } = await database.owner.query<{ hash: string; entry_id: string }>(
      'SELECT hash, entry_id::text FROM journal_seal WHERE position = $1',
      [AT],
    );
    const { hash, entry_id } = rows[0] ?? { hash: '', entry_id: '' };
    const seal = { table: 'journal_seal', key: 'position', is: String(AT) } as const;
    const ways = [
      ...digitsFlipped(hash).map((altered) => ({ column: 'hash', altered, before: hash })),
      ...digitsFlipped(entry_id).map((altered) => ({
        ...{ column: 'entry_id', altered, before: entry_id },
      })),
      // Lower bits lead to places that are taken.
      ...Array.from({ length: 59 }, (_, at) => ({
        ...{ column: 'position', before: String(AT) },
        altered: (BigInt(AT) ^ (1n << BigInt(at + 4))).toString(),
      })),
    ];
    const missed: string[] = [];
    for (const { column, ...way } of ways) {
      const faults = await faultsWith(seal, column, way);
      if (faults.length === 0) missed.push(`${column} = ${way.altered}`);
    }
    expect(ways).toHaveLength(64 + 32 + 59);
    expect(missed).toEqual([]);
    expect((await verifyJournal(database.db.pool, outside)).faults).toEqual([]);
  });

  it('is found out when an entry is deleted', async () => {
    await asSuperuser((client) =>
      client.query('DELETE FROM journal_entry WHERE id = $1', [victim]),
    );
    expect((await verifyJournal(database.db.pool)).faults).toContain(
      `position ${AT}: its entry is gone`,
    );
  });

  it('is found out when an entry is deleted with its seal', async () => {
    await asSuperuser(async (client) => {
      await client.query('DELETE FROM journal_entry WHERE id = $1', [victim]);
      await client.query('DELETE FROM journal_seal WHERE entry_id = $1', [victim]);
    });
    expect((await verifyJournal(database.db.pool)).faults).toEqual([
      `position ${AT} is missing`,
      `position ${AT + 1}: ${changed}`,
    ]);
  });

  it('is found out when a seal is deleted: its entry is neither sealed nor waiting', async () => {
    await asSuperuser((client) =>
      client.query('DELETE FROM journal_seal WHERE position = $1', [ENTRIES]),
    );
    expect(await verifyJournal(database.db.pool)).toMatchObject({
      unsealed: 1,
      faults: ['1 entries are neither sealed nor waiting for it'],
    });
  });

  it('is found out when two entries change places', async () => {
    await asSuperuser(async (client) => {
      await client.query('DELETE FROM journal_seal WHERE position = $1', [AT + 1]);
      await client.query('UPDATE journal_seal SET entry_id = $1 WHERE position = $2', [
        neighbour,
        AT,
      ]);
      await client.query(
        `INSERT INTO journal_seal SELECT position, $1, hash FROM kept_journal_seal
         WHERE position = $2`,
        [victim, AT + 1],
      );
    });
    const { faults } = await verifyJournal(database.db.pool);
    expect(faults).toContain(`position ${AT}: ${changed}`);
    expect(faults).toContain(`position ${AT + 1}: ${changed}`);
  });

  const seals = [
    { name: 'its hash', sql: "hash = repeat('f', 64)" },
    { name: 'one digit of its hash', sql: "hash = translate(hash, '01', '10')" },
    { name: 'its position', sql: 'position = position + 1000' },
    { name: 'the entry it is for', sql: 'entry_id = gen_random_uuid()' },
  ];

  it.each(seals)('is found out when a seal has changed: $name', async ({ sql }) => {
    for (const position of [1, AT, ENTRIES]) {
      await asSuperuser((client) =>
        client.query(`UPDATE journal_seal SET ${sql} WHERE position = $1`, [position]),
      );
      expect((await verifyJournal(database.db.pool)).faults).not.toEqual([]);
    }
  });

  it('is found out when an entry was slipped in past the queue', async () => {
    await asSuperuser((client) =>
      client.query(
        `INSERT INTO journal_entry SELECT gen_random_uuid(), at, actor_kind, actor_id, actor_role,
           request_id, event, subject_kind, subject_id, changes
         FROM kept_journal_entry WHERE id = $1`,
        [victim],
      ),
    );
    expect((await verifyJournal(database.db.pool)).faults).toEqual([
      '1 entries are neither sealed nor waiting for it',
    ]);
  });
});

describe('whoever rewrites the whole chain', () => {
  it('is not found out from inside, and is by the tip that was kept outside', async () => {
    await rewriteHistory();
    expect((await verifyJournal(database.db.pool)).faults).toEqual([]);
    const { faults } = await verifyJournal(database.db.pool, outside);
    expect(faults).toEqual([`position ${ENTRIES}: the seal is not the one kept outside`]);
  });

  it('is found out by a tip from the middle, once something before it was changed', async () => {
    const middle = await tipAt(AT + 2);
    await rewriteHistory();
    const { faults } = await verifyJournal(database.db.pool, middle);
    expect(faults).toEqual([`position ${AT + 2}: the seal is not the one kept outside`]);
  });

  it('is found out when the end is cut off, entries and seals together', async () => {
    await asSuperuser(async (client) => {
      await client.query(
        `DELETE FROM journal_entry WHERE id IN
          (SELECT entry_id FROM journal_seal WHERE position > $1)`,
        [AT],
      );
      await client.query('DELETE FROM journal_seal WHERE position > $1', [AT]);
    });
    expect((await verifyJournal(database.db.pool)).faults).toEqual([]);
    expect((await verifyJournal(database.db.pool, outside)).faults).toEqual([
      `the journal ends at ${AT}, before the tip kept outside`,
    ]);
  });

  it('is found out when everything is gone', async () => {
    await asSuperuser(async (client) => {
      for (const table of tables) await client.query(`DELETE FROM ${table}`);
    });
    expect((await verifyJournal(database.db.pool, outside)).faults).toEqual([
      'the journal ends at 0, before the tip kept outside',
    ]);
  });
});

describe('what no seal vouches for yet', () => {
  it('is counted and said, and is no fault', async () => {
    const id = victim.replace(/^.{8}/, 'ffffffff');
    await database.owner.query(
      `INSERT INTO journal_entry SELECT $1, at, actor_kind, actor_id, actor_role, request_id,
         event, subject_kind, subject_id, changes FROM kept_journal_entry WHERE id = $2`,
      [id, victim],
    );
    expect(await verifyJournal(database.db.pool, outside)).toMatchObject({
      faults: [],
      unsealed: 1,
      sealed: BigInt(ENTRIES),
    });
  });
});

/** Runs statements with every trigger and foreign key switched off. */
async function asSuperuser(work: (client: pg.PoolClient) => Promise<unknown>): Promise<void> {
  const client = await database.owner.connect();
  try {
    await client.query("SET session_replication_role = 'replica'");
    await work(client);
  } finally {
    await client.query('RESET session_replication_role');
    client.release();
  }
}

const textColumns = [
  'actor_kind',
  'actor_role',
  'request_id',
  'event',
  'subject_kind',
  'subject_id',
  'changes',
] as const;
const identifierColumns = ['id', 'actor_id'] as const;

/** Of an instant in microseconds since 1970: enough for every year up to 2255. */
const INSTANT_BITS = 53;

/** Every way in which one entry can differ by the least that its columns know. */
function* alterations(
  before: Record<string, string>,
): Generator<{ column: string; altered: string }> {
  for (const column of textColumns) {
    const text = before[column] ?? '';
    for (let at = 0; at < text.length; at += 1) {
      const flipped = String.fromCharCode(text.charCodeAt(at) ^ 1);
      yield { column, altered: text.slice(0, at) + flipped + text.slice(at + 1) };
    }
  }
  for (const column of identifierColumns) {
    for (const altered of digitsFlipped(before[column] ?? '')) yield { column, altered };
  }
  const micros = BigInt(before['at'] ?? '');
  for (let bit = 0; bit < INSTANT_BITS; bit += 1) {
    yield { column: 'at', altered: (micros ^ (1n << BigInt(bit))).toString() };
  }
}

/** A hexadecimal text with the lowest bit of one digit flipped, for each of its digits. */
function digitsFlipped(text: string): string[] {
  return [...text].flatMap((digit, at) => {
    const value = Number.parseInt(digit, 16);
    if (Number.isNaN(value)) return [];
    return [text.slice(0, at) + (value ^ 1).toString(16) + text.slice(at + 1)];
  });
}

/** The columns of the sealed entry at a position; its instant in microseconds. */
async function textsAt(position: number): Promise<Record<string, string>> {
  const columns = [...textColumns, ...identifierColumns].map((column) => `e.${column}::text`);
  const { rows } = await database.owner.query<Record<string, string>>(
    `SELECT ${columns.join(', ')}, (extract(epoch FROM e.at) * 1000000)::bigint::text AS at
     FROM journal_entry e JOIN journal_seal s ON s.entry_id = e.id WHERE s.position = $1`,
    [position],
  );
  return rows[0] ?? {};
}

/** The table's own checks would refuse some of it; they are no part of what is tried here. */
async function withoutChecks(): Promise<void> {
  await asSuperuser((client) =>
    client.query(
      `ALTER TABLE journal_entry DROP CONSTRAINT IF EXISTS journal_entry_changes_are_json,
         DROP CONSTRAINT IF EXISTS journal_entry_actor_known`,
    ),
  );
}

/** Which row of which table, by one of its own columns. */
interface Place {
  table: 'journal_entry' | 'journal_seal';
  key: 'id' | 'position';
  is: string;
}

/**
 * Writes another value into one column of a row, holds the journal against the tip outside, and
 * writes the old value back.
 */
async function faultsWith(
  place: Place,
  column: string,
  { altered, before }: { altered: string; before: string },
): Promise<string[]> {
  await setColumn(place, column, altered);
  const { faults } = await verifyJournal(database.db.pool, outside);
  await setColumn(column === place.key ? { ...place, is: altered } : place, column, before);
  return faults;
}

async function setColumn({ table, key, is }: Place, column: string, text: string): Promise<void> {
  const value =
    column === 'at' ? "timestamptz 'epoch' + $1::bigint * interval '1 microsecond'" : '$1';
  await asSuperuser(async (client) => {
    const sql = `UPDATE ${table} SET ${column} = ${value} WHERE ${key} = $2`;
    expect((await client.query(sql, [text, is])).rowCount).toBe(1);
  });
}

/** Changes an entry and seals everything anew, as somebody with this very program could. */
async function rewriteHistory(): Promise<void> {
  await asSuperuser(async (client) => {
    await client.query("UPDATE journal_entry SET subject_id = 'quote-0' WHERE id = $1", [victim]);
    const entries = await client.query(
      `SELECT s.position::text AS position, ${entryTextsSql}
       FROM journal_seal s JOIN journal_entry e ON e.id = s.entry_id ORDER BY s.position`,
    );
    let hash = genesisHash;
    for (const { position, ...entry } of entries.rows) {
      hash = sealHash(hash, BigInt(position), entry as Parameters<typeof sealHash>[2]);
      await client.query('UPDATE journal_seal SET hash = $1 WHERE position = $2', [hash, position]);
    }
  });
}

async function tipAt(position: number): Promise<Tip> {
  const found = await database.owner.query<{ hash: string }>(
    'SELECT hash FROM journal_seal WHERE position = $1',
    [position],
  );
  return { position: BigInt(position), hash: found.rows[0]?.hash ?? '' };
}
