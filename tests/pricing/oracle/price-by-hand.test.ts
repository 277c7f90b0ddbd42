import { describe, expect, it } from 'vitest';
import {
  handWorkedParts,
  handWorkedQuotes,
  handWorkedRates,
  handWorkedWageRates,
  onePart,
  workedInvoice,
  workedTiers,
} from './hand-worked.ts';
import { handWorkedAgreements } from './hand-worked-agreements.ts';
import { handWorkedChangeOrders } from './hand-worked-change-orders.ts';
import { handWorkedGoods, handWorkedRefusals } from './hand-worked-goods.ts';
import { handWorkedTaxes, handWorkedUseTaxes } from './hand-worked-taxes.ts';
import { companyUseTaxByHand, type HandAnswer, priceByHand } from './price-by-hand.ts';

describe('the second calculation reaches what was worked by hand', () => {
  it.each(handWorkedQuotes)('$name', ({ inputs, expected }) => {
    const answer = priced(priceByHand(inputs));
    expect(answer.declineTotalCents).toBe(expected.declineTotalCents);
    expect(answer.options).toMatchObject([
      { taxCents: expected.taxCents, totalCents: expected.totalCents },
    ]);
    expect(expected.totalCents - expected.taxCents).toBe(expected.subtotalCents);
  });

  it('line by line: 89.00 fee, 55.20 and 65.25 parts, 113.25 labor, 75.50 less 15.10', () => {
    const answer = priced(priceByHand(workedInvoice({ rate: '0.0825', taxableClasses: ['part'] })));
    expect(answer.options[0]?.amounts).toEqual({
      visit_fee: 8900,
      'part:finding-capacitor:replace_run_capacitor:capacitor_45_5': 5520,
      'labor:finding-capacitor:replace_run_capacitor': 11325,
      'part:finding-contactor:replace_contactor:contactor_30a': 6525,
      'labor:finding-contactor:replace_contactor': 7550,
      'discount:labor:finding-contactor:replace_contactor:second_task': -1510,
      tax: 994,
    });
  });

  it.each([...handWorkedRates, ...handWorkedWageRates])(
    'labor rate, $name',
    ({ rates, rateCents }) => {
      const answer = priced(priceByHand({ ...workedInvoice({}), rates }));
      expect(answer.laborRateCents).toBe(rateCents);
    },
  );

  it.each(handWorkedParts)('$mode tiers, part of $costCents cents: $because', (row) => {
    const answer = priced(priceByHand(onePart(row.costCents, workedTiers, row.mode)));
    expect(answer.options[0]?.totalCents).toBe(row.sellsForCents);
  });

  it.each([
    ...handWorkedGoods,
    ...handWorkedAgreements,
    ...handWorkedChangeOrders,
    ...handWorkedTaxes,
  ])('line by line, $name', ({ inputs, expected }) => {
    const { declineTotalCents, ...option } = expected;
    const answer = priced(priceByHand(inputs));
    expect(answer.declineTotalCents).toBe(declineTotalCents);
    expect(answer.options).toEqual([option]);
    const sum = Object.values(expected.amounts).reduce((all, cents) => all + cents, 0);
    expect(sum).toBe(expected.totalCents);
  });

  it.each(handWorkedRefusals)('refuses $name', ({ inputs, refusals }) => {
    expect(priceByHand(inputs)).toEqual({ refusals });
  });

  it.each(handWorkedUseTaxes)('use tax of the company, $name', ({ option, tax, cents }) => {
    expect(companyUseTaxByHand(option, tax)).toBe(cents);
  });
});

function priced(answer: HandAnswer): Exclude<HandAnswer, { refusals: string[] }> {
  if ('refusals' in answer) throw new Error(`refused: ${answer.refusals.join(', ')}`);
  return answer;
}
