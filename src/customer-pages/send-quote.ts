import type { FastifyReply, FastifyRequest } from 'fastify';
import { languageOf, sendPage } from '../page-frame/index.ts';
import type { LivingLink } from '../quote-links/index.ts';
import { keepLetIn, pagePath, tokenFor } from './link-cookie.ts';
import type { PageDeps } from './page-deps.ts';
import { replacedPage } from './plain-pages.ts';
import { quoteAt } from './quote-at.ts';
import { quotePage, type Shown } from './quote-page.ts';

/** Sends the page of a quote as it stands now, and keeps the device let in for another while. */
export async function sendQuote(
  { db, clock }: PageDeps,
  link: LivingLink,
  request: FastifyRequest,
  reply: FastifyReply,
  shown: Pick<Shown, 'refusal' | 'failed'> = {},
) {
  const now = clock.now();
  const quote = await quoteAt(db.prisma, link, now);
  const language = languageOf(request, quote.customerLanguage);
  keepLetIn(reply, tokenFor(request, link.quoteNumber) ?? '', link, now);
  const page =
    quote.standing.state === 'holder_replaced'
      ? replacedPage(
          { ...quote, language, path: pagePath(quote.number) },
          shown.refusal ?? (shown.failed && 'not_now'),
        )
      : quotePage(quote, { ...shown, language, now, chosen: chosenIn(request) });
  return sendPage(reply, language, page);
}

/** The answer whose form the page's own link asked for. */
function chosenIn(request: FastifyRequest): string | undefined {
  const { answer } = request.query as { answer?: unknown };
  return typeof answer === 'string' ? answer : undefined;
}
