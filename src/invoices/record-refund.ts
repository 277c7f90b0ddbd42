import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { newRefundSchema } from './contract.ts';
import { lockIssued } from './lock-invoice.ts';
import { refuseFuture } from './refuse-future.ts';
import { restInvoice } from './rest-invoice.ts';

/**
 * Records money that was given back: of what was overpaid, never more.
 * @returns the id of the refund
 * @throws ProblemError 404 when there is no such invoice, 409 for a draft, 412 when somebody was
 *   first, 422 for more than was overpaid, 400 for money of the future
 */
export async function recordRefund(
  act: ActContext,
  invoiceId: string,
  input: z.output<typeof newRefundSchema>,
): Promise<string> {
  const { money, state: before } = await lockIssued(act, invoiceId, 'refund');
  const { balanceCents } = money;
  if (input.amountCents > -balanceCents) {
    throw new ProblemError('above-balance', 'The refund is more than what was overpaid.', {
      balanceCents,
    });
  }
  const paidAt = refuseFuture(act, '/paidAt', input.paidAt);
  const id = act.newId();
  await act.tx.refund.create({
    data: {
      id,
      invoiceId,
      method: input.method,
      reference: input.reference ?? null,
      amountCents: input.amountCents,
      paidAt,
      recordedAt: act.now,
      recordedById: act.actor.id,
    },
  });
  const state = await restInvoice(act, invoiceId, balanceCents + input.amountCents);
  const { method, amountCents } = input;
  await appendJournal(act, {
    event: 'refund.recorded',
    subject: { kind: 'refund', id },
    before: { state: before },
    after: { invoiceId, method, amountCents, paidAt, state },
  });
  return id;
}
