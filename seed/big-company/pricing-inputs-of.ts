import type { WholeFinding } from '../../src/evidence/index.ts';
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
  { visit, terms, place, findings }: Pick<QuoteJob, 'visit' | 'terms' | 'place' | 'findings'>,
  options: QuoteJob['options'],
  at: Date,
): PricingInputs {
  const { book, machine } = visit;
  return {
    rates: book.rates,
    tiers: book.tiers,
    policy: book.policy,
    period: { code: terms.periodCode, laborFactor: terms.laborFactor },
    visitFee: { chargeable: true, amountCents: cents(terms.feeCents) },
    tax: taxRuleAt(plan, place.jurisdiction, at),
    options: options.map((option) => ({
      title: option.title,
      work: option.findings.map((index) => workItem(priced(findings[index]), book, machine, at)),
      adjustments: [],
    })),
  };
}

function priced(finding: WholeFinding | undefined): WholeFinding {
  if (finding === undefined) throw new Error('an option names a finding of its scenario');
  if (!finding.priceable && finding.override === null) {
    throw new Error(`the evidence does not carry ${finding.faultCode}: ${finding.standing}`);
  }
  return finding;
}

function workItem(finding: WholeFinding, book: YearBook, { row }: Machine, at: Date): WorkItem {
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
      quantity === null ? [] : [partUse(partCode, quantity, book, row, at)],
    ),
    goods: finding.parts.flatMap(({ partCode, measured }) =>
      measured === null ? [] : [goodsUse(partCode, measured.toFixed(), book)],
    ),
    recall: false,
  };
}

function partUse(
  partCode: string,
  quantity: number,
  book: YearBook,
  { partsWarrantyUntil, compressorWarrantyUntil }: Machine['row'],
  at: Date,
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
    underManufacturerWarranty: until !== null && at <= until,
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

function taxRuleAt({ taxRules }: CompanyPlan, jurisdiction: string, at: Date): TaxRule {
  const day = at.toISOString().slice(0, 10);
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
