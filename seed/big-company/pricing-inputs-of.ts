import { localDay } from '../../src/company/index.ts';
import type { WholeFinding } from '../../src/evidence/index.ts';
import { dayText } from '../../src/platform/calendar-day.ts';
import {
  type Agreement,
  agreementSchema,
  betterOfAgreements,
  cents,
  earlierWorkOf,
  type GoodsUse,
  type PartUse,
  type PricingInputs,
  type TaxRule,
  taxRuleSchema,
  type WorkItem,
} from '../../src/pricing/index.ts';
import { remedyClassSchema } from '../../src/trade/index.ts';
import type { CompanyPlan } from './company-plan.ts';
import type { Machine, Place } from './place.ts';
import { type BookPart, bookAt, type YearBook } from './price-books.ts';
import type { QuoteJob } from './write-quote.ts';

/** What the caller agreed to: the fee, and the period of the window. */
export interface VisitTerms {
  feeCents: number;
  periodCode: string;
  laborFactor: string;
  /** The plan by whose discount on the fee the caller was told it. */
  feeAgreement?: { code: string; name: string; share: string };
  /** The visit whose fee is that of the whole trip. */
  sameTripAs?: string;
}

/** The agreement of a place that holds on a day: as it was made, and better where the book is. */
export function agreementOn(
  { agreement }: Pick<Place, 'agreement'>,
  day: string,
  book: YearBook,
): Agreement | undefined {
  if (agreement === undefined || day < agreement.startsOn || day >= agreement.endsOn) {
    return undefined;
  }
  const offered = book.agreements?.find(({ code }) => code === agreement.plan.code);
  if (offered === undefined) return agreement.plan;
  const { code, name, discounts } = offered;
  return betterOfAgreements(agreement.plan, agreementSchema.parse({ code, name, discounts }));
}

/** What was told binds, also where the agreement has ended since. */
function agreementFor(holding: Agreement | undefined, { feeAgreement }: VisitTerms) {
  const told = feeAgreement && {
    code: feeAgreement.code,
    name: feeAgreement.name,
    discounts: { visit_fee: feeAgreement.share },
  };
  const agreement = told && holding ? betterOfAgreements(holding, told) : (holding ?? told);
  return agreement && { agreement };
}

/** Everything a price depends on, gathered from invented rows as the program gathers it. */
export function pricingInputsOf(
  plan: CompanyPlan,
  job: Omit<QuoteJob, 'options' | 'outcome' | 'observations' | 'isRevised' | 'draftedAt'>,
  options: QuoteJob['options'],
  at: Date,
): PricingInputs {
  const { visit, terms, place, findings, recalled } = job;
  const { machine } = visit;
  const book = bookAt(plan.books, at);
  const day = localDay(at, plan.company.timeZone);
  const work = (index: number) => {
    const finding = findings[index];
    if (finding === undefined) throw new Error('an option names a finding of its scenario');
    if (job.wrong?.acts?.sellsUnproven === undefined) requirePriceable(finding);
    return workItem(finding, book, machine, day, recalled);
  };
  return {
    rates: book.rates,
    tiers: book.tiers,
    policy: book.policy,
    period: { code: terms.periodCode, laborFactor: terms.laborFactor },
    visitFee: visitFeeOf(job),
    tax: taxRuleAt(plan, place.jurisdiction, day),
    ...agreementFor(agreementOn(place, day, book), terms),
    ...(job.changes && { earlierWork: earlierWorkOf(job.changes.accepted) }),
    options: options.map((option) => ({
      title: option.title,
      work: option.findings.map(work),
      adjustments: [],
    })),
  };
}

/** What a trip without any quote is billed by: what was told at the call. */
export function feeInputsOf(
  plan: CompanyPlan,
  { book, terms, jurisdiction }: { book: YearBook; terms: VisitTerms; jurisdiction: string },
  arrivedAt: Date,
): PricingInputs {
  return {
    rates: book.rates,
    tiers: book.tiers,
    policy: book.policy,
    period: { code: terms.periodCode, laborFactor: '1' },
    visitFee: { chargeable: true, amountCents: cents(terms.feeCents) },
    tax: taxRuleAt(plan, jurisdiction, localDay(arrivedAt, plan.company.timeZone)),
    ...agreementFor(undefined, terms),
    options: [{ title: 'The visit alone', work: [], adjustments: [] }],
  };
}

function visitFeeOf({
  purpose,
  recalled,
  terms,
  changes,
}: Pick<QuoteJob, 'purpose' | 'recalled' | 'terms' | 'changes'>) {
  if (changes !== undefined) {
    const { chargeable, quoteNumber } = changes;
    return chargeable
      ? noFee(`charged with quote ${quoteNumber}`)
      : noFee('none on what it changes');
  }
  if (terms.sameTripAs !== undefined) return noFee('one fee for the trip');
  if (purpose === 'callback') return noFee('a callback has no fee');
  if (recalled.size > 0) return noFee('no fee for mending our own work again');
  return { chargeable: true, amountCents: cents(terms.feeCents) } as const;
}

function noFee(reason: string) {
  return { chargeable: false, reason } as const;
}

function requirePriceable(finding: WholeFinding): void {
  if (finding.priceable || finding.override !== null) return;
  throw new Error(`the evidence does not carry ${finding.faultCode}: ${finding.standing}`);
}

function workItem(
  finding: WholeFinding,
  book: YearBook,
  { row }: Machine,
  day: string,
  recalled: QuoteJob['recalled'],
): WorkItem {
  const task = book.tasks.find(({ code }) => code === finding.taskCode);
  if (task === undefined) throw new Error(`the price book has no task ${finding.taskCode}`);
  return {
    findingId: finding.id,
    faultCode: finding.faultCode,
    taskCode: task.code,
    taskName: task.name,
    remedyClass: remedyClassSchema.parse(finding.remedyClass),
    systemId: row.systemId,
    minutes: task.minutes,
    accessGroup: task.accessGroup,
    accessMinutes: task.accessMinutes,
    parts: finding.parts.flatMap(({ partCode, quantity }) =>
      quantity === null ? [] : [partUse(partCode, quantity, book, row, day)],
    ),
    goods: finding.parts.flatMap(({ partCode, measured }) =>
      measured === null ? [] : [goodsUse(partCode, measured.toFixed(), book)],
    ),
    recall: recalled.has(finding.faultCode),
  };
}

function partUse(
  partCode: string,
  quantity: number,
  book: YearBook,
  { partsWarrantyUntil, compressorWarrantyUntil }: Machine['row'],
  day: string,
): PartUse {
  const part = partOf(book, partCode);
  const until = {
    none: null,
    unit: partsWarrantyUntil,
    compressor: compressorWarrantyUntil ?? partsWarrantyUntil,
  }[part.warrantyClass];
  return {
    code: part.code,
    name: part.name,
    unitCostCents: cents(part.costCents),
    quantity,
    // The last day of a warranty still counts.
    underManufacturerWarranty: until !== null && day <= dayText(until),
    taxClass: part.taxClass,
  };
}

function goodsUse(partCode: string, quantity: string, book: YearBook): GoodsUse {
  const part = partOf(book, partCode);
  if (part.measured === undefined) throw new Error(`${partCode} is sold in pieces`);
  return {
    code: part.code,
    name: part.name,
    unit: part.measured.unit,
    quantity,
    packCostCents: cents(part.costCents),
    packQuantity: part.measured.packQuantity,
    taxClass: part.taxClass,
  };
}

function partOf(book: YearBook, partCode: string): BookPart {
  const part = book.parts.find(({ code }) => code === partCode);
  if (part === undefined) throw new Error(`the price book has no part ${partCode}`);
  return part;
}

function taxRuleAt({ taxRules }: CompanyPlan, jurisdiction: string, day: string): TaxRule {
  const rule = taxRules.find(
    (each) =>
      each.jurisdiction === jurisdiction &&
      each.effectiveFrom <= day &&
      (each.effectiveTo === undefined || day < each.effectiveTo),
  );
  if (rule === undefined) throw new Error(`no tax rule of ${jurisdiction} holds on ${day}`);
  const { effectiveFrom: _from, effectiveTo: _to, ...terms } = rule;
  return taxRuleSchema.parse(terms);
}
