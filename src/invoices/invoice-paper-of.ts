import { localDayText } from '../company/index.ts';
import {
  type InvoicePaper,
  type PaperCompany,
  type PaperLanguage,
  usualCautions,
} from '../documents/index.ts';
import type { Frozen } from '../papers/index.ts';
import type { Tx } from '../platform/database/database.ts';
import type { Company } from '../platform/database/generated/client.ts';
import type { Bill } from './bill-of.ts';
import { documentTitle } from './document-title.ts';
import { type LineNames, lineNames } from './line-names.ts';
import { paperDocument } from './paper-document.ts';

interface Issue {
  issuedAt: Date;
  /** A calendar day, as `2026-07-14`. */
  dueOn: string;
  company: Company;
}

/**
 * The paper of an invoice in both languages, complete and frozen: names, addresses, documents with their lines.
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
): Promise<(number: number) => Frozen<InvoicePaper>> {
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
  const names = await namesOfEach(tx, bill);
  const paperIn = (number: number, language: PaperLanguage): InvoicePaper => {
    const days = ticket.visits.flatMap(({ arrivedAt }) =>
      arrivedAt === null ? [] : [localDayText(arrivedAt, timeZone, language)],
    );
    return {
      kind: 'invoice',
      language,
      company: paperCompany(company),
      invoiceNumber: String(number),
      ticketNumber: String(ticket.number),
      issuedAt: issuedAt.toISOString(),
      issuedText: localDayText(issuedAt, timeZone, language),
      dueText: localDayText(new Date(`${dueOn}T12:00:00Z`), 'UTC', language),
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
        paperDocument(
          { ...document, position: at + 1, title: documentTitle[language](document, timeZone) },
          names[at]?.[language],
        ),
      ),
      taxCents: bill.taxCents,
      totalCents: bill.totalCents,
      cautions: usualCautions[language],
    };
  };
  return (number) => ({ ...paperIn(number, 'en'), inSpanish: paperIn(number, 'es') });
}

/** What the lines of each document are called. */
async function namesOfEach(tx: Tx, { documents }: Bill): Promise<LineNames[]> {
  const names: LineNames[] = [];
  for (const document of documents) names.push(await lineNames(tx, document));
  return names;
}

export function paperCompany(
  company: Omit<Company, 'id' | 'version' | 'timeZone' | 'defaultJurisdiction'>,
): PaperCompany {
  const { name, street, city, region, postalCode, phone, email, licenseNumber, regulator } =
    company;
  const address = { street, city, region, postalCode };
  return { name, address, phone, email, licenseNumber, regulatorLine: regulator };
}
