import type { TestProject } from 'vitest/node';
import { migrate } from '../../src/platform/database/migrate.ts';
import { findServer, runOnServer } from './find-server.ts';
import { withDatabase } from './with-database.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** A role that may create databases; every test file copies the template into its own. */
    serverUrl: string;
    templateName: string;
  }
}

/**
 * One real Postgres for the whole run: the server DATABASE_URL names, or an embedded one in a
 * temporary folder. Migrations run once, into a template that every test file copies.
 */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const server = await findServer();
  const templateName = `evenhand_template_${process.pid}`;
  await runOnServer(server.url, `CREATE DATABASE ${templateName}`);
  await migrate(withDatabase(server.url, templateName));
  project.provide('serverUrl', server.url);
  project.provide('templateName', templateName);
  return async () => {
    await runOnServer(server.url, `DROP DATABASE ${templateName} WITH (FORCE)`);
    await server.stop();
  };
}
