import { parseArgs } from 'node:util';
import pg from 'pg';
import { restoreCompany } from './company-file/index.ts';
import { readConfig } from './platform/config.ts';
import { appliedNames, migrate } from './platform/database/migrate.ts';
import { provideDatabase } from './platform/database/provide-database.ts';

const USAGE = `Puts a company from the file of an export into an empty database: wholly, or not at all.

  npm run restore -- --in FILE

--in   the file that "npm run export" wrote, of the same release

The database is the one DATABASE_OWNER_URL or DATABASE_URL names, or the embedded one in
EVENHAND_DATA_DIR (.data); a new one gets its schema first. The service must not be started on it
before. Ends with status 0 when everything is in, 2 when nothing is.`;

try {
  const { values } = parseArgs({ options: { in: { type: 'string' }, help: { type: 'boolean' } } });
  if (values.help) console.log(USAGE);
  else if (values.in === undefined) throw new Error('Say which: --in FILE.');
  else await readIn(values.in);
} catch (error) {
  console.error((error as Error).message);
  process.exitCode = 2;
}

async function readIn(file: string): Promise<void> {
  const database = await provideDatabase(readConfig(process.env), console.log);
  try {
    if (await isNew(database.ownerUrl)) await migrate(database.ownerUrl);
    const { head, end } = await restoreCompany(database.ownerUrl, file);
    const count = Object.values(end.rows).reduce((sum, each) => sum + each, 0);
    console.log(`${count} rows of ${Object.keys(end.rows).length} tables were restored.`);
    console.log('Put the key that signs papers back to its place before the service starts.');
    console.log('Then hold the journal against the tip that the file tells:');
    console.log(
      `  npm run verify-journal -- --tip ${head.journalTip.position}:${head.journalTip.hash}`,
    );
  } finally {
    await database.stop();
  }
}

/** Nothing was ever done in it: an older schema is never touched by mistake. */
async function isNew(url: string): Promise<boolean> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    return (await appliedNames(client)).length === 0;
  } finally {
    await client.end();
  }
}
