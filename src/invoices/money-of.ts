import { balanceOf, type Money } from '../billing/index.ts';
import type { Tx } from '../platform/database/database.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import { addCents, type Cents, cents } from '../pricing/index.ts';

/** What came in and went out for an invoice, and what is still owed; below zero, we owe it. */
export type InvoiceMoney = Money & { readonly balanceCents: number };

const moved = {
  creditMemos: { select: { totalCents: true } },
  payments: { select: { amountCents: true, voided: true } },
  refunds: { select: { amountCents: true } },
} as const satisfies Prisma.InvoiceSelect;

/** How the money of an issued invoice stands now. */
export async function readMoney(
  prisma: Pick<Tx, 'invoice'>,
  invoiceId: string,
): Promise<InvoiceMoney> {
  const { issue, ...stored } = await prisma.invoice.findUniqueOrThrow({
    where: { id: invoiceId },
    select: { issue: { select: { totalCents: true } }, ...moved },
  });
  if (issue === null) throw new Error(`invoice ${invoiceId} was never issued`);
  return moneyOf(stored, issue);
}

/** The same of an invoice that was read before. */
export function moneyOf(
  stored: Prisma.InvoiceGetPayload<{ select: typeof moved }>,
  { totalCents }: { totalCents: number },
): InvoiceMoney {
  const money = {
    totalCents,
    creditedCents: sumOf(stored.creditMemos.map((memo) => memo.totalCents)),
    paidCents: sumOf(
      stored.payments.filter(({ voided }) => voided === null).map((paid) => paid.amountCents),
    ),
    refundedCents: sumOf(stored.refunds.map(({ amountCents }) => amountCents)),
  };
  return { ...money, balanceCents: balanceOf(money) };
}

/** Whole cents as they are stored, added up. */
export function sumOf(amounts: readonly number[]): Cents {
  return addCents(amounts.map(cents));
}
