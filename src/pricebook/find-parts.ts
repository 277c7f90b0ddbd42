import type { Tx } from '../platform/database/database.ts';
import type { PriceBookPart } from '../platform/database/generated/client.ts';

/** Parts of one price book in the order of their codes. */
export function findParts(
  prisma: Pick<Tx, 'priceBookPart'>,
  versionId: string,
  filter: {
    category: string | undefined;
    search: string | undefined;
    after: string | undefined;
    limit: number;
  },
): Promise<PriceBookPart[]> {
  const { category, search, after, limit } = filter;
  return prisma.priceBookPart.findMany({
    where: {
      versionId,
      ...(category !== undefined && { category }),
      ...(after !== undefined && { code: { gt: after } }),
      ...(search !== undefined && {
        OR: [{ code: holding(search) }, { name: holding(search) }],
      }),
    },
    orderBy: { code: 'asc' },
    take: limit,
  });
}

// A percent sign or underscore somebody typed is looked for, it does not stand for anything.
function holding(text: string) {
  return { contains: text.replace(/[\\%_]/g, '\\$&'), mode: 'insensitive' } as const;
}
