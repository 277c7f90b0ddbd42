import type { JobDocument } from '../auditing/index.ts';
import { type BilledLine, type Credit, keyOfUndone, statedOf } from '../billing/index.ts';
import { localDayText } from '../company/index.ts';
import type { TaxRules } from '../pricebook/index.ts';
import {
  addCents,
  cents,
  type PricingInputs,
  type Stated,
  type TaxRule,
} from '../pricing/index.ts';
import type { BookShelf } from './book-shelf.ts';
import { instantOf } from './instant-of.ts';
import { rowsBy } from './rows-by.ts';

/** A billed document with what stands for its large parts where facts are compared. */
export interface ReadDocument {
  readonly ticketId: string;
  readonly document: JobDocument;
  /** The price book by its identifier, and the inputs by the hash of their text. */
  readonly traits: { readonly bookId: string | null; readonly inputsMd5: string | null };
}

/**
 * What tickets were billed by, as it stands on the issued invoices: every amount is read from there,
 * never from the quote that it should be equal to.
 */
export async function readDocuments(
  rows: DocumentRows,
  { books, taxRules, timeZone }: { books: BookShelf; taxRules: TaxRules; timeZone: string },
): Promise<ReadDocument[]> {
  const linesOf = rowsBy(rows.lines, placeOf);
  const memoLinesOf = rowsBy(rows.memoLines, placeOf);
  const read: ReadDocument[] = [];
  for (const row of rows.documents) {
    const own = linesOf(placeOf(row));
    const undone = row.undoneAt === null ? [] : linesOf(`${row.invoiceId} ${row.undoneAt}`);
    const memos = memoLinesOf(placeOf(row));
    const book =
      row.bookId === null
        ? await books.inForce(new Date(row.pricedAt))
        : await books.byId(row.bookId);
    read.push({
      ticketId: row.ticketId,
      traits: { bookId: book?.id ?? null, inputsMd5: row.inputsMd5 },
      document: {
        ...headOf(row, timeZone),
        lines: own.map(billedLine),
        credited: creditedOf(undone, memos),
        taxLeftCents: addCents([
          ...[...own, ...undone].filter(isTax).map(({ amountCents }) => cents(amountCents)),
          ...memos.filter(isTax).map(({ amountCents }) => cents(-amountCents)),
        ]),
        ...pricedFrom(row),
        ...(book && { book: book.book }),
        ...(await hoursOf(row, books)),
        taxInForce: taxRules(row.jurisdiction, row.taxedOn),
        ...(row.issuedAt !== null &&
          row.acceptedAt !== null &&
          row.acceptedOn !== null && {
            agreed: {
              issuedAt: instantOf(row.issuedAt),
              acceptedAt: instantOf(row.acceptedAt),
              acceptedOn: row.acceptedOn,
            },
          }),
      },
    });
  }
  return read;
}

interface DocumentRows {
  readonly documents: readonly DocumentRow[];
  readonly lines: readonly LineRow[];
  readonly memoLines: readonly MemoLineRow[];
}

export interface DocumentRow {
  ticketId: string;
  jurisdiction: string;
  invoiceId: string;
  position: number;
  kind: 'accepted' | 'visit_fee';
  quoteId: string | null;
  parentQuoteId: string | null;
  visitId: string | null;
  quoteNumber: number | null;
  arrivedAt: string | null;
  /** Where on the invoice stands what is taken off it. */
  undoneAt: number | null;
  inputs: unknown;
  inputsMd5: string | null;
  rulesetVersion: string;
  optionAt: number;
  /** Of a fee: the book by which it was told. */
  bookId: string | null;
  /** Of a quote: what the window of its visit is called, and the book by which that was agreed to. */
  hoursCode: string | null;
  hoursBookId: string | null;
  pricedAt: string;
  taxedOn: string;
  issuedAt: string | null;
  acceptedAt: string | null;
  acceptedOn: string | null;
}

export interface LineRow {
  invoiceId: string;
  position: number;
  key: string;
  kind: string;
  priceClass: string;
  description: string;
  aimedAt: string | null;
  findingIds: string[];
  amountCents: number;
}

export type MemoLineRow = Pick<
  LineRow,
  'invoiceId' | 'position' | 'key' | 'priceClass' | 'amountCents'
>;

function placeOf({ invoiceId, position }: { invoiceId: string; position: number }): string {
  return `${invoiceId} ${position}`;
}

function headOf(
  { quoteNumber, arrivedAt, visitId, ...row }: DocumentRow,
  timeZone: string,
): HeadOfDocument {
  const { invoiceId, position, kind, quoteId, parentQuoteId } = row;
  const title =
    kind === 'accepted'
      ? `quote ${quoteNumber}`
      : `the visit fee${arrivedAt === null ? '' : ` of ${localDayText(new Date(arrivedAt), timeZone)}`}`;
  const ofVisit = visitId === null ? {} : { visitId };
  return { invoiceId, position, kind, title, quoteId, parentQuoteId, ...ofVisit };
}

type HeadOfDocument = Pick<
  JobDocument,
  'invoiceId' | 'position' | 'kind' | 'title' | 'quoteId' | 'parentQuoteId' | 'visitId'
>;

/** A callback and a return have their own windows, and so their own hours. */
async function hoursOf(
  { hoursCode, hoursBookId }: DocumentRow,
  books: BookShelf,
): Promise<Pick<JobDocument, 'hours'>> {
  if (hoursCode === null || hoursBookId === null) return {};
  const { book } = await books.byId(hoursBookId);
  const hours = book.periods.get(hoursCode);
  return hours === undefined ? {} : { hours: { code: hours.code, laborFactor: hours.laborFactor } };
}

function billedLine({ invoiceId: _, position: __, ...line }: LineRow): BilledLine {
  return { ...line, amountCents: cents(line.amountCents) };
}

function isTax({ priceClass }: Pick<LineRow, 'priceClass'>): boolean {
  return priceClass === 'tax';
}

/** What was taken off the charges: as not done on the invoice itself, and by memos since. */
function creditedOf(undone: readonly LineRow[], memos: readonly MemoLineRow[]): Credit[] {
  const amounts = new Map<string, number>();
  const add = (key: string, amountCents: number) =>
    amounts.set(key, (amounts.get(key) ?? 0) + amountCents);
  for (const line of undone) {
    // A credit of the fee that was cut leaves more of the fee.
    if (!isTax(line)) add(line.aimedAt ?? keyOfUndone(line.key), -line.amountCents);
  }
  for (const line of memos) if (!isTax(line)) add(line.key, line.amountCents);
  return [...amounts].map(([key, amountCents]) => ({ key, amountCents: cents(amountCents) }));
}

function pricedFrom(row: DocumentRow): Pick<JobDocument, 'price' | 'taxing'> {
  if (row.inputs === null) return {};
  // Read back from our own insert-only table, where nothing is stored that its schema did not pass;
  // to check it again would take longer than to judge the job.
  const inputs = row.inputs as PricingInputs;
  const { rulesetVersion, optionAt } = row;
  const price = { inputs, rulesetVersion, optionAt };
  const isFee = row.kind === 'visit_fee';
  return {
    price,
    taxing: {
      tax: inputs.tax,
      stated: isFee ? inputs.tax.mode : statedIn(inputs.tax, price),
      work: isFee ? [] : (inputs.options[optionAt]?.work ?? []),
    },
  };
}

/** Priced again only where the rule alone does not say. */
function statedIn(
  { mode, separateAboveShare }: TaxRule,
  price: Parameters<typeof statedOf>[0],
): Stated {
  return mode === 'separated' || separateAboveShare === undefined ? mode : statedOf(price);
}

// A fee was told at the call by the book of its visit; its tax is that of the day of the visit.
export const DOCUMENTS = `
  SELECT i.ticket_id AS "ticketId", s.jurisdiction, d.invoice_id AS "invoiceId", d.position, d.kind,
    d.quote_id AS "quoteId", q.parent_id AS "parentQuoteId",
    coalesce(d.visit_id, q.visit_id) AS "visitId", q.number AS "quoteNumber", v.arrived_at AS "arrivedAt",
    (SELECT u.position FROM invoice_document u
      WHERE u.invoice_id = d.invoice_id AND u.undone_quote_id = d.quote_id) AS "undoneAt",
    coalesce(r.inputs, d.inputs) AS inputs, md5(coalesce(r.inputs, d.inputs)::text) AS "inputsMd5",
    d.ruleset_version AS "rulesetVersion", coalesce(o.position - 1, 0) AS "optionAt",
    v.price_book_version_id AS "bookId",
    quoted_at.period_code AS "hoursCode", quoted_at.price_book_version_id AS "hoursBookId",
    coalesce(r.created_at, v.arrived_at, x.issued_at) AS "pricedAt",
    (coalesce(a.accepted_at, v.arrived_at, x.issued_at) AT TIME ZONE c.time_zone)::date::text
      AS "taxedOn",
    qi.issued_at AS "issuedAt", a.accepted_at AS "acceptedAt",
    (a.accepted_at AT TIME ZONE c.time_zone)::date::text AS "acceptedOn"
  FROM invoice i
  JOIN invoice_issue x ON x.invoice_id = i.id
  JOIN invoice_document d ON d.invoice_id = i.id AND d.kind <> 'work_not_done'
  JOIN ticket t ON t.id = i.ticket_id
  JOIN site s ON s.id = t.site_id
  CROSS JOIN company c
  LEFT JOIN visit v ON v.id = d.visit_id
  LEFT JOIN quote q ON q.id = d.quote_id
  LEFT JOIN visit quoted_at ON quoted_at.id = q.visit_id
  LEFT JOIN quote_acceptance a ON a.quote_id = d.quote_id
  LEFT JOIN quote_issue qi ON qi.quote_id = a.quote_id AND qi.revision = a.revision
  LEFT JOIN quote_option o ON o.id = d.option_id
  LEFT JOIN quote_revision r ON r.id = o.revision_id
  WHERE i.ticket_id = ANY ($1)
  ORDER BY x.number, d.position`;

export const LINES = `
  SELECT l.invoice_id AS "invoiceId", l.document AS position, l.key, l.kind,
    l.price_class AS "priceClass", l.description, l.aimed_at AS "aimedAt",
    array_to_json(coalesce(ql.finding_ids, '{}')) AS "findingIds", l.amount_cents AS "amountCents"
  FROM invoice i
  JOIN invoice_document d ON d.invoice_id = i.id
  JOIN invoice_line l ON l.invoice_id = d.invoice_id AND l.document = d.position
  LEFT JOIN quote_line ql ON ql.option_id = d.option_id AND ql.key = l.key
  WHERE i.ticket_id = ANY ($1)
  ORDER BY l.invoice_id, l.document, l.position`;

export const MEMO_LINES = `
  SELECT m.invoice_id AS "invoiceId", l.document AS position, l.key, l.price_class AS "priceClass",
    l.amount_cents AS "amountCents"
  FROM invoice i
  JOIN credit_memo m ON m.invoice_id = i.id
  JOIN credit_memo_line l ON l.memo_id = m.id
  WHERE i.ticket_id = ANY ($1)
  ORDER BY m.number, l.position`;
