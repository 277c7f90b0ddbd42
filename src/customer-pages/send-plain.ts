import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Company } from '../platform/database/generated/client.ts';
import type { Html } from '../platform/html/html.ts';
import { keepLanguage, languageOf } from './language-of.ts';
import { numberIn } from './link-at.ts';
import { pagePath } from './link-cookie.ts';
import type { PageDeps } from './page-deps.ts';
import { type PlainPage, troublePage } from './plain-pages.ts';
import { sendPage } from './send-page.ts';

/**
 * Sends a page without a quote. Whose page it is stands in the database; when that cannot be read
 * either, the page says so without a letterhead, for this is how its trouble is told.
 */
export async function sendPlain(
  { db }: PageDeps,
  request: FastifyRequest,
  reply: FastifyReply,
  page: (shown: PlainPage) => Html,
) {
  const language = languageOf(request);
  let company: Company | null;
  try {
    company = await db.prisma.company.findUnique({ where: { id: 1 } });
  } catch (error) {
    request.log.error({ err: error }, 'letterhead not read');
    if (reply.statusCode < 500) reply.code(503);
    return sendPage(reply, language, troublePage(language));
  }
  // Nobody has set this service up yet, so nobody's page can be shown.
  if (company === null) return reply.code(404).type('text/plain').send('There is no quote here.');
  keepLanguage(request, reply);
  return sendPage(reply, language, page({ company, language, path: plainPath(request) }));
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
