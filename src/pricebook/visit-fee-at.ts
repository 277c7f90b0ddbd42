import { companyOf } from '../company/index.ts';
import type { Tx } from '../platform/database/database.ts';
import { type BookHead, bookInForce } from './book-in-force.ts';
import type { SchedulePeriod } from './contract.ts';
import { periodAt } from './period-at.ts';

/** The fee schedule's row for a window, and the price book it stands in. */
export interface VisitFeeAt {
  book: BookHead;
  period: SchedulePeriod;
}

/**
 * The visit fee for an arrival window, by the price book in force now: it is what the caller is
 * told and agrees to now.
 * @throws ProblemError 409 when no price book is in force
 */
export async function visitFeeAt(
  prisma: Pick<Tx, 'priceBookVersion' | 'company'>,
  windowStart: Date,
  now: Date,
): Promise<VisitFeeAt> {
  const book = await bookInForce(prisma, now);
  const { timeZone } = await companyOf(prisma);
  return { book, period: periodAt(book.periods, windowStart, timeZone) };
}
