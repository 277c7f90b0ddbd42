import { execFile } from 'node:child_process';
import { once } from 'node:events';
import { createServer } from 'node:net';
import path from 'node:path';
import { pino } from 'pino';
import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { readConfig } from '../../src/platform/config.ts';
import { start } from '../../src/start.ts';
import { createEmptyDatabase } from '../harness/test-database.ts';

const root = path.resolve(import.meta.dirname, '../..');

/** What `npm start` says on its error stream before it ends. */
function startedWith(environment: Record<string, string>): Promise<string> {
  return new Promise((resolve) => {
    const argv = ['--import', 'tsx', path.join(root, 'src/main.ts')];
    const env = { PATH: process.env['PATH'] ?? '', LOG_LEVEL: 'silent', ...environment };
    execFile(process.execPath, argv, { cwd: root, env }, (_, __, stderr) => resolve(stderr));
  });
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
