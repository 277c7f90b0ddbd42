import { companyOf, localDay } from '../company/index.ts';
import type { ActContext } from '../platform/http/route.ts';
import { bookInForce } from '../pricebook/index.ts';
import type { BillFacts } from './bill-mistakes.ts';

/**
 * What bills are held against: the parts that their lines name, as the price book in force has
 * them, and the day.
 * @throws ProblemError 409 when no price book is in force
 */
export async function billFacts(
  { tx, now }: Pick<ActContext, 'tx' | 'now'>,
  codes: readonly string[],
): Promise<BillFacts & { priceBookId: string }> {
  const { id: priceBookId } = await bookInForce(tx, now);
  const found = await tx.priceBookPart.findMany({
    where: { versionId: priceBookId, code: { in: [...new Set(codes)] } },
    select: { code: true, name: true, packQuantity: true },
  });
  const parts = new Map(
    found.map(({ code, name, packQuantity }) => [
      code,
      { name, packQuantity: packQuantity?.toFixed() ?? null },
    ]),
  );
  const { timeZone } = await companyOf(tx);
  return { parts, today: localDay(now, timeZone), priceBookId };
}
