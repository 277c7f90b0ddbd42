import { parseArgs } from 'node:util';
import pg from 'pg';
import { replayFindings } from './evidence/index.ts';
import { readConfig } from './platform/config.ts';
import { findDatabase } from './platform/database/find-database.ts';
import { requireReachable } from './platform/database/require-reachable.ts';

const USAGE = `Weighs every finding again from the evidence frozen in it, and changes nothing.

  npm run replay-findings

The database is the one DATABASE_URL names, or the embedded one in EVENHAND_DATA_DIR (.data).
Ends with status 0 when every verdict is the stored one, 1 when any is not, 2 when they could not be
read.`;

try {
  const { values } = parseArgs({ options: { help: { type: 'boolean' } } });
  if (values.help) console.log(USAGE);
  else process.exitCode = await replay();
} catch (error) {
  console.error((error as Error).message);
  process.exitCode = 2;
}

async function replay(): Promise<0 | 1> {
  const database = await findDatabase(readConfig(process.env));
  try {
    await requireReachable(database.url);
    return await report(database.url);
  } finally {
    await database.stop();
  }
}

async function report(url: string): Promise<0 | 1> {
  const pool = new pg.Pool({ connectionString: url, options: '-c timezone=UTC', max: 1 });
  try {
    await requireFindings(pool);
    const { replayed, differences } = await replayFindings(pool);
    for (const difference of differences) console.log(`DIFFERS  ${difference}`);
    const says = differences.length === 0 ? 'all as stored' : 'NOT all as stored';
    console.log(`${replayed} findings weighed again: ${says}.`);
    return differences.length === 0 ? 0 : 1;
  } finally {
    await pool.end();
  }
}

async function requireFindings(pool: pg.Pool): Promise<void> {
  const found = await pool.query(
    `SELECT current_database() AS name, to_regclass('finding') IS NOT NULL AS has_findings`,
  );
  const { name, has_findings } = found.rows[0] ?? {};
  if (has_findings !== true) throw new Error(`The database "${name}" has no findings.`);
}
