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

/**
 * The invented price book of every year from `firstYear` on: what the company pays rises by three
 * percent a year up to the book of the present.
 */
export function yearBooks(firstYear: number, lastYear: number, makeId: MakeId): YearBook[] {
  return Array.from({ length: lastYear - firstYear + 1 }, (_, at) => {
    const year = firstYear + at;
    const from = new Date(Date.UTC(year, 0, 1, 6));
    const book = newPriceBookSchema.parse(inYear(year, lastYear, from));
    return { ...book, id: makeId(from), number: at + 1, from };
  });
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

function inYear(year: number, lastYear: number, from: Date): z.input<typeof newPriceBookSchema> {
  const inflated = (amountCents: number) => Math.round(amountCents * 1.03 ** (year - lastYear));
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
