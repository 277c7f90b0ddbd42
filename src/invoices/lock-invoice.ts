import { type InvoiceAction, type InvoiceState, invoiceLifecycle } from '../lifecycles/index.ts';
import { sqlOf } from '../platform/database/database.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { moveOrRefuse } from '../platform/http/move-or-refuse.ts';
import { notFound } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { storeOf } from './store.ts';
import { invoiceOf, ownInvoices, type WholeInvoice } from './whole-invoice.ts';

type DraftInvoice = Extract<WholeInvoice, { state: 'draft' }>;
export type IssuedInvoice = Exclude<WholeInvoice, DraftInvoice>;

/**
 * Locks a draft invoice, and its ticket before it, until the transaction ends: nobody cancels a yes
 * or closes the ticket again while it is billed.
 * @throws ProblemError 404 when it is not theirs, 412 when the request means another version, 409
 *   when it was issued before
 */
export async function lockDraft(act: ActContext, id: string): Promise<DraftInvoice> {
  await lockRow(act.tx, 'ticket', await ownTicketOf(act, id));
  const invoice = await lock(act, id);
  return whileDraft(invoice);
}

/**
 * Locks an issued invoice until the transaction ends: whoever else takes or gives money for it
 * waits. What was paid is read only then.
 * @throws ProblemError 404 when it is not theirs, 412 when the request means another version, 409
 *   when the action is not possible: of a draft, and of a settled one where it would need a balance
 */
export async function lockIssued(
  act: ActContext,
  id: string,
  action: InvoiceAction,
): Promise<IssuedInvoice> {
  await ownTicketOf(act, id);
  const invoice = await lock(act, id);
  allowOrRefuse(invoice.state, action);
  return onceIssued(invoice);
}

/** As `lockIssued`, for what the program does by itself: it means the invoice as it is. */
export async function lockIssuedUnseen(
  act: Pick<ActContext, 'tx'>,
  id: string,
): Promise<IssuedInvoice> {
  await sqlOf(act.tx).query(LOCK, [id]);
  return onceIssued(await invoiceOf(storeOf(act), undefined, id));
}

/**
 * Locks all invoices of a ticket, whose row is locked, before a number is taken: a credit that the
 * issue of one brings with it may be of another.
 */
export async function lockInvoicesOf(
  { tx }: Pick<ActContext, 'tx'>,
  ticketId: string,
): Promise<void> {
  await sqlOf(tx).query(LOCK_ALL, [ticketId]);
}

/** Before any lock: nobody holds or waits for what is another's. */
async function ownTicketOf({ tx, actor }: ActContext, id: string): Promise<string> {
  const found = await tx.invoice.findFirst({
    where: { id, ...ownInvoices(actor) },
    select: { ticketId: true },
  });
  if (found === null) throw notFound('invoice');
  return found.ticketId;
}

async function lock(act: ActContext, id: string): Promise<WholeInvoice> {
  await sqlOf(act.tx).query(LOCK, [id]);
  const invoice = await invoiceOf(storeOf(act), act.actor, id);
  act.mustMatch(invoice.etag);
  return invoice;
}

function whileDraft(invoice: WholeInvoice): DraftInvoice {
  allowOrRefuse(invoice.state, 'issue');
  if (invoice.state === 'draft') return invoice;
  throw new Error('only a draft is issued');
}

function onceIssued(invoice: WholeInvoice): IssuedInvoice {
  if (invoice.state !== 'draft') return invoice;
  throw new Error('a draft holds no money');
}

function allowOrRefuse(from: InvoiceState, action: InvoiceAction): void {
  moveOrRefuse('invoice', invoiceLifecycle, from, action, whyNot(from, action));
}

/** What stands in the way, as far as the table refuses anything. */
function whyNot(from: InvoiceState, action: InvoiceAction): string {
  if (action === 'issue') return 'It was issued before.';
  if (from === 'draft') return 'Issue it first.';
  return action === 'refund'
    ? 'It is settled: nothing was overpaid.'
    : 'It is settled: nothing is owed.';
}

const LOCK = 'SELECT 1 FROM invoice_state WHERE invoice_id = $1 FOR NO KEY UPDATE';
const LOCK_ALL = `
  SELECT 1 FROM invoice_state s JOIN invoice i ON i.id = s.invoice_id
  WHERE i.ticket_id = $1 ORDER BY s.invoice_id FOR NO KEY UPDATE OF s`;
