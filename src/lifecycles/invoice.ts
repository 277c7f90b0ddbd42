import { allowedActions, type Lifecycle } from './lifecycle.ts';

export type InvoiceState = 'draft' | 'issued' | 'settled';
export type InvoiceAction = 'issue' | 'pay' | 'void_payment' | 'refund' | 'credit';

/**
 * The life of an invoice. Between issued and settled the balance decides: after every step an
 * invoice on which nothing is owed either way is settled, and any other is not. The database holds
 * the same table in check_invoice_state() and refuses any other step.
 */
export const invoiceLifecycle: Lifecycle<InvoiceState, InvoiceAction> = {
  initial: 'draft',
  moves: {
    draft: { issue: 'issued' },
    issued: { pay: 'issued', void_payment: 'issued', refund: 'issued', credit: 'issued' },
    settled: { void_payment: 'issued', credit: 'issued' },
  },
};

/** The money on an invoice that decides what else may be done with it. */
export interface MoneySoFar {
  totalCents: number;
  creditedCents: number;
  /** What came in and was not voided. */
  paidCents: number;
  /** What is owed; below zero, we owe it. */
  balanceCents: number;
}

/**
 * What may be done with an invoice: what the table says, less what its money leaves nothing of.
 * Nothing is paid unless something is owed, nothing goes back unless something was overpaid, nothing
 * is voided that did not come in, and nothing is credited twice.
 */
export function invoiceActions(state: InvoiceState, money: MoneySoFar): InvoiceAction[] {
  return allowedActions(invoiceLifecycle, state).filter((action) => isLeft[action](money));
}

const isLeft: Record<InvoiceAction, (money: MoneySoFar) => boolean> = {
  issue: () => true,
  pay: ({ balanceCents }) => balanceCents > 0,
  void_payment: ({ paidCents }) => paidCents > 0,
  refund: ({ balanceCents }) => balanceCents < 0,
  credit: ({ totalCents, creditedCents }) => creditedCents < totalCents,
};
