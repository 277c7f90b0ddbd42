import { execFile, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { createInterface } from 'node:readline';
import { promisify } from 'node:util';
import { pino } from 'pino';
import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { readConfig } from '../../src/platform/config.ts';
import { start } from '../../src/start.ts';
import { createEmptyDatabase } from '../harness/test-database.ts';
import { startArguments } from '../running/process.ts';
import { curlIfMissing } from './curl-if-missing.ts';

const run = promisify(execFile);
const root = path.resolve(import.meta.dirname, '../..');

/** What `npm start` says on its error stream before it ends. */
async function startedWith(environment: Record<string, string>): Promise<string> {
  const argv = await startArguments();
  return new Promise((resolve) => {
    const env = { PATH: process.env['PATH'] ?? '', LOG_LEVEL: 'silent', ...environment };
    execFile(process.execPath, argv, { cwd: root, env }, (_, __, stderr) => resolve(stderr));
  });
}

async function setUpCommands(): Promise<string> {
  const readme = await readFile(path.join(root, 'README.md'), 'utf8');
  return /^```sh set-up\n([\s\S]*?)^```/m.exec(readme)?.[1] ?? '';
}

function endGroup(leader = 0): void {
  try {
    process.kill(-leader, 'SIGKILL');
  } catch {
    // Nobody is left, as it should be.
  }
}

describe('the service on an empty database', () => {
  it('says that nothing is there to look at yet, and its bare address leads to what there is', async () => {
    const database = await createEmptyDatabase();
    const config = readConfig({ DATABASE_URL: database.url, PORT: '0' });
    const running = await start(config, pino({ level: 'silent' }));
    try {
      for (const address of ['/your-quote', '/paper/abc', '/verify']) {
        const page = await supertest(running.url).get(address);
        expect([page.status, page.text]).toEqual([404, 'There is nothing here.']);
      }
      const bare = await supertest(running.url).get('/').redirects(0);
      expect([bare.status, bare.headers['location']]).toEqual([302, '/docs']);
    } finally {
      await running.stop();
      await database.drop();
    }
  });

  it('the README’s own words set a company up, from the first owner to an invitation', async () => {
    const database = await createEmptyDatabase();
    const folder = await mkdtemp(path.join(tmpdir(), 'evenhand-set-up-'));
    const environment = { DATABASE_URL: database.url, PORT: '0', EVENHAND_DATA_DIR: folder };
    const running = await start(readConfig(environment), pino({ level: 'silent' }));
    try {
      const script = `${await curlIfMissing()}${await setUpCommands()}`;
      const env = { ...process.env, ...environment, API: running.url };
      const { stdout } = await run('sh', ['-ec', script], { cwd: root, env });
      const answers = stdout.split(/(?<=\})(?=\{")/).map((text) => JSON.parse(text));
      expect(answers).toMatchObject([
        { staff: { role: 'owner' } },
        { name: 'Sparrowgate Home Comfort', timeZone: 'America/Chicago', version: 1 },
        { jurisdiction: 'quill_county' },
        { number: 1, parts: [{ code: 'FUSE-3' }] },
        { staffId: expect.any(String), token: expect.any(String) },
      ]);
    } finally {
      await running.stop();
      await rm(folder, { recursive: true });
      await database.drop();
    }
  }, 120_000);

  it('by npm start is told to end as npm is, and ends as it should', async () => {
    const database = await createEmptyDatabase();
    const folder = await mkdtemp(path.join(tmpdir(), 'evenhand-npm-start-'));
    const own = { DATABASE_URL: database.url, PORT: '0', EVENHAND_DATA_DIR: folder };
    const env = { PATH: process.env['PATH'] ?? '', ...own };
    // In a group of its own, of which nothing is left below.
    const npm = spawn('npm', ['start'], { cwd: root, env, detached: true });
    try {
      const ended = once(npm, 'exit');
      for await (const line of createInterface({ input: npm.stdout })) {
        if (line.includes('Evenhand answers at')) npm.kill('SIGTERM');
      }
      expect(await ended).toEqual([0, null]);
    } finally {
      endGroup(npm.pid);
      await rm(folder, { recursive: true });
      await database.drop();
    }
  }, 60_000);

  it('on a port that is taken says in one line what to do', async () => {
    const database = await createEmptyDatabase();
    const other = createServer().listen(0, '127.0.0.1');
    await once(other, 'listening');
    try {
      const address = other.address();
      if (address === null || typeof address === 'string') throw new Error('no port is open');
      const port = String(address.port);
      expect(await startedWith({ DATABASE_URL: database.url, PORT: port })).toBe(
        `Port ${port} is taken. Set PORT to another one, or to 0 for any free one.\n`,
      );
    } finally {
      other.close();
      await database.drop();
    }
  });
});
