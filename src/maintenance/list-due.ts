import { z } from 'zod';
import { companyOf, localDay } from '../company/index.ts';
import { cutPageByKey, pageQuery, startAfterKey } from '../platform/http/page.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { type dueMaintenanceSchema, monthSchema } from './contract.ts';
import { type DueMonth, dueMonths } from './due-months.ts';

export const dueListQuery = z.strictObject({
  ...pageQuery,
  until: monthSchema.optional().meta({ description: 'The last month; this one unless given.' }),
});

type Due = z.input<typeof dueMaintenanceSchema>;

/**
 * The maintenance that is due and has no ticket yet, the longest overdue first, with whom to call.
 * @throws ProblemError 400 for a cursor of another list
 */
export async function listDue(
  { prisma, sql, now }: Pick<ReadContext, 'prisma' | 'sql' | 'now'>,
  { limit, cursor, until }: z.output<typeof dueListQuery>,
) {
  const listing = { list: 'maintenance_due', until };
  const { timeZone } = await companyOf(prisma);
  const today = localDay(now, timeZone);
  const thisMonth = today.slice(0, 7);
  const [dueMonth, agreementId] = startAfterKey(cursor, listing, keySchema)?.split(' ') ?? [];
  const after =
    dueMonth !== undefined && agreementId !== undefined ? { dueMonth, agreementId } : undefined;
  const rows = await dueMonths(sql, {
    ...{ today, until: until ?? thisMonth, limit: limit + 1 },
    ...(after && { after }),
  });
  const page = cutPageByKey(rows, limit, listing, keyOf);
  return { ...page, items: await told(prisma, page.items, thisMonth) };
}

const keySchema = z.string().regex(/^\d{4}-\d{2} [0-9a-f-]{36}$/);

function keyOf({ dueMonth, agreementId }: DueMonth): string {
  return `${dueMonth} ${agreementId}`;
}

async function told(
  prisma: ReadContext['prisma'],
  rows: readonly DueMonth[],
  thisMonth: string,
): Promise<Due[]> {
  const occupant = { select: { id: true, name: true, phone: true, language: true } };
  const sites = await prisma.site.findMany({
    where: { id: { in: rows.map(({ siteId }) => siteId) } },
    select: { id: true, street: true, city: true, occupant },
  });
  return rows.flatMap((row) =>
    sites
      .filter(({ id }) => id === row.siteId)
      .map(({ id: _, ...site }) => ({ ...row, ...site, overdue: row.dueMonth < thisMonth })),
  );
}
