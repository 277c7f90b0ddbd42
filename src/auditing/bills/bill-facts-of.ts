import { type Cents, cents, dollarsText } from '../../pricing/index.ts';
import type { BilledPart, BillFacts, FairPrice, JobDocument, JobFacts } from '../jobs/job-facts.ts';
import { codeText } from '../rules/code-text.ts';
import type { FairPeriod } from './fair-book.ts';
import { type FairTerms, fairPriceOf } from './fair-price-of.ts';
import { readFoundReset } from './read-found-reset.ts';
import { readWork } from './read-work.ts';
import { workWithParts } from './work-with-parts.ts';

/** One bill of another time or company as it was read, its amounts in whole cents. */
export interface BillAsRead {
  readonly billId: string;
  /** Local day, 2025-07-03. */
  readonly billedOn: string;
  readonly found: string;
  readonly done: string;
  readonly parts: readonly BilledPart[];
  /** Decimal text. */
  readonly hours?: string;
  readonly clockMinutes?: number;
  readonly feeCents?: Cents;
  readonly laborCents?: Cents;
  /** Zero where the bill says that there is none, absent where it does not tell it apart. */
  readonly taxCents?: Cents;
  /** All that was charged, tax and all. */
  readonly chargedCents: Cents;
}

/**
 * What is known of a job of which there is only a bill. What it claims is kept as it stands and is no
 * evidence: there are no findings, no visits and no work in it. Beside it stands what our price book
 * comes to for what it says was done, or in whole sentences why nothing can.
 * @throws Error for a bill that comes to less than what it is told apart into
 */
export function billFactsOf(bill: BillAsRead, terms: FairTerms): JobFacts {
  const { hours, clockMinutes, parts } = bill;
  return {
    ended: 'billed',
    documents: [documentOf(bill)],
    bill: {
      ...fairOf(bill, terms),
      ...foundResetOf(bill, terms),
      ...(hours !== undefined && { hours }),
      ...(clockMinutes !== undefined && { clockMinutes }),
      parts,
    },
  };
}

function documentOf(bill: BillAsRead): JobDocument {
  return {
    invoiceId: bill.billId,
    position: 1,
    kind: 'bill',
    title: `the bill of ${dayInWords(bill.billedOn)}`,
    quoteId: null,
    lines: linesOf(bill),
    credited: [],
    taxLeftCents: bill.taxCents ?? cents(0),
  };
}

type BilledLine = JobDocument['lines'][number];

function linesOf(bill: BillAsRead): BilledLine[] {
  const { feeCents, laborCents, parts, taxCents } = bill;
  const told = [
    ...charged('fee', 'visit_fee', 'visit fee', feeCents),
    ...charged('labor', 'labor', 'labor', laborCents),
    ...parts.flatMap(({ name, chargedCents }, at) =>
      charged(`part:${at + 1}`, 'part', name, chargedCents),
    ),
  ];
  const sum = told.reduce((all, { amountCents }) => all + amountCents, taxCents ?? 0);
  const restCents = bill.chargedCents - sum;
  if (restCents < 0) throw new Error('a bill comes to less than its parts');
  const isWhole = told.length === 0;
  const words = isWhole ? 'whole sum' : 'other charges';
  return [
    ...told,
    // A bill of nothing has a line all the same, so that it is seen to be one.
    ...charged('lump', 'lump', words, restCents > 0 || isWhole ? restCents : undefined),
    // A tax of nothing is told, too.
    ...charged('tax', 'tax', 'tax', taxCents),
  ];
}

function charged(
  key: string,
  kind: 'visit_fee' | 'labor' | 'part' | 'lump' | 'tax',
  description: string,
  amountCents: number | undefined,
): BilledLine[] {
  if (amountCents === undefined) return [];
  const line = { key, kind, priceClass: kind, description, amountCents: cents(amountCents) };
  return [{ ...line, aimedAt: null, findingIds: [] }];
}

/** The fair price, or why there is none. */
function fairOf(
  { found, done, parts, taxCents }: BillAsRead,
  { tax, ...terms }: FairTerms,
): Pick<BillFacts, 'fair' | 'notPriced'> {
  const reading = readWork({ done, found });
  if (reading.outcome === 'not_understood') return { notPriced: reading.reasons };
  const { work, reasons } = workWithParts(reading.work, parts, terms.book);
  if (reasons.length > 0) return { notPriced: reasons };
  const ownTax = taxIn(taxCents, tax);
  const answer = fairPriceOf(work, { ...terms, ...(ownTax && { tax: ownTax }) });
  if (answer.outcome === 'not_priced') return { notPriced: answer.reasons };
  const choices = [
    ...reading.taken,
    ...(answer.fair.choices ?? []),
    ...(terms.orPeriods === undefined ? [] : [hoursAssumed(answer.fair)]),
    ...(terms.isByFee ? [hoursByFee(terms.period)] : []),
    ...(ownTax === undefined || taxCents !== undefined
      ? []
      : [taxIsIn(ownTax.name, ownTax.jurisdiction)]),
  ];
  return { fair: { ...answer.fair, choices } };
}

/** Where only what a reset puts right was found and something else was done, or nobody knows what. */
function foundResetOf(
  { found, done, taxCents }: BillAsRead,
  { tax, ...terms }: FairTerms,
): Pick<BillFacts, 'foundReset'> {
  const only = readFoundReset(found);
  if (only === undefined) return {};
  const reading = readWork({ done, found });
  const isAsked =
    reading.outcome === 'understood' &&
    reading.work.every(({ taskCodes }) => taskCodes.every((task) => only.askedFor.has(task)));
  if (isAsked) return {};
  const { work } = workWithParts(only.resets, [], terms.book);
  const ownTax = taxIn(taxCents, tax);
  const answer = fairPriceOf(work, { ...terms, ...(ownTax && { tax: ownTax }) });
  if (answer.outcome === 'not_priced') return {};
  const resetCents = answer.fair.option.totalCents;
  const tolerance = terms.book.policy.fairBandTolerance;
  return { foundReset: { found: found.trim(), resetCents, tolerance } };
}

/** A bill that says of its tax that there was none is held against a price without any. */
function taxIn(taxCents: Cents | undefined, tax: FairTerms['tax']): FairTerms['tax'] {
  return taxCents === 0 ? undefined : tax;
}

function hoursAssumed({ price, option, fromCents = option.totalCents }: FairPrice): string {
  const hours = codeText(price.inputs.period.code);
  const taken = `The bill does not say when somebody came, so the dearest of our hours are taken: ${hours}.`;
  if (fromCents === option.totalCents) return taken;
  return `${taken} In the cheapest it comes to ${dollarsText(fromCents)}.`;
}

function hoursByFee({ code, visitFeeCents }: FairPeriod): string {
  const fee = dollarsText(cents(visitFeeCents));
  return `The bill does not say when somebody came. Its visit fee of ${fee} is that of our hours “${codeText(code)}”, so these are taken.`;
}

function taxIsIn(name: string, jurisdiction: string): string {
  const tax = `${name.charAt(0).toLowerCase()}${name.slice(1)}`;
  return `The bill does not tell its tax apart, so the ${tax} of ${jurisdiction} is in the fair price.`;
}

function dayInWords(day: string): string {
  const [year, month, date] = day.split('-');
  return `${MONTHS[Number(month) - 1]} ${Number(date)}, ${year}`;
}

const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];
