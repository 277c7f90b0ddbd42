import type { FastifyInstance } from 'fastify';
import type { NotReady } from '../readiness.ts';
import { ProblemError } from './problem.ts';

/**
 * `/healthz`: whether the process lives; it asks nobody, for a restart mends no database.
 * `/readyz`: whether requests should be sent here. Neither tells details.
 * @param whyNotReady see `createReadiness`
 */
export function healthRoutes(
  app: FastifyInstance,
  whyNotReady: () => Promise<NotReady | undefined>,
): void {
  const open = {
    schema: { hide: true },
    config: { access: 'public', alwaysAnswers: true },
  } as const;
  app.get('/healthz', open, async () => ({ status: 'ok' }));
  app.get('/readyz', open, async () => {
    const reason = await whyNotReady();
    if (reason !== undefined) throw new ProblemError('unavailable', reason);
    return { status: 'ready' };
  });
}

declare module 'fastify' {
  interface FastifyContextConfig {
    /** Also while the service is too far behind to begin other work. */
    alwaysAnswers?: boolean;
  }
}
