import { stat } from 'node:fs/promises';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { exportCompany } from './company-file/index.ts';
import { readConfig } from './platform/config.ts';
import { findDatabase } from './platform/database/find-database.ts';
import { requireReachable } from './platform/database/require-reachable.ts';

const USAGE = `Writes everything the database holds of the company into one file, as it stands at one moment.
The service may go on meanwhile.

  npm run export -- --out FILE_OR_FOLDER

--out   a file that is not there yet, or a folder: then the file is named after the day

Personal data are in it: keep it as you keep the database itself. What
is not in it, the key that signs papers above all, its first line tells.

The database is the one DATABASE_OWNER_URL or DATABASE_URL names, or the embedded one in
EVENHAND_DATA_DIR (.data). Ends with status 0 when the file is whole, 2 when there is none.`;

try {
  const { values } = parseArgs({ options: { out: { type: 'string' }, help: { type: 'boolean' } } });
  if (values.help) console.log(USAGE);
  else if (values.out === undefined) throw new Error('Say where to: --out FILE_OR_FOLDER.');
  else await writeFile(await fileAt(values.out));
} catch (error) {
  console.error((error as Error).message);
  process.exitCode = 2;
}

async function fileAt(out: string): Promise<string> {
  const found = await stat(out).catch(() => undefined);
  if (!found?.isDirectory()) return path.resolve(out);
  return path.resolve(out, `evenhand-${new Date().toISOString().slice(0, 10)}.ndjson`);
}

async function writeFile(file: string): Promise<void> {
  const config = readConfig(process.env);
  const databaseUrl = config.databaseOwnerUrl ?? config.databaseUrl;
  const database = await findDatabase({ ...config, ...(databaseUrl && { databaseUrl }) });
  try {
    await requireReachable(database.url);
    const { rows, sha256, journalTip } = await exportCompany(database.url, file);
    const count = Object.values(rows).reduce((sum, each) => sum + each, 0);
    console.log(`${count} rows of ${Object.keys(rows).length} tables are in ${file}`);
    console.log(`SHA-256 of its content: ${sha256}`);
    console.log(`Its journal ends at this tip: ${journalTip.position}:${journalTip.hash}`);
    console.log('The key that signs papers is not in it. Keep a copy of that file, too.');
  } finally {
    await database.stop();
  }
}
