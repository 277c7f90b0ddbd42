import { type ConsumerRule, consumerRuleSchema } from '../consumer-law/index.ts';
import { dateOfDay } from '../platform/calendar-day.ts';
import type { Tx } from '../platform/database/database.ts';

/**
 * The rules of a jurisdiction on a local day, in the order of their codes.
 * @param day on the company's calendar, as `2026-07-14`
 */
export async function rulesOn(
  prisma: Pick<Tx, 'consumerRule'>,
  jurisdiction: string,
  day: string,
): Promise<ConsumerRule[]> {
  const at = dateOfDay(day);
  const rows = await prisma.consumerRule.findMany({
    where: {
      jurisdiction,
      effectiveFrom: { lte: at },
      OR: [{ effectiveTo: null }, { effectiveTo: { gt: at } }],
    },
    orderBy: { code: 'asc' },
  });
  return rows.map(({ content }) => consumerRuleSchema.parse(content));
}
