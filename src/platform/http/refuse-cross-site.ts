import type { FastifyRequest } from 'fastify';
import { ProblemError } from './problem.ts';

/**
 * Lets a form come from our own pages only. Browsers say where a request comes from in
 * `Sec-Fetch-Site`, which no page can forge; older ones name the origin of a form they send. What
 * says neither is not a browser that holds a cookie of ours.
 * @throws ProblemError 403 for a form of another site, or of nowhere
 */
export function refuseCrossSite(request: Pick<FastifyRequest, 'headers' | 'host'>): void {
  const site = request.headers['sec-fetch-site'];
  const isOwn =
    site === undefined
      ? hostOf(request.headers.origin) === request.host
      : site === 'same-origin' || site === 'none';
  if (!isOwn) throw new ProblemError('forbidden', 'This form was not sent from our own page.');
}

function hostOf(origin: string | undefined): string | undefined {
  if (origin === undefined || !URL.canParse(origin)) return undefined;
  return new URL(origin).host;
}
