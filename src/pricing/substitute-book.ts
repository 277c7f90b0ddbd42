import { betterOfAgreements } from './better-of-agreements.ts';
import type { Cents } from './cents.ts';
import type {
  Agreement,
  GoodsTaxClass,
  GoodsUnit,
  PartTiers,
  Period,
  Policy,
  RateInputs,
} from './price-book.ts';
import type { GoodsUse, OptionInputs, PartUse, PricingInputs, WorkItem } from './pricing-inputs.ts';

/** Another price book, as far as a price depends on it; tasks, parts and so on by their codes. */
export interface OtherBook {
  readonly rates: RateInputs;
  readonly tiers: PartTiers;
  readonly policy: Policy;
  readonly periods: ReadonlyMap<string, Pick<Period, 'code' | 'laborFactor'>>;
  readonly tasks: ReadonlyMap<string, OtherTask>;
  readonly parts: ReadonlyMap<string, OtherPart>;
  readonly agreements: ReadonlyMap<string, Agreement>;
}

export interface OtherTask {
  readonly name: string;
  readonly minutes: number;
  readonly accessGroup: string;
  readonly accessMinutes: number;
}

export interface OtherPart {
  readonly name: string;
  /** Of one piece or, when measured, of one pack. */
  readonly costCents: Cents;
  readonly taxClass: GoodsTaxClass;
  /** Whether any warranty of the maker covers it at all. */
  readonly warranted: boolean;
  readonly measured?: { readonly unit: GoodsUnit; readonly packQuantity: string };
}

export type Substitution =
  | { readonly outcome: 'substituted'; readonly inputs: PricingInputs }
  | { readonly outcome: 'missing'; readonly missing: readonly MissingFromBook[] };

/** What a price needs and the other book has not, or sells by another measure. */
export interface MissingFromBook {
  readonly what: 'period' | 'task' | 'part' | 'measure';
  readonly code: string;
}

/**
 * The same work under another price book: what was found and what is used stays, and so do the fee
 * that was told, the tax, adjustments, and what earlier documents charged; all else is the book's.
 *
 * A maintenance agreement keeps what it gave, and gives more where the book's plan of the same code
 * does: what was agreed to is not taken away by a later book.
 *
 * Whether a warranty ran on the day is known only as it was decided then: a part that the other
 * book holds for warranted stays as it was, one that it does not is charged.
 */
export function substituteBook(inputs: PricingInputs, book: OtherBook): Substitution {
  const missing = missingFrom(inputs, book);
  if (missing.length > 0) return { outcome: 'missing', missing };
  const plan = inputs.agreement && book.agreements.get(inputs.agreement.code);
  return {
    outcome: 'substituted',
    inputs: {
      ...inputs,
      rates: book.rates,
      tiers: book.tiers,
      policy: book.policy,
      period: periodOf(found(book.periods, inputs.period.code)),
      ...(inputs.agreement && plan && { agreement: betterOfAgreements(inputs.agreement, plan) }),
      options: inputs.options.map((option) => underBook(option, book)),
    },
  };
}

function missingFrom(inputs: PricingInputs, book: OtherBook): MissingFromBook[] {
  const work = inputs.options.flatMap((option) => option.work);
  const missing: MissingFromBook[] = [];
  const require = (what: MissingFromBook['what'], code: string, isThere: boolean) => {
    const isKnown = missing.some((each) => each.what === what && each.code === code);
    if (!isThere && !isKnown) missing.push({ what, code });
  };
  require('period', inputs.period.code, book.periods.has(inputs.period.code));
  for (const { taskCode } of work) require('task', taskCode, book.tasks.has(taskCode));
  for (const { code, unit } of work.flatMap(soldIn)) {
    const part = book.parts.get(code);
    require('part', code, part !== undefined);
    if (part !== undefined) require('measure', code, part.measured?.unit === unit);
  }
  return missing;
}

/** Parts and goods of a task with their unit; pieces have none. */
function soldIn({ parts, goods = [] }: WorkItem): { code: string; unit?: GoodsUnit }[] {
  return [...parts.map(({ code }) => ({ code })), ...goods];
}

function underBook(option: OptionInputs, book: OtherBook): OptionInputs {
  return { ...option, work: option.work.map((work) => workUnderBook(work, book)) };
}

function workUnderBook(work: WorkItem, book: OtherBook): WorkItem {
  const { name, minutes, accessGroup, accessMinutes } = found(book.tasks, work.taskCode);
  return {
    ...work,
    taskName: name,
    minutes,
    accessGroup,
    accessMinutes,
    parts: work.parts.map((part) => partUnderBook(part, found(book.parts, part.code))),
    ...(work.goods && {
      goods: work.goods.map((good) => goodUnderBook(good, found(book.parts, good.code))),
    }),
  };
}

function partUnderBook(part: PartUse, { name, costCents, taxClass, warranted }: OtherPart) {
  return {
    ...part,
    name,
    unitCostCents: costCents,
    underManufacturerWarranty: part.underManufacturerWarranty && warranted,
    taxClass,
  };
}

function goodUnderBook(good: GoodsUse, { name, costCents, taxClass, measured }: OtherPart) {
  if (measured === undefined) throw new Error('how goods are sold was looked at before');
  const { packQuantity } = measured;
  return { ...good, name, packCostCents: costCents, packQuantity, taxClass };
}

function periodOf({ code, laborFactor }: Pick<Period, 'code' | 'laborFactor'>) {
  return { code, laborFactor };
}

function found<Item>(items: ReadonlyMap<string, Item>, code: string): Item {
  const item = items.get(code);
  if (item === undefined) throw new Error('what is missing was looked at before');
  return item;
}
