import { sqlOf } from '../platform/database/database.ts';
import { versionTag } from '../platform/http/etag.ts';
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

/** What an act leaves of its invoice, so that the next act needs no look at it in between. */
export interface InvoiceAfter {
  invoiceEtag: string;
  balanceCents: number;
}

/** What is left of a locked invoice after the one step that `restInvoice` counts it up by. */
export function invoiceAfter({ version }: { version: number }, balanceCents: number): InvoiceAfter {
  return { invoiceEtag: versionTag(version + 1), balanceCents };
}

const REST = `
  UPDATE invoice_state SET state = $2::invoice_state_name, version = version + 1, changed_at = $3
  WHERE invoice_id = $1`;
