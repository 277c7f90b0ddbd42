import { z } from 'zod';
import { cutPageByKey, pageQuery, startAfterKey } from '../platform/http/page.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { callBackBody, withCaller } from './call-back-body.ts';

export const callBackListQuery = z.strictObject(pageQuery);

/**
 * The call backs that nobody has made yet, the one due first at the top.
 * @throws ProblemError 400 for a cursor of another list
 */
export async function listCallBacks(
  { prisma }: Pick<ReadContext, 'prisma'>,
  { limit, cursor }: z.output<typeof callBackListQuery>,
) {
  const listing = { list: 'call_backs' };
  const [dueAt, id] = startAfterKey(cursor, listing, keySchema)?.split(' ') ?? [];
  const rows = await prisma.callBack.findMany({
    where: {
      madeAt: null,
      ...(dueAt !== undefined && id !== undefined && beyond(new Date(dueAt), id)),
    },
    orderBy: [{ dueAt: 'asc' }, { id: 'asc' }],
    include: withCaller,
    take: limit + 1,
  });
  return cutPageByKey(rows.map(callBackBody), limit, listing, (row) => `${row.dueAt} ${row.id}`);
}

const keySchema = z.string().regex(/^\d{4}-\d{2}-\d{2}T[\d:.]+Z [0-9a-f-]{36}$/);

function beyond(dueAt: Date, id: string) {
  return { OR: [{ dueAt: { gt: dueAt } }, { dueAt, id: { gt: id } }] };
}
