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

/**
 * What may be done with an invoice: what the table says, less what its balance leaves nothing of.
 * Nothing is paid unless something is owed, and nothing goes back unless something was overpaid.
 * @param balanceCents what is owed; below zero, we owe it
 */
export function invoiceActions(state: InvoiceState, balanceCents: number): InvoiceAction[] {
  return allowedActions(invoiceLifecycle, state).filter((action) => {
    if (action === 'pay') return balanceCents > 0;
    return action !== 'refund' || balanceCents < 0;
  });
}
