import type { PaperLanguage } from '../documents/index.ts';
import { fileOf, type PaperContext, type StoredFile } from '../papers/index.ts';
import { notFound, ProblemError } from '../platform/http/problem.ts';
import type { BytesContext } from '../platform/http/route.ts';
import { readQuote } from './read-quote.ts';

/** Which paper of a quote: of its latest revision, and in English, unless asked otherwise. */
interface WantedPaper {
  revision?: number | undefined;
  language?: PaperLanguage | undefined;
}

/**
 * The PDF of an issued revision, drawn on the first request and kept.
 * @throws ProblemError 404 for an unknown quote or revision, or one issued without that language;
 *   409 for a revision never issued; 503 while too many papers are being drawn
 */
export async function quoteDocument(
  context: BytesContext,
  quoteId: string,
  { revision, language = 'en' }: WantedPaper = {},
): Promise<StoredFile> {
  const { body } = await readQuote(context.prisma, context, quoteId, revision);
  if (body.contentHash === null) {
    throw new ProblemError('not-allowed-now', 'Only an issued quote has a paper.', {
      currentState: body.state,
      allowedActions: body.allowedActions,
    });
  }
  return issuedDocument(context, { quoteId, revision: body.revision }, language);
}

/**
 * The same for whoever was shown the quote and is not one of our staff.
 * @param issued a revision that has been issued
 * @throws ProblemError 404 when it was issued without that language; 503 while too many papers are
 *   being drawn
 */
export async function issuedDocument(
  context: PaperContext,
  { quoteId, revision }: { quoteId: string; revision: number },
  language: PaperLanguage = 'en',
): Promise<StoredFile> {
  const paper = await context.prisma.paper.findFirst({
    where: { revision: { quoteId, number: revision } },
    select: { id: true },
  });
  if (paper === null) throw notFound('paper');
  return fileOf(context, paper.id, language);
}

/**
 * The PDF of the yes or the no to a quote; undefined while nobody has answered.
 * @throws ProblemError 404 when the quote was issued without that language; 503 while too many
 *   papers are being drawn
 */
export async function answerDocument(
  context: PaperContext,
  quoteId: string,
  language: PaperLanguage = 'en',
): Promise<StoredFile | undefined> {
  const paper = await context.prisma.paper.findFirst({
    where: { OR: [{ acceptanceOf: quoteId }, { declineOf: quoteId }] },
    select: { id: true },
  });
  return paper === null ? undefined : fileOf(context, paper.id, language);
}
