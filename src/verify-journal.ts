import { parseArgs } from 'node:util';
import pg from 'pg';
import { type Tip, verifyJournal } from './journal/index.ts';
import { readConfig } from './platform/config.ts';
import { attachEmbedded } from './platform/database/embedded/index.ts';
import { provideDatabase } from './platform/database/provide-database.ts';

// Recomputes every seal of the journal. Ends with status 0 when it is whole, 1 when it is not.
//   npm run verify-journal -- [--tip POSITION:HASH]   the tip is one kept outside, from an earlier run
const { values } = parseArgs({ options: { tip: { type: 'string' } } });

try {
  const outside = values.tip === undefined ? undefined : readTip(values.tip);
  const database = await findDatabase();
  const pool = new pg.Pool({ connectionString: database.url, options: '-c timezone=UTC', max: 1 });
  const report = await verifyJournal(pool, outside);
  await pool.end();
  await database.stop();
  for (const fault of report.faults) console.log(`BROKEN  ${fault}`);
  console.log(`${report.sealed} entries under a seal, ${report.unsealed} waiting for one.`);
  console.log(`Keep this tip outside the database: ${report.tip.position}:${report.tip.hash}`);
  console.log(report.faults.length === 0 ? 'The journal is whole.' : 'The journal is NOT whole.');
  process.exitCode = report.faults.length === 0 ? 0 : 1;
} catch (error) {
  console.error((error as Error).message);
  process.exitCode = 2;
}

function readTip(text: string): Tip {
  const [, position, hash] = /^(\d+):([0-9a-f]{64})$/.exec(text) ?? [];
  if (position === undefined || hash === undefined) {
    throw new Error('A tip is POSITION:HASH, as an earlier run printed it.');
  }
  return { position: BigInt(position), hash };
}

/** The running service's database where there is one; otherwise its own, started for this. */
async function findDatabase(): Promise<{ url: string; stop(): Promise<void> }> {
  const config = readConfig(process.env);
  if (config.databaseUrl === undefined) {
    const running = await attachEmbedded({ dataDir: config.dataDir });
    if (running !== undefined) {
      return { url: running.urlFor('evenhand'), stop: async () => undefined };
    }
  }
  const provided = await provideDatabase(config, console.log);
  return { url: provided.appUrl, stop: provided.stop };
}
