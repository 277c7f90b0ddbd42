import { describe, expect, it } from 'vitest';
import { assertAddsUp } from '../../harness/assert-adds-up.ts';
import { amountsByKey, priced, refusalCodes } from '../price.ts';
import { handWorkedWageRates, workedInvoice } from './hand-worked.ts';
import { handWorkedAgreements } from './hand-worked-agreements.ts';
import { handWorkedChangeOrders } from './hand-worked-change-orders.ts';
import { handWorkedGoods, handWorkedRefusals } from './hand-worked-goods.ts';
import { handWorkedTaxes } from './hand-worked-taxes.ts';

describe('the engine reaches what was worked by hand', () => {
  it.each([
    ...handWorkedGoods,
    ...handWorkedAgreements,
    ...handWorkedChangeOrders,
    ...handWorkedTaxes,
  ])('line by line, $name', ({ inputs, expected }) => {
    const { decline, options } = priced(inputs);
    expect(decline.totalCents).toBe(expected.declineTotalCents);
    expect(
      options.map((option) => ({
        declineTotalCents: decline.totalCents,
        amounts: amountsByKey(option),
        stated: option.stated,
        taxCents: option.taxCents,
        totalCents: option.totalCents,
      })),
    ).toEqual([expected]);
    for (const charges of [decline, ...options]) assertAddsUp(charges);
  });

  it.each(handWorkedRefusals)('refuses $name', ({ inputs, refusals }) => {
    expect(refusalCodes(inputs)).toEqual(refusals);
  });

  it.each(handWorkedWageRates)('labor rate, $name', ({ rates, rateCents }) => {
    expect(priced({ ...workedInvoice({}), rates }).laborRateCents).toBe(rateCents);
  });
});
