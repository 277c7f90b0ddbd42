import { localDayText } from '../company/index.ts';
import type { InvoicePaper, PaperCompany } from '../documents/index.ts';
import type { Tx } from '../platform/database/database.ts';
import type { Company } from '../platform/database/generated/client.ts';
import type { Bill, BillDocument } from './bill-of.ts';
import { paperDocument } from './paper-document.ts';

interface Issue {
  issuedAt: Date;
  /** A calendar day, as `2026-07-14`. */
  dueOn: string;
  company: Company;
}

/**
 * The paper of an invoice, complete and frozen: names, addresses, documents with their lines.
 * Later changes to any of these do not touch it. Everything is read before there is a number, for
 * whoever holds the next number keeps everybody else waiting.
 */
export async function invoicePaperOf(
  tx: Tx,
  {
    stored,
    bill,
  }: { stored: { ticketId: string; payerId: string; closingId: string }; bill: Bill },
  { issuedAt, dueOn, company }: Issue,
): Promise<(number: number) => InvoicePaper> {
  const { timeZone } = company;
  const payer = await tx.customer.findUniqueOrThrow({ where: { id: stored.payerId } });
  const ticket = await tx.ticket.findUniqueOrThrow({
    where: { id: stored.ticketId },
    include: {
      site: { include: { occupant: true } },
      // A trip made after the closing is not of this invoice.
      visits: {
        where: { state: 'finished', id: { lt: stored.closingId } },
        orderBy: [{ arrivedAt: 'asc' }, { id: 'asc' }],
      },
    },
  });
  const { street, unit, city, region, postalCode, occupant } = ticket.site;
  const days = ticket.visits.flatMap(({ arrivedAt }) =>
    arrivedAt === null ? [] : [localDayText(arrivedAt, timeZone)],
  );
  return (number) => ({
    kind: 'invoice',
    language: 'en',
    company: paperCompany(company),
    invoiceNumber: String(number),
    ticketNumber: String(ticket.number),
    issuedAt: issuedAt.toISOString(),
    issuedText: localDayText(issuedAt, timeZone),
    dueText: localDayText(new Date(`${dueOn}T12:00:00Z`), 'UTC'),
    payer: { name: payer.name },
    site: {
      occupant: occupant.name,
      address: {
        street: unit === null ? street : `${street}, ${unit}`,
        city,
        region,
        postalCode,
      },
    },
    visitDays: [...new Set(days)],
    documents: bill.documents.map((document, at) =>
      paperDocument({ ...document, position: at + 1, title: titleOf(document, timeZone) }),
    ),
    taxCents: bill.taxCents,
    totalCents: bill.totalCents,
  });
}

export function paperCompany(company: Company): PaperCompany {
  const { name, street, city, region, postalCode, phone, email, licenseNumber, regulator } =
    company;
  const address = { street, city, region, postalCode };
  return { name, address, phone, email, licenseNumber, regulatorLine: regulator };
}

function titleOf(document: BillDocument, timeZone: string): string {
  switch (document.kind) {
    case 'accepted':
      return `Quote ${document.quoteNumber}, as accepted`;
    case 'work_not_done':
      return `Work of quote ${document.quoteNumber} that was not done`;
    case 'visit_fee':
      return `Visit on ${localDayText(document.arrivedAt, timeZone)}`;
  }
}
