import { sqlOf } from '../platform/database/database.ts';
import type { ActContext } from '../platform/http/route.ts';

/**
 * Sets the state of a locked invoice by its balance, after money or an issue, and gives it a new
 * version. The database refuses a state that does not follow from the balance.
 */
export async function restInvoice(
  act: Pick<ActContext, 'tx' | 'now'>,
  invoiceId: string,
  balanceCents: number,
): Promise<'issued' | 'settled'> {
  const state = balanceCents === 0 ? 'settled' : 'issued';
  await sqlOf(act.tx).query(REST, [invoiceId, state, act.now]);
  return state;
}

const REST = `
  UPDATE invoice_state SET state = $2::invoice_state_name, version = version + 1, changed_at = $3
  WHERE invoice_id = $1`;
