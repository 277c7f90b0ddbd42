import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Database } from '../platform/database/database.ts';
import type { Company } from '../platform/database/generated/client.ts';
import type { Html } from '../platform/html/html.ts';
import { keepLanguage, languageOf } from './language-of.ts';
import type { PlainPage } from './plain-page.ts';
import { sendPage } from './send-page.ts';
import { troublePage } from './trouble-page.ts';

/**
 * Sends a page with the company's letterhead. Whose page it is stands in the database; when that
 * cannot be read either, the page says so without a letterhead, for this is how its trouble is told.
 * @param path where the same is shown in another language
 */
export async function sendPlain(
  { db }: { db: Pick<Database, 'prisma'> },
  request: FastifyRequest,
  reply: FastifyReply,
  { path, page }: { path: string; page: (shown: PlainPage) => Html },
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
  if (company === null) return reply.code(404).type('text/plain').send('There is nothing here.');
  keepLanguage(request, reply);
  return sendPage(reply, language, page({ company, language, path }));
}
