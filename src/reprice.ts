import { parseArgs } from 'node:util';
import pg from 'pg';
import { readConfig } from './platform/config.ts';
import { findDatabase } from './platform/database/find-database.ts';
import { requireReachable } from './platform/database/require-reachable.ts';
import { type RevisionScope, repriceQuotes } from './quotes/index.ts';

const USAGE = `Prices quotes again from their stored inputs, under the rules they were made by, compares
every step with what is stored, and changes nothing.

  npm run reprice -- --all [--drafts]
  npm run reprice -- --quote NUMBER [--drafts]

--all     every revision that was ever issued
--quote   those of one quote
--drafts  also revisions that were never issued

The database is the one DATABASE_URL names, or the embedded one in EVENHAND_DATA_DIR (.data).
Ends with status 0 when every price is the stored one, 1 when any is not, 2 when they could not be
read.`;

try {
  const { values } = parseArgs({
    options: {
      all: { type: 'boolean', default: false },
      quote: { type: 'string' },
      drafts: { type: 'boolean', default: false },
      help: { type: 'boolean' },
    },
  });
  if (values.help) console.log(USAGE);
  else process.exitCode = await repriceAll(scopeOf(values));
} catch (error) {
  console.error((error as Error).message);
  process.exitCode = 2;
}

function scopeOf(asked: { all: boolean; quote?: string | undefined; drafts: boolean }) {
  if (asked.all === (asked.quote !== undefined)) {
    throw new Error('Say which: --all, or --quote with its number.');
  }
  const scope: RevisionScope = { withDrafts: asked.drafts };
  return asked.quote === undefined ? scope : { ...scope, quoteNumber: numberOf(asked.quote) };
}

function numberOf(text: string): number {
  const number = Number(text);
  if (Number.isInteger(number) && number >= 1 && number < 2 ** 31) return number;
  throw new Error('--quote must be the number of a quote.');
}

async function repriceAll(scope: RevisionScope): Promise<0 | 1> {
  const database = await findDatabase(readConfig(process.env));
  try {
    await requireReachable(database.url);
    return await report(database.url, scope);
  } finally {
    await database.stop();
  }
}

async function report(url: string, scope: RevisionScope): Promise<0 | 1> {
  const pool = new pg.Pool({ connectionString: url, options: '-c timezone=UTC', max: 1 });
  try {
    await requireQuotes(pool);
    const { quotes, revisions, lines, differences } = await repriceQuotes(
      pool,
      scope,
      (difference) => console.log(`DIFFERS  ${difference}`),
    );
    if (scope.quoteNumber !== undefined && quotes === 0) {
      throw new Error(`Of quote ${scope.quoteNumber} there is nothing to price again.`);
    }
    const says = differences === 0 ? 'all as stored' : 'NOT all as stored';
    console.log(`${quotes} quotes, ${revisions} revisions, ${lines} lines priced again: ${says}.`);
    return differences === 0 ? 0 : 1;
  } finally {
    await pool.end();
  }
}

async function requireQuotes(pool: pg.Pool): Promise<void> {
  const found = await pool.query(
    `SELECT current_database() AS name, to_regclass('quote_line') IS NOT NULL AS has_quotes`,
  );
  const { name, has_quotes } = found.rows[0] ?? {};
  if (has_quotes !== true) throw new Error(`The database "${name}" has no quotes.`);
}
