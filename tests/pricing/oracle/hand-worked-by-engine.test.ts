import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { companyUseTax, pricingInputsSchema } from '../../../src/pricing/index.ts';
import { assertAddsUp } from '../../harness/assert-adds-up.ts';
import { arbitraryInputs } from '../arbitrary-inputs.ts';
import { amountsByKey, priced, refusalCodes } from '../price.ts';
import { handWorkedWageRates, workedInvoice } from './hand-worked.ts';
import { handWorkedAgreements } from './hand-worked-agreements.ts';
import { handWorkedChangeOrders } from './hand-worked-change-orders.ts';
import { handWorkedGoods, handWorkedRefusals } from './hand-worked-goods.ts';
import { handWorkedTaxes, handWorkedUseTaxes } from './hand-worked-taxes.ts';
import { companyUseTaxByHand, type HandInputs, type HandOptionInput } from './price-by-hand.ts';

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

  it.each(handWorkedUseTaxes)('use tax of the company, $name', ({ option, tax, cents }) => {
    expect(useTaxCents(option, tax)).toEqual([cents]);
  });

  it('and the use tax of the second calculation on 2,000 random quotes', () => {
    fc.assert(
      fc.property(arbitraryInputs({ mistakes: false, adjustments: false }), (inputs) => {
        for (const option of inputs.options) {
          expect(useTaxCents(option, inputs.tax)).toEqual([
            companyUseTaxByHand(option, inputs.tax),
          ]);
        }
      }),
      { numRuns: 2_000 },
    );
  }, 60_000);
});

/** Read through the schema, as the shell reads what is stored. */
function useTaxCents(option: HandOptionInput, tax: HandInputs['tax']): number[] {
  const inputs = pricingInputsSchema.parse({ ...workedInvoice({}), tax, options: [option] });
  return inputs.options.map((parsed) => companyUseTax(parsed, inputs.tax).cents);
}
