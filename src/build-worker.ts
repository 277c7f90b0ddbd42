import type { FastifyInstance } from 'fastify';
import type { Logger } from 'pino';
import type { Registry } from 'prom-client';
import { createServer } from './platform/http/create-server.ts';
import { healthRoutes } from './platform/http/health.ts';
import { observeRequests } from './platform/metrics/observe-requests.ts';
import type { NotReady } from './platform/readiness.ts';

/** What a process that takes no requests still answers: whether it lives, and whether it works. */
export function buildWorker({
  log,
  registry,
  whyNotReady,
}: {
  log: Logger;
  registry: Registry;
  whyNotReady: () => Promise<NotReady | undefined>;
}): FastifyInstance {
  const app = createServer({ log, typeBase: '' });
  observeRequests(app, registry);
  healthRoutes(app, whyNotReady);
  return app;
}
