import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import pg from 'pg';
import type { TestProject } from 'vitest/node';
import { startEmbedded } from '../../src/platform/database/embedded/index.ts';
import { migrate } from '../../src/platform/database/migrate.ts';
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
  await admin(server.url, `CREATE DATABASE ${templateName}`);
  await migrate(withDatabase(server.url, templateName));
  project.provide('serverUrl', server.url);
  project.provide('templateName', templateName);
  return async () => {
    await admin(server.url, `DROP DATABASE ${templateName} WITH (FORCE)`);
    await server.stop();
  };
}

async function findServer(): Promise<{ url: string; stop(): Promise<void> }> {
  const given = process.env['DATABASE_URL'];
  if (given) return { url: given, stop: async () => undefined };
  const dataDir = await mkdtemp(path.join(tmpdir(), 'evenhand-test-'));
  const server = await startEmbedded({ dataDir });
  return {
    url: server.superuserUrl,
    stop: async () => {
      await server.stop();
      await rm(dataDir, { recursive: true, force: true });
    },
  };
}

async function admin(url: string, statement: string): Promise<void> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  await client.query(statement);
  await client.end();
}
