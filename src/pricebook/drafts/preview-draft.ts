import type { ReadContext } from '../../platform/http/route.ts';
import {
  type Agreement,
  betterOfAgreements,
  laborRateCents,
  type OtherBook,
} from '../../pricing/index.ts';
import { bookInForce } from '../book-in-force.ts';
import type { SchedulePeriod } from '../contract.ts';
import type { BookName } from '../lock-newest-book.ts';
import { compareBooks } from './compare-books.ts';
import type { DraftPreview } from './contract.ts';
import { type DraftHead, readDraft } from './draft-row.ts';
import { lastIssued } from './last-issued.ts';
import { otherBook } from './other-book.ts';
import { priceUnder } from './price-under.ts';
import { storedContent } from './stored-content.ts';
import { summarize } from './summarize.ts';

/**
 * What a draft would change: against the price book in force, and in the quotes issued last.
 * Nothing is stored.
 * @throws ProblemError 404, or 409 when there is no price book in force to compare with
 */
export async function previewDraft(
  { prisma, sql, now }: Pick<ReadContext, 'prisma' | 'sql' | 'now'>,
  id: string,
  quoteCount: number,
): Promise<DraftPreview> {
  const draft = await readDraft(sql, id);
  const { id: priceBookId, number } = await bookInForce(prisma, now);
  const inForce = await storedContent(sql, priceBookId);
  if (inForce === undefined) throw new Error('a price book in force has a content');
  const changes = compareBooks(inForce, draft.content);
  const book = otherBook(draft.content);
  const issued = await lastIssued(sql, quoteCount);
  const quotes = issued.map((quote) => ({
    quoteId: quote.quoteId,
    number: quote.number,
    revision: quote.revision,
    issuedAt: quote.issuedAt.toISOString(),
    plan: planOf(quote.inputs.agreement, book),
    options: priceUnder(quote, book),
  }));
  return {
    draftId: id,
    draftVersion: draft.version,
    inForce: { priceBookId, number },
    outdatedBy: await outdatedBy(prisma, draft),
    changesNothing: changes.length === 0,
    changes: changes.slice(0, CHANGES_MAX),
    moreChanges: Math.max(0, changes.length - CHANGES_MAX),
    laborRate: {
      beforeCents: laborRateCents(inForce.rates),
      afterCents: laborRateCents(draft.content.rates),
    },
    visitFees: compareFees(inForce.periods, draft.content.periods),
    feesTold: FEES_TOLD,
    quotes,
    summary: summarize(quotes),
  };
}

async function outdatedBy(
  prisma: ReadContext['prisma'],
  { basedOn }: DraftHead,
): Promise<BookName | null> {
  const newest = await prisma.priceBookVersion.findFirst({
    orderBy: { number: 'desc' },
    select: { id: true, number: true },
  });
  return newest?.id === basedOn?.id ? null : newest;
}

/** By which plan a quote under an agreement is priced again: see `substituteBook`. */
function planOf(
  agreement: Agreement | undefined,
  { agreements }: OtherBook,
): DraftPreview['quotes'][number]['plan'] {
  if (agreement === undefined) return null;
  const plan = agreements.get(agreement.code);
  return plan === undefined ? agreement : betterOfAgreements(agreement, plan);
}

function compareFees(before: readonly SchedulePeriod[], after: readonly SchedulePeriod[]) {
  const codes = new Set([...before, ...after].map(({ code }) => code));
  const feeIn = (periods: readonly SchedulePeriod[], wanted: string) =>
    periods.find(({ code }) => code === wanted)?.visitFeeCents ?? null;
  return [...codes].map((periodCode) => ({
    periodCode,
    beforeCents: feeIn(before, periodCode),
    afterCents: feeIn(after, periodCode),
  }));
}

/** More than anybody reads; a new supplier's catalog changes fifty thousand. */
const CHANGES_MAX = 1_000;

const FEES_TOLD =
  'Each quote keeps the visit fee that its customer was told. A new fee counts for visits booked ' +
  'after this book takes effect, and is not part of these totals.';
