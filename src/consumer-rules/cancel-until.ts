import { endOfLocalDay, localDay } from '../company/index.ts';
import { lastDayToCancel, rulesThatApply } from '../consumer-law/index.ts';
import type { Tx } from '../platform/database/database.ts';
import { rulesOn } from './rules-on.ts';

/** A yes as far as the right to take it back depends on it. */
export interface Yes {
  jurisdiction: string;
  totalCents: number;
  acceptedAt: Date;
  timeZone: string;
}

/**
 * Until when a yes may be taken back: the midnight that ends the last day to cancel, on the
 * company's clock. Of several rights the longest counts.
 * @returns null where no rule gives that right to a sale of this size
 */
export async function cancelUntilOf(
  prisma: Pick<Tx, 'consumerRule'>,
  { jurisdiction, totalCents, acceptedAt, timeZone }: Yes,
): Promise<Date | null> {
  const acceptedOn = localDay(acceptedAt, timeZone);
  const rules = rulesThatApply(await rulesOn(prisma, jurisdiction, acceptedOn), totalCents);
  const lastDays = rules
    .filter((rule) => rule.kind === 'cancel_right')
    .map((rule) => lastDayToCancel(acceptedOn, rule))
    .sort();
  const last = lastDays.at(-1);
  return last === undefined ? null : endOfLocalDay(new Date(`${last}T12:00:00Z`), 0, timeZone);
}
