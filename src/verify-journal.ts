import { parseArgs } from 'node:util';
import pg from 'pg';
import { type Tip, verifyJournal } from './journal/index.ts';
import { readConfig } from './platform/config.ts';
import { findDatabase } from './platform/database/find-database.ts';
import { requireReachable } from './platform/database/require-reachable.ts';

const USAGE = `Recomputes every seal of the journal, and changes nothing.

  npm run verify-journal -- [--tip POSITION:HASH]

  --tip   a tip kept outside the database, as an earlier run printed it; without one, somebody
          who can rewrite everything could also have rewritten the seals

The database is the one DATABASE_URL names, or the embedded one in EVENHAND_DATA_DIR (.data).
Ends with status 0 when the journal is whole, 1 when it is not, 2 when it could not be read.`;

try {
  const { values } = parseArgs({ options: { tip: { type: 'string' }, help: { type: 'boolean' } } });
  if (values.help) console.log(USAGE);
  else process.exitCode = await verify(values.tip === undefined ? undefined : readTip(values.tip));
} catch (error) {
  console.error((error as Error).message);
  process.exitCode = 2;
}

async function verify(outside: Tip | undefined): Promise<0 | 1> {
  const database = await findDatabase(readConfig(process.env));
  try {
    await requireReachable(database.url);
    return await report(database.url, outside);
  } finally {
    await database.stop();
  }
}

async function report(url: string, outside: Tip | undefined): Promise<0 | 1> {
  const pool = new pg.Pool({ connectionString: url, options: '-c timezone=UTC', max: 1 });
  try {
    await requireJournal(pool);
    const { faults, sealed, unsealed, tip } = await verifyJournal(pool, outside);
    for (const fault of faults) console.log(`BROKEN  ${fault}`);
    console.log(`${sealed} entries under a seal, ${unsealed} waiting for one.`);
    console.log(`Keep this tip outside the database: ${tip.position}:${tip.hash}`);
    console.log(faults.length === 0 ? 'The journal is whole.' : 'The journal is NOT whole.');
    return faults.length === 0 ? 0 : 1;
  } finally {
    await pool.end();
  }
}

async function requireJournal(pool: pg.Pool): Promise<void> {
  const found = await pool.query(
    `SELECT current_database() AS name, to_regclass('journal_seal') IS NOT NULL AS has_journal`,
  );
  const { name, has_journal } = found.rows[0] ?? {};
  if (has_journal !== true) throw new Error(`The database "${name}" has no journal.`);
}

function readTip(text: string): Tip {
  const [, position, hash] = /^(\d+):([0-9a-f]{64})$/.exec(text) ?? [];
  if (position === undefined || hash === undefined) {
    throw new Error('A tip is POSITION:HASH, as an earlier run printed it.');
  }
  return { position: BigInt(position), hash };
}
