import { execFile } from 'node:child_process';
import path from 'node:path';
import { promisify } from 'node:util';
import { pino } from 'pino';
import supertest from 'supertest';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readConfig } from '../../src/platform/config.ts';
import { type Running, start } from '../../src/start.ts';
import { createEmptyDatabase } from '../harness/test-database.ts';

const root = path.resolve(import.meta.dirname, '../..');
const who = {
  name: 'Odalys Fernsby',
  email: 'odalys@sparrowgate.example.com',
  password: 'seven quiet lanterns by the mill',
};

let database: Awaited<ReturnType<typeof createEmptyDatabase>>;
let running: Running;
beforeAll(async () => {
  database = await createEmptyDatabase();
  const config = readConfig({ DATABASE_URL: database.url, PORT: '0' });
  running = await start(config, pino({ level: 'silent' }));
});
afterAll(async () => {
  await running.stop();
  await database.drop();
});

/** What the command prints. */
async function firstOwner(): Promise<string> {
  const argv = ['--import', 'tsx', path.join(root, 'src/first-owner.ts')];
  const env = { PATH: process.env['PATH'] ?? '', DATABASE_URL: database.url };
  const { stdout } = await promisify(execFile)(process.execPath, argv, { cwd: root, env });
  return stdout;
}

function tokenIn(printed: string): string {
  const token = /"token":"([\w-]{43})"/.exec(printed)?.[1];
  if (token === undefined) throw new Error(`no token in: ${printed}`);
  return token;
}

describe('the first owner of a new service', () => {
  it('comes in by the newest printed token, signs in, and then nobody is offered another', async () => {
    const api = supertest(running.url);
    const old = tokenIn(await firstOwner());
    const printed = await firstOwner();
    const token = tokenIn(printed);
    expect(printed).toContain(`In a browser: /set-password/${token}\n`);
    const use = (with_: string) => api.post('/v1/sign-in-links/use').send({ ...who, token: with_ });
    expect((await use(old)).status).toBe(404);
    const used = await use(token);
    expect([used.status, used.body.staff]).toMatchObject([200, { name: who.name, role: 'owner' }]);
    expect((await use(token)).status).toBe(404);
    const { email, password } = who;
    const session = await api.post('/v1/sign-in').send({ email, password });
    expect(session.status).toBe(200);
    const me = await api.get('/v1/me').set('authorization', `Bearer ${session.body.token}`);
    expect([me.status, me.body]).toMatchObject([200, { name: who.name, role: 'owner', email }]);
    expect(await firstOwner()).toContain('Somebody can sign in already.');
  }, 120_000);
});
