import type { FastifyReply, FastifyRequest } from 'fastify';
import { type PlainPage, sendPlain as sendFramed } from '../page-frame/index.ts';
import type { Html } from '../platform/html/html.ts';
import { numberIn } from './link-at.ts';
import { pagePath } from './link-cookie.ts';
import type { PageDeps } from './page-deps.ts';

/** Sends a page without a quote. */
export async function sendPlain(
  deps: PageDeps,
  request: FastifyRequest,
  reply: FastifyReply,
  page: (shown: PlainPage) => Html,
) {
  return sendFramed(deps, request, reply, { path: plainPath(request), page });
}

/** Where the same is shown in another language; an address with a token is named nowhere. */
function plainPath(request: FastifyRequest): string {
  const number = numberIn(request);
  if (number === undefined) return '/your-quote';
  const isClosed = request.routeOptions.url?.endsWith('/closed') === true;
  return isClosed ? closedPath(number) : pagePath(number);
}

/** Where a quote that was closed on a device says so. */
export function closedPath(quoteNumber: number): string {
  return `${pagePath(quoteNumber)}/closed`;
}
