import type { FastifyRequest } from 'fastify';
import { isOwnMachine } from '../platform/is-own-machine.ts';

/**
 * Whether a browser will keep the Secure cookie of a page: it came by TLS, to us or to a proxy that
 * we trust; or the service is on the reader's own machine; or this is the address that the company
 * itself gives as https, behind a proxy that does not say so.
 */
export function keepsCookies(
  request: Pick<FastifyRequest, 'protocol' | 'hostname' | 'host'>,
  publicUrl: string,
): boolean {
  if (request.protocol === 'https' || isOwnMachine(request.hostname)) return true;
  return publicUrl.startsWith('https:') && new URL(publicUrl).host === request.host;
}
