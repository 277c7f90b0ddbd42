import type { FastifyInstance } from 'fastify';
import { pino } from 'pino';
import { buildApp } from '../../src/app.ts';
import type { Database } from '../../src/platform/database/database.ts';
import { timedIds } from '../../src/platform/ids.ts';
import { fixedClock } from '../harness/fixed-clock.ts';
import { testPapers } from '../harness/test-papers.ts';

/** The application without a database, for what can be told without asking one. */
export async function offlineApp(): Promise<FastifyInstance> {
  const clock = fixedClock();
  const log = pino({ level: 'silent' });
  const papers = testPapers();
  const app = await buildApp({ db: {} as Database, clock, ids: timedIds(clock), log, papers });
  await app.ready();
  return app;
}
