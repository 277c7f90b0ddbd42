import { bookParts } from '../../../seed/book-parts.ts';
import { bookTasks } from '../../../seed/book-tasks.ts';
import { priceBook } from '../../../seed/price-book.ts';
import { type FairBook, fairBookOf } from '../../../src/auditing/index.ts';
import { bookContentSchema } from '../../../src/pricebook/index.ts';

/**
 * The invented book with a rate that a pencil can do: $120,000.00 of wage over 1,000 billable hours,
 * nothing else to carry and no margin, so 120.00 an hour. Visit fee 89.00, half of it credited;
 * 20 % off the labor of every task but the dearest; parts up to 25.00 sell at three times their cost.
 */
export function fairBook(): FairBook {
  const { effectiveFrom: _, ...content } = priceBook;
  const book = bookContentSchema.parse({
    ...content,
    tasks: bookTasks,
    parts: bookParts,
    rates: {
      annualBurdenedWageCents: 12_000_000,
      annualAvailableHours: 1_000,
      billableFraction: '1',
      annualTruckCents: 0,
      annualOverheadCents: 0,
      technicianCount: 1,
      margin: '0',
    },
  });
  return fairBookOf(book);
}

/** Regular hours. */
export const regular = { code: 'regular', laborFactor: '1', visitFeeCents: 8_900 };
