import { assertSum } from './assert-sum.ts';
import { formatCents } from './format-cents.ts';
import type { PaperOption } from './paper-parts.ts';

/**
 * Refuses an option whose lines and taxes do not come to its total.
 * @throws PaperRefused
 */
export function assertOptionAddsUp(option: PaperOption): void {
  const place = `Option ${option.letter}`;
  const { prices } = option;
  switch (prices.kind) {
    case 'separated': {
      const lines = prices.groups.flatMap(({ lines }) =>
        lines.map(({ description, amountCents }) => ({ label: description, amountCents })),
      );
      for (const { unitPriceCents } of prices.groups.flatMap((group) => group.lines)) {
        if (unitPriceCents !== undefined) formatCents(unitPriceCents);
      }
      assertSum(`${place} before tax`, lines, prices.subtotalCents);
      assertTotal(option, prices.subtotalCents);
      return;
    }
    case 'lump_sum':
      assertTotal(option, prices.priceCents);
  }
}

function assertTotal(option: PaperOption, beforeTaxCents: number): void {
  const beforeTax = { label: 'before tax', amountCents: beforeTaxCents };
  assertSum(`Option ${option.letter}`, [beforeTax, ...option.taxes], option.totalCents);
}
