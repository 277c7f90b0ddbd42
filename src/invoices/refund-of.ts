import type { z } from 'zod';
import type { Actor } from '../platform/access/actor.ts';
import { notFound } from '../platform/http/problem.ts';
import { refundBody } from './answer-invoice.ts';
import type { refundSchema } from './contract.ts';
import type { Store } from './store.ts';
import { ownInvoices } from './whole-invoice.ts';

/**
 * Money that was given back on an invoice that whoever asks may see.
 * @throws ProblemError 404, the same for one that does not exist and one that is not theirs
 */
export async function refundOf(
  { prisma }: Pick<Store, 'prisma'>,
  actor: Actor,
  id: string,
): Promise<z.input<typeof refundSchema>> {
  const refund = await prisma.refund.findFirst({ where: { id, invoice: ownInvoices(actor) } });
  if (refund === null) throw notFound('refund');
  return refundBody(refund);
}
