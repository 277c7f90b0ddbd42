import type { Actor } from '../platform/access/actor.ts';
import { canonicalJson } from '../platform/canonical-json.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import { versionTag } from '../platform/http/etag.ts';
import { notFound } from '../platform/http/problem.ts';
import { sha256 } from '../platform/sha256.ts';
import { ownTickets } from '../staff/index.ts';
import { type Bill, billOf } from './bill-of.ts';
import { type InvoiceMoney, moneyOf } from './money-of.ts';
import type { Store } from './store.ts';

const parts = {
  state: true,
  issue: { omit: { paper: true } },
  ticket: { select: { number: true, createdAt: true } },
  documents: {
    omit: { inputs: true },
    include: { lines: { orderBy: { position: 'asc' } } },
    orderBy: { position: 'asc' },
  },
  payments: { include: { voided: true }, orderBy: { id: 'asc' } },
  refunds: { orderBy: { id: 'asc' } },
  creditMemos: {
    omit: { paper: true },
    include: { lines: { orderBy: { position: 'asc' } } },
    orderBy: { number: 'asc' },
  },
} as const satisfies Prisma.InvoiceInclude;

export type StoredInvoice = Prisma.InvoiceGetPayload<{ include: typeof parts }>;
type Issue = NonNullable<StoredInvoice['issue']>;

/** An invoice with everything that belongs to it. */
export type WholeInvoice = { stored: StoredInvoice; version: number; etag: string } & (
  | { state: 'draft'; bill: Bill }
  | { state: 'issued' | 'settled'; issue: Issue; money: InvoiceMoney }
);

/**
 * An invoice that whoever asks may see: a technician those of tickets with a visit of theirs.
 * @throws ProblemError 404, the same for one that does not exist and one that is not theirs
 */
export async function invoiceOf(
  store: Store,
  actor: Actor | undefined,
  id: string,
): Promise<WholeInvoice> {
  const stored = await store.prisma.invoice.findFirst({
    where: { id, ...(actor && ownInvoices(actor)) },
    include: parts,
  });
  if (stored === null) throw notFound('invoice');
  if (stored.state === null) throw new Error(`invoice ${id} has no state`);
  const { state, version } = stored.state;
  const { issue } = stored;
  if (state === 'draft') {
    const bill = await billOf(store, stored.closingId);
    return { stored, version, state: 'draft', bill, etag: draftTag(version, bill) };
  }
  if (issue === null) throw new Error(`invoice ${id} is ${state} and was never issued`);
  const money = moneyOf(stored, issue);
  return { stored, version, state, issue, money, etag: versionTag(version) };
}

/** Which invoices a member of staff may see, as a condition to read them by. */
export function ownInvoices(actor: Actor): Prisma.InvoiceWhereInput {
  return { ticket: ownTickets(actor) };
}

/**
 * What a draft bills changes without anybody writing to it, when a yes is cancelled in time, say.
 * So its tag is also of what it would bill.
 */
function draftTag(version: number, { documents }: Bill): string {
  const amounts = documents.map(({ kind, lines }) => [
    kind,
    lines.map(({ key, amountCents }) => [key, amountCents]),
  ]);
  return versionTag(version, `-${sha256(canonicalJson(amounts)).slice(0, 12)}`);
}
