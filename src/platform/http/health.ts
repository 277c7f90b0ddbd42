import type { FastifyInstance } from 'fastify';
import type { Database } from '../database/database.ts';
import { ProblemError } from './problem.ts';

/** Whether the process lives, and whether it can do its work. Neither tells details. */
export function healthRoutes(app: FastifyInstance, db: Database): void {
  const open = { schema: { hide: true }, config: { access: 'public' } } as const;
  app.get('/healthz', open, async () => ({ status: 'ok' }));
  app.get('/readyz', open, async () => {
    try {
      await db.pool.query('SELECT 1');
    } catch {
      throw new ProblemError('unavailable', 'The database cannot be reached.');
    }
    return { status: 'ready' };
  });
}
