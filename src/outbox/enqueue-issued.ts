import type { Doer } from '../journal/index.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import { enqueueDelivery, type Recipient } from './enqueue-delivery.ts';

/**
 * Lets a paper go out by itself to whoever of the people has a mail address: a quote and its answer
 * to whoever approves, what is about money to whoever pays, the record of the work to whoever lives
 * there and whoever pays. The act's own entry in the journal is that of its mails too.
 */
export async function enqueueIssued(
  doer: Pick<Doer, 'tx' | 'now' | 'newId'>,
  paperId: string,
): Promise<void> {
  const paper = await doer.tx.paper.findUniqueOrThrow({
    where: { id: paperId },
    include: withPeople,
  });
  const told = new Set<string>();
  for (const { recipient, customer } of recipientsOf(paper)) {
    if (!customer.email?.trim() || told.has(customer.id)) continue;
    told.add(customer.id);
    await enqueueDelivery(doer, { paperId, channel: 'mail', recipient, customer, cause: 'issued' });
  }
}

const person = { select: { id: true, language: true, email: true } } as const;

const withPeople = {
  ticket: {
    select: { site: { select: { occupant: person, approver: person, payer: person } } },
  },
  // Whoever an invoice was made out to may no longer be who pays at the site.
  invoice: { select: { invoice: { select: { payer: person } } } },
  memo: { select: { invoice: { select: { payer: person } } } },
} as const satisfies Prisma.PaperInclude;

type PaperWithPeople = Prisma.PaperGetPayload<{ include: typeof withPeople }>;

interface Named {
  recipient: Recipient;
  customer: { id: string; language: string; email: string | null };
}

function recipientsOf({ kind, ticket, invoice, memo }: PaperWithPeople): Named[] {
  const { occupant, approver, payer } = ticket.site;
  const billed = invoice?.invoice.payer ?? memo?.invoice.payer;
  if (billed !== undefined) return [{ recipient: 'payer', customer: billed }];
  if (kind === 'work_record') {
    return [
      { recipient: 'occupant', customer: occupant },
      { recipient: 'payer', customer: payer },
    ];
  }
  return [{ recipient: 'approver', customer: approver }];
}
