import type { z } from 'zod';
import { newPriceBookSchema } from '../../src/pricebook/index.ts';
import type { RateInputs } from '../../src/pricing/index.ts';
import { type Part, partSchema } from '../../src/trade/index.ts';
import { priceBook, rates } from '../price-book.ts';
import type { MakeId } from './make-ids.ts';

type Book = z.output<typeof newPriceBookSchema>;

/** One year's price book, ready to price with. */
export interface YearBook extends Book {
  id: string;
  number: number;
  from: Date;
  rates: RateInputs;
}

/** A part of a book as the trade core looks at it. */
export type BookPart = Book['parts'][number];

/** From when on the books are wanted, and whether a new one comes every month or every year. */
export interface BookSpan {
  firstYear: number;
  lastYear: number;
  isMonthly: boolean;
}

/**
 * The invented price books from `firstYear` on: what the company pays rises by three percent a year
 * up to the book of the present.
 */
export function yearBooks({ firstYear, lastYear, isMonthly }: BookSpan, makeId: MakeId) {
  const perYear = isMonthly ? 12 : 1;
  return Array.from({ length: (lastYear - firstYear + 1) * perYear }, (_, at): YearBook => {
    const from = effectiveAt(firstYear + Math.floor(at / perYear), at % perYear, isMonthly);
    const years = firstYear + at / perYear - lastYear;
    const asked = inYears(years, from);
    const book = newPriceBookSchema.parse(isMonthly ? asOfMonth(asked, at) : asked);
    return { ...book, id: makeId(from), number: at + 1, from };
  });
}

/** Monthly books change at the end of an afternoon, between calls and the visits they are for. */
function effectiveAt(year: number, month: number, isMonthly: boolean): Date {
  const isFirst = !isMonthly || month === 0;
  return isFirst ? new Date(Date.UTC(year, 0, 1, 6)) : new Date(Date.UTC(year, month, 12, 23));
}

/** Every other month evenings are dearer, a task takes longer, and members of a plan get more. */
function asOfMonth(
  book: z.input<typeof newPriceBookSchema>,
  at: number,
): z.input<typeof newPriceBookSchema> {
  if (at % 2 === 0) return book;
  return {
    ...book,
    periods: book.periods.map((period) =>
      period.hours === null ? { ...period, laborFactor: '1.6', visitFeeCents: 13_900 } : period,
    ),
    tasks: book.tasks.map((task) =>
      task.code === 'replace_contactor' ? { ...task, minutes: task.minutes + 5 } : task,
    ),
    ...(book.agreements && {
      agreements: book.agreements.map((plan) => ({
        ...plan,
        discounts: { ...plan.discounts, labor: '0.12' },
      })),
    }),
  };
}

/** The book in force at an instant. */
export function bookAt(books: readonly YearBook[], at: Date): YearBook {
  const book = books.findLast(({ from }) => from <= at);
  if (book === undefined) throw new Error(`no price book is in force at ${at.toISOString()}`);
  return book;
}

export function fitOf(part: BookPart): Part {
  return partSchema.parse(part.fit);
}

/** @param years since the last one; below zero before it */
function inYears(years: number, from: Date): z.input<typeof newPriceBookSchema> {
  const inflated = (amountCents: number) => Math.round(amountCents * 1.03 ** years);
  const { agreements = [], replacements = [] } = priceBook;
  return {
    ...priceBook,
    effectiveFrom: from.toISOString(),
    rates: {
      ...rates,
      wage: {
        ...rates.wage,
        hourlyCents: inflated(rates.wage.hourlyCents),
        burden: rates.wage.burden.map((each) =>
          each.kind === 'yearly_amount'
            ? { ...each, annualCents: inflated(each.annualCents) }
            : each,
        ),
      },
      annualTruckCents: inflated(rates.annualTruckCents),
      annualOverheadCents: inflated(rates.annualOverheadCents),
    },
    parts: priceBook.parts.map((part) => ({ ...part, costCents: inflated(part.costCents) })),
    agreements: agreements.map((each) => ({
      ...each,
      annualPriceCents: inflated(each.annualPriceCents),
    })),
    replacements: replacements.map((each) => ({
      ...each,
      typicalPriceCents: inflated(each.typicalPriceCents),
    })),
  };
}
