import { localDay } from '../../src/company/index.ts';
import type { WholeFinding } from '../../src/evidence/index.ts';
import { dayText } from '../../src/platform/calendar-day.ts';
import {
  cents,
  type GoodsUse,
  type PartUse,
  type PricingInputs,
  type TaxRule,
  taxRuleSchema,
  type WorkItem,
} from '../../src/pricing/index.ts';
import { remedyClassSchema } from '../../src/trade/index.ts';
import type { CompanyPlan } from './company-plan.ts';
import type { Machine } from './place.ts';
import type { BookPart, YearBook } from './price-books.ts';
import type { QuoteJob } from './write-quote.ts';

/** What the caller agreed to: the fee, and the period of the window. */
export interface VisitTerms {
  feeCents: number;
  periodCode: string;
  laborFactor: string;
}

/** Everything a price depends on, gathered from invented rows as the program gathers it. */
export function pricingInputsOf(
  plan: CompanyPlan,
  job: Pick<QuoteJob, 'visit' | 'terms' | 'place' | 'findings' | 'purpose' | 'recalled' | 'wrong'>,
  options: QuoteJob['options'],
  at: Date,
): PricingInputs {
  const { visit, terms, place, findings, recalled } = job;
  const { book, machine } = visit;
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
    options: [{ title: 'The visit alone', work: [], adjustments: [] }],
  };
}

function visitFeeOf({
  purpose,
  recalled,
  terms,
}: Pick<QuoteJob, 'purpose' | 'recalled' | 'terms'>) {
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
