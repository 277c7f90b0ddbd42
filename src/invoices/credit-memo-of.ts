import type { z } from 'zod';
import type { Actor } from '../platform/access/actor.ts';
import { notFound } from '../platform/http/problem.ts';
import { creditMemoBody } from './answer-invoice.ts';
import type { creditMemoSchema } from './contract.ts';
import type { Store } from './store.ts';
import { ownInvoices } from './whole-invoice.ts';

/**
 * A credit memo of an invoice that whoever asks may see.
 * @throws ProblemError 404, the same for one that does not exist and one that is not theirs
 */
export async function creditMemoOf(
  { prisma }: Pick<Store, 'prisma'>,
  actor: Actor,
  id: string,
): Promise<z.input<typeof creditMemoSchema>> {
  const memo = await prisma.creditMemo.findFirst({
    where: { id, invoice: ownInvoices(actor) },
    omit: { paper: true },
    include: { lines: { orderBy: { position: 'asc' } } },
  });
  if (memo === null) throw notFound('credit memo');
  return creditMemoBody(memo);
}
