import type { FastifyRequest } from 'fastify';
import type { ActContext } from '../platform/http/route.ts';
import type { PageDeps } from './page-deps.ts';

/** When and from where a request of a page came, for whatever is done on it. */
export function actContext({ ids, typeBase }: PageDeps, request: FastifyRequest, now: Date) {
  const userAgent = request.headers['user-agent'];
  return {
    now,
    newId: () => ids.next(),
    requestId: request.id,
    log: request.log as ActContext['log'],
    origin: { address: request.ip, ...(userAgent !== undefined && { userAgent }) },
    addressOf: (path: `/${string}`) =>
      `${typeBase || `${request.protocol}://${request.host}`}${path}`,
  };
}
