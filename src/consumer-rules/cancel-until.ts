import { endOfLocalDay, localDay } from '../company/index.ts';
import { type CancelTerms, lastDayToCancel, rulesThatApply } from '../consumer-law/index.ts';
import type { Tx } from '../platform/database/database.ts';
import { cancelTermsOf } from './cancel-terms-of.ts';

/** A yes as far as the right to take it back depends on it. */
export interface Yes {
  jurisdiction: string;
  totalCents: number;
  acceptedAt: Date;
  timeZone: string;
  /** What the paper that was agreed to promises, whatever has become of the rule since. */
  promised: readonly CancelTerms[];
}

/**
 * Until when a yes may be taken back: the midnight that ends the last day to cancel, on the
 * company's clock. Of several rights, those of the paper and those of the place on the day of the
 * yes, the longest counts.
 * @returns null where nothing gives that right to a sale of this size
 */
export async function cancelUntilOf(
  prisma: Pick<Tx, 'consumerRule'>,
  { jurisdiction, totalCents, acceptedAt, timeZone, promised }: Yes,
): Promise<Date | null> {
  const acceptedOn = localDay(acceptedAt, timeZone);
  const ofPlace = await cancelTermsOf(prisma, { jurisdiction, day: acceptedOn, totalCents });
  const lastDays = [...rulesThatApply(promised, totalCents), ...ofPlace]
    .map((terms) => lastDayToCancel(acceptedOn, terms))
    .sort();
  const last = lastDays.at(-1);
  return last === undefined ? null : endOfLocalDay(new Date(`${last}T12:00:00Z`), 0, timeZone);
}
