import { invoiceTotal } from '../../src/billing/index.ts';
import { localDay, localDayText } from '../../src/company/index.ts';
import { type InvoicePaper, usualCautions } from '../../src/documents/index.ts';
import { paperCompany, paperDocument } from '../../src/invoices/index.ts';
import { dateOfDay, plusDays } from '../../src/platform/calendar-day.ts';
import { canonicalJson } from '../../src/platform/canonical-json.ts';
import { sha256 } from '../../src/platform/sha256.ts';
import { currentPricingRuleset } from '../../src/pricing/index.ts';
import { addPaper } from './add-paper.ts';
import { billOfJob, type JobBill, type ToBill } from './bill-of-job.ts';
import type { Job } from './job.ts';
import { minutesAfter } from './minutes-after.ts';
import type { Pen } from './pen.ts';
import { titleOf } from './title-of.ts';
import { type MemoOf, writeMemo } from './write-memo.ts';
import { writePayments } from './write-payments.ts';

/** How a ticket is closed, and what is billed for it. */
export interface Closing {
  sequence: 1 | 2;
  at: Date;
  complaintGone: 'yes' | 'no' | 'not_tried';
  noReadingsWhy: string | null;
  conditionLeft: string;
  /** Every day somebody was there. */
  daysThere: readonly Date[];
  toBill: ToBill;
  /** What is given back of it at once. */
  memo?: MemoOf | undefined;
}

/** What an invoice came to. */
export interface Issued {
  closingId: string;
  id: string;
  totalCents: number;
  issuedAt: Date;
  number: number;
  documents: readonly JobBill[];
  /** Given back by a memo. */
  creditedCents: number;
}

/** Writes a closing, and issues its invoice at once. The ticket itself is moved with its row. */
export function writeClosing(pen: Pen, job: Job, closing: Closing): Issued {
  const closingId = writeClosingRow(pen, job, closing);
  const invoiceId = openInvoice(pen, job, closingId, closing.at);
  const issuedAt = minutesAfter(closing.at, 10);
  const documents = billOfJob(closing.toBill);
  const total = invoiceTotal(documents);
  const number = pen.next('invoice');
  const issued = { closingId, id: invoiceId, issuedAt, number, documents, ...total };
  writeIssue(pen, job, closing, issued);
  const creditedCents = closing.memo ? writeMemo(pen, job, issued, closing.memo) : 0;
  // What was given back before it was paid is not asked for; nobody has paid the rest yet.
  if (creditedCents === 0) writePayments(pen, job, issued);
  return { ...issued, creditedCents };
}

function writeClosingRow(pen: Pen, job: Job, closing: Closing): string {
  const { ticketId, dispatcher } = job;
  const { at, sequence, complaintGone, noReadingsWhy, conditionLeft } = closing;
  const id = pen.makeId(at);
  pen.add(sequence === 1 ? 'ticket_closing' : 'ticket_closing_again', {
    ...{ id, ticketId, sequence, complaintGone, noReadingsWhy, conditionLeft },
    dangerWarned: null,
    closedAt: at,
    closedById: dispatcher.id,
  });
  addPaper(pen, job, at, { kind: 'work_record', number: String(job.number), closingId: id });
  pen.note(at, dispatcher, {
    event: 'ticket.closed',
    subject: { kind: 'ticket', id: ticketId },
    after: { closingId: id, sequence, complaintGone, didNotCure: [] },
  });
  return id;
}

function openInvoice(pen: Pen, job: Job, closingId: string, at: Date): string {
  const { ticketId, dispatcher, place } = job;
  const id = pen.makeId(at);
  const payerId = place.approver.id;
  pen.add('invoice', {
    ...{ id, ticketId, closingId, payerId },
    createdAt: at,
    createdById: dispatcher.id,
  });
  pen.add('invoice_state', { invoiceId: id, state: 'draft', changedAt: at });
  pen.note(at, dispatcher, {
    event: 'invoice.opened',
    subject: { kind: 'invoice', id },
    after: { ticketId, closingId, payerId },
  });
  return id;
}

function writeIssue(pen: Pen, job: Job, closing: Closing, issued: JustIssued): void {
  const { id: invoiceId, issuedAt, taxCents, totalCents, number, documents } = issued;
  const dueOn = plusDays(localDay(issuedAt, pen.plan.company.timeZone), DUE_IN_DAYS);
  const text = canonicalJson(paperOf(pen, job, closing, { ...issued, dueOn }));
  const contentHash = sha256(text);
  pen.add('invoice_issue', {
    ...{ invoiceId, number, issuedAt, taxCents, totalCents, contentHash },
    issuedById: job.dispatcher.id,
    dueOn: dateOfDay(dueOn),
    documentCount: documents.length,
    paper: text,
  });
  for (const [at, document] of documents.entries()) {
    writeDocument(pen, invoiceId, at + 1, document);
  }
  addPaper(pen, job, issuedAt, { kind: 'invoice', number: String(number), invoiceId });
  const state = totalCents === 0 ? 'settled' : 'issued';
  pen.invoiceSteps.push({ step: 'issue', invoiceId, state, at: issuedAt });
  pen.note(issuedAt, job.dispatcher, {
    event: 'invoice.issued',
    subject: { kind: 'invoice', id: invoiceId },
    before: { state: 'draft' },
    after: { number, dueOn, taxCents, totalCents, contentHash, state },
  });
}

const DUE_IN_DAYS = 14;

function writeDocument(
  pen: Pen,
  invoiceId: string,
  position: number,
  { kind, lines, taxCents, totalCents, inputs, of }: JobBill,
): void {
  const sold = 'quoteId' in of ? of : undefined;
  pen.add('invoice_document', {
    ...{ invoiceId, position, kind, taxCents, totalCents },
    quoteId: kind === 'accepted' ? (sold?.quoteId ?? null) : null,
    optionId: kind === 'accepted' ? (sold?.optionId ?? null) : null,
    undoneQuoteId: kind === 'work_not_done' ? (sold?.quoteId ?? null) : null,
    visitId: 'visitId' in of ? of.visitId : null,
    inputs: kind === 'visit_fee' ? JSON.stringify(inputs) : null,
    rulesetVersion: currentPricingRuleset.version,
    lineCount: lines.length,
  });
  for (const [at, line] of lines.entries()) {
    const { key, priceClass, description, aimedAt, amountCents } = line;
    pen.add('invoice_line', {
      ...{ invoiceId, document: position, position: at + 1 },
      ...{ key, kind: line.kind, priceClass, description, aimedAt, amountCents },
    });
  }
}

/** In English alone, as invoices of an earlier time are. */
function paperOf(
  { plan }: Pen,
  { number: ticketNumber, place }: Job,
  { daysThere }: Closing,
  issued: JustIssued & { dueOn: string },
): Omit<InvoicePaper, 'contentHash'> {
  const { company } = plan;
  const { timeZone } = company;
  const { street, unit, city, postalCode, occupant, approver } = place;
  return {
    kind: 'invoice',
    language: 'en',
    company: paperCompany(company),
    invoiceNumber: String(issued.number),
    ticketNumber: String(ticketNumber),
    issuedAt: issued.issuedAt.toISOString(),
    issuedText: localDayText(issued.issuedAt, timeZone),
    dueText: localDayText(new Date(`${issued.dueOn}T12:00:00Z`), 'UTC'),
    payer: { name: approver.name },
    site: {
      occupant: occupant.name,
      address: {
        street: unit === null ? street : `${street}, ${unit}`,
        ...{ city, region: company.region, postalCode },
      },
    },
    visitDays: [...new Set(daysThere.map((day) => localDayText(day, timeZone)))],
    documents: issued.documents.map((document, at) =>
      paperDocument({ ...document, position: at + 1, title: titleOf(document, timeZone) }),
    ),
    taxCents: issued.taxCents,
    totalCents: issued.totalCents,
    cautions: usualCautions.en,
  };
}

type JustIssued = Omit<Issued, 'creditedCents'> & { taxCents: number };
