import type { FastifyReply, FastifyRequest } from 'fastify';
import { inSameLanguage, sendPlain } from '../page-frame/index.ts';
import { inTx } from '../platform/database/in-tx.ts';
import { refuseCrossSite } from '../platform/http/refuse-cross-site.ts';
import { askLinkAgain } from './ask-link-again.ts';
import { issuedPapers, waitingQuote } from './issued-papers.ts';
import type { PageDeps } from './page-deps.ts';
import { missingPage, paperPage, paperPath } from './paper-page.ts';

/** Shows what was issued under the fingerprint in the address. */
export async function lookUp(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  const contentHash = hashIn(request);
  if (contentHash === undefined) return sendMissing(deps, request, reply);
  const papers = await issuedPapers(deps.db.prisma, contentHash, deps.clock.now());
  if (papers.length === 0) return sendMissing(deps, request, reply);
  const { link } = request.query as { link?: unknown };
  return sendPlain(deps, request, reply, {
    path: paperPath(contentHash),
    page: (to) => paperPage(to, { contentHash, papers, wasAsked: link === 'asked' }),
  });
}

/**
 * Takes the wish for the link. What is answered is the same whatever came of it, and whoever loads
 * that answer again asks for nothing.
 */
export async function askAgain(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  refuseCrossSite(request);
  const contentHash = hashIn(request);
  if (contentHash === undefined) return sendMissing(deps, request, reply);
  const { db, clock, ids } = deps;
  const now = clock.now();
  const papers = await issuedPapers(db.prisma, contentHash, now);
  if (papers.length === 0) return sendMissing(deps, request, reply);
  const waiting = waitingQuote(papers);
  if (waiting !== undefined) {
    const by = { now, newId: () => ids.next(), requestId: request.id };
    const asked = { quoteId: waiting.quoteId, contentHash };
    await inTx(db, (tx) => askLinkAgain({ ...by, tx }, asked));
  }
  const path = inSameLanguage(paperPath(contentHash), request);
  return reply.redirect(`${path}${path.includes('?') ? '&' : '?'}link=asked`, 303);
}

/** A refused form leaves its own address in the browser: whoever asks for it again wants the page. */
export async function backToPaper(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  const contentHash = hashIn(request);
  if (contentHash === undefined) return sendMissing(deps, request, reply);
  return reply.redirect(paperPath(contentHash), 303);
}

/** The one page for everything that leads nowhere. */
export function sendMissing(
  deps: Pick<PageDeps, 'db'>,
  request: FastifyRequest,
  reply: FastifyReply,
) {
  const contentHash = hashIn(request);
  const path = contentHash === undefined ? '/paper' : paperPath(contentHash);
  return sendPlain(deps, request, reply.code(404), { path, page: missingPage });
}

/** The fingerprint in the address, in small letters; none where it is no fingerprint. */
export function hashIn({ params }: FastifyRequest): string | undefined {
  const { hash = '' } = (params ?? {}) as { hash?: string };
  return /^[0-9a-f]{64}$/i.test(hash) ? hash.toLowerCase() : undefined;
}
