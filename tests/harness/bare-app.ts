import type { FastifyInstance } from 'fastify';
import { type Logger, pino } from 'pino';
import { createBoardFeed, type FeedBounds } from '../../src/board/index.ts';
import type { Database } from '../../src/platform/database/database.ts';
import { createServer } from '../../src/platform/http/create-server.ts';
import { mountRoutes } from '../../src/platform/http/mount.ts';
import type { Route } from '../../src/platform/http/route.ts';
import { timedIds } from '../../src/platform/ids.ts';
import { newFactorKey } from '../../src/sign-in/index.ts';
import { fixedClock } from './fixed-clock.ts';
import { testPapers } from './test-papers.ts';

/** An application of nothing but the mount, for routes that exist in one test only. */
export async function createBareApp(
  db: Database,
  routes: readonly Route[],
  {
    clock = fixedClock(),
    log = pino({ level: 'silent' }) as Logger,
    feedBounds = {} as Partial<FeedBounds>,
  } = {},
): Promise<FastifyInstance> {
  const app = createServer({ log, typeBase: '' });
  await app.register(async (scope) => {
    const board = createBoardFeed({ db, log }, feedBounds);
    scope.addHook('preClose', async () => board.close());
    const entranceTools = { factorKey: newFactorKey() };
    const tools = { entranceTools, fileTools: { papers: testPapers() }, streamTools: { board } };
    const requireCompany = async () => undefined;
    const deps = { db, clock, ids: timedIds(clock), typeBase: '', requireCompany };
    mountRoutes(scope, routes, { ...deps, ...tools });
  });
  await app.listen({ port: 0, host: '127.0.0.1' });
  return app;
}
