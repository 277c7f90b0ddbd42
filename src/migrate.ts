import { readConfig } from './platform/config.ts';
import { migrate } from './platform/database/migrate.ts';
import { provideDatabase } from './platform/database/provide-database.ts';

// Brings the schema up to date and ends: the one-shot step before the service of a release starts.
try {
  const database = await provideDatabase(readConfig(process.env), console.log);
  const applied = await migrate(database.ownerUrl);
  for (const name of applied) console.log(`applied ${name}`);
  console.log('The schema is up to date.');
  await database.stop();
} catch (error) {
  console.error((error as Error).message);
  process.exitCode = 1;
}
