import { describe, expect, it } from 'vitest';
import { sumLines } from '../../src/pricing/index.ts';
import { assertAddsUp } from '../harness/assert-adds-up.ts';
import type { HandGood } from './oracle/hand-inputs.ts';
import {
  capacitorWork,
  chargeWork,
  contactorWork,
  handWorkedQuotes,
  refrigerant,
  workedInvoice,
  workedTiers,
} from './oracle/hand-worked.ts';
import type { HandInputs, HandWork } from './oracle/price-by-hand.ts';
import { amountsByKey, price, priced, pricedOption, refusalCodes } from './price.ts';

describe('quotes worked by hand come out to the cent', () => {
  it.each(handWorkedQuotes)('$name', ({ inputs, expected }) => {
    const quote = priced(inputs);
    const option = pricedOption(inputs);
    expect(quote.decline.totalCents).toBe(expected.declineTotalCents);
    expect(option.taxCents).toBe(expected.taxCents);
    expect(option.totalCents).toBe(expected.totalCents);
    expect(option.totalCents - option.taxCents).toBe(expected.subtotalCents);
    assertAddsUp(option);
  });

  it('line by line, and without a line for access that takes no time', () => {
    const inputs = workedInvoice({ rate: '0.0825', taxableClasses: ['part'] });
    expect(amountsByKey(pricedOption(inputs))).toEqual({
      visit_fee: 8900,
      'part:finding-capacitor:replace_run_capacitor:capacitor_45_5': 5520,
      'labor:finding-capacitor:replace_run_capacitor': 11325,
      'part:finding-contactor:replace_contactor:contactor_30a': 6525,
      'labor:finding-contactor:replace_contactor': 7550,
      'discount:labor:finding-contactor:replace_contactor:second_task': -1510,
      tax: 994,
    });
  });

  it('class by class: parts 120.45, labor 173.65, diagnostic 89.00', () => {
    const option = pricedOption(workedInvoice({}));
    expect(option.classTotals).toEqual({ part: 12045, labor: 17365, visit_fee: 8900, access: 0 });
    expect(sumLines(option.lines)).toBe(38310);
  });
});

/**
 * Labor 151.00 an hour (45 min 113.25, 30 min 75.50, 20 min 50.33, 15 min 37.75), fee 89.00, parts
 * x3.0, no tax. `withoutTheRuleCents` is the total if the named rule were missing: each row fails
 * then.
 */
describe('each rule decides the total it is there for', () => {
  const fuse = [
    {
      code: 'fuse_3a',
      name: 'Fuse 3 A',
      unitCostCents: 100,
      quantity: 1,
      underManufacturerWarranty: false,
    },
  ];
  const warranted = capacitorWork().parts.map((part) => ({
    ...part,
    underManufacturerWarranty: true,
  }));
  const noParts = { parts: [] };
  const equipment = capacitorWork().parts.map((part) => ({
    ...part,
    taxClass: 'equipment' as const,
  }));
  const lumpSum = { rate: '0.10', taxableClasses: ['part' as const], mode: 'lump_sum' as const };

  it.each(
    titled([
      {
        rule: 'a breaker reset is the visit fee and nothing else',
        work: [capacitorWork({ ...noParts, remedyClass: 'reset', minutes: 20 })],
        totalCents: 8900,
        withoutTheRuleCents: 8900 + 5033,
      },
      {
        rule: 'a reset charges its materials, but neither labor nor access',
        work: [capacitorWork({ remedyClass: 'reset', accessMinutes: 15, parts: fuse })],
        totalCents: 8900 + 300,
        withoutTheRuleCents: 8900 + 300 + 11325 + 3775,
      },
      {
        rule: 'advice is free, whatever its task lists',
        work: [capacitorWork({ remedyClass: 'advise' })],
        totalCents: 8900,
        withoutTheRuleCents: 8900 + 5520 + 11325,
      },
      {
        rule: 'looking for a cause beyond the fee is charged as a diagnose task',
        work: [capacitorWork({ ...noParts, remedyClass: 'diagnose' })],
        totalCents: 8900 + 11325,
        withoutTheRuleCents: 8900,
      },
      {
        rule: 'a part under the manufacturer’s warranty is free, its labor is not',
        work: [capacitorWork({ parts: warranted })],
        totalCents: 8900 + 11325,
        withoutTheRuleCents: 8900 + 5520 + 11325,
      },
      {
        rule: 'a recall is free: parts, labor and access',
        work: [capacitorWork({ recall: true, accessMinutes: 15 })],
        visitFee: { chargeable: false, reason: 'Our repair did not last' },
        totalCents: 0,
        withoutTheRuleCents: 5520 + 11325 + 3775,
      },
      {
        rule: 'access of one group is charged once, at the longest minutes',
        work: [
          capacitorWork({ ...noParts, accessMinutes: 15 }),
          contactorWork({ ...noParts, accessMinutes: 20 }),
        ],
        totalCents: 8900 + 11325 + 7550 - 1510 + 5033,
        withoutTheRuleCents: 8900 + 11325 + 7550 - 1510 + 5033 + 3775,
      },
      {
        rule: 'a reset does not lengthen the access of charged work',
        work: [
          capacitorWork({ ...noParts, accessMinutes: 15 }),
          contactorWork({ ...noParts, accessMinutes: 20, remedyClass: 'reset' }),
        ],
        totalCents: 8900 + 11325 + 3775,
        withoutTheRuleCents: 8900 + 11325 + 5033,
      },
      {
        rule: 'access to a second system is charged for that system too',
        work: [
          capacitorWork({ ...noParts, accessMinutes: 15 }),
          contactorWork({ ...noParts, accessMinutes: 15, systemId: 'system-2' }),
        ],
        totalCents: 8900 + 11325 + 7550 - 1510 + 3775 + 3775,
        withoutTheRuleCents: 8900 + 11325 + 7550 - 1510 + 3775,
      },
      {
        rule: 'after-hours multiplies labor and access, not parts and not the told fee',
        work: [capacitorWork({ accessMinutes: 15 })],
        period: { code: 'after_hours', laborFactor: '1.5' },
        // 169.875 -> 169.88 and 56.625 -> 56.63: each line is rounded, not the rate x 1.5.
        totalCents: 8900 + 5520 + 16988 + 5663,
        withoutTheRuleCents: 8900 + 5520 + 11325 + 3775,
      },
      {
        rule: 'the second-task discount spares the dearest labor, not the first one written',
        work: [contactorWork(noParts), capacitorWork(noParts)],
        totalCents: 8900 + 11325 + 7550 - 1510,
        withoutTheRuleCents: 8900 + 7550 + 11325 - 2265,
      },
      {
        rule: 'a free recall is not the dearest task, so the only charged one stays whole',
        work: [capacitorWork({ recall: true, minutes: 600 }), contactorWork(noParts)],
        totalCents: 8900 + 7550,
        withoutTheRuleCents: 8900 + 7550 - 1510,
      },
      {
        rule: 'the second-task discount is on labor, not on parts or access',
        work: [capacitorWork(), contactorWork({ accessMinutes: 15 })],
        totalCents: 8900 + 5520 + 11325 + 6525 + 7550 - 1510 + 3775,
        withoutTheRuleCents: 8900 + 5520 + 11325 + 6525 - 1305 + 7550 - 1510 + 3775 - 755,
      },
      {
        rule: 'the policy’s share of the fee is credited when work is accepted',
        work: [capacitorWork(noParts)],
        creditShare: '0.5',
        totalCents: 8900 + 11325 - 4450,
        withoutTheRuleCents: 8900 + 11325,
      },
      {
        rule: 'the credit never exceeds labor and access, so parts are always paid',
        work: [capacitorWork({ minutes: 20 })],
        creditShare: '1',
        totalCents: 8900 + 5520 + 5033 - 5033,
        withoutTheRuleCents: 5520 + 5033,
      },
      {
        rule: 'access counts toward the credit',
        work: [capacitorWork({ ...noParts, minutes: 20, accessMinutes: 15 })],
        creditShare: '1',
        totalCents: 8900 + 5033 + 3775 - 8808,
        withoutTheRuleCents: 8900 + 5033 + 3775 - 5033,
      },
      {
        rule: 'the credit looks at labor after its discounts',
        work: [
          capacitorWork({ ...noParts, minutes: 20 }),
          contactorWork({ ...noParts, minutes: 20 }),
        ],
        creditShare: '1',
        secondTaskDiscount: '1',
        totalCents: 8900,
        withoutTheRuleCents: 8900 + 5033 - 8900,
      },
      {
        rule: 'a reset earns no credit, its fee is the price',
        work: [capacitorWork({ remedyClass: 'reset', parts: fuse })],
        creditShare: '1',
        totalCents: 8900 + 300,
        withoutTheRuleCents: 300,
      },
      {
        rule: 'a taxed fee is not credited so far that its saved tax makes accepting cheaper',
        work: [capacitorWork({ ...noParts, minutes: 20 })],
        creditShare: '1',
        tax: { rate: '0.08', taxableClasses: ['visit_fee'] },
        // Declining is 89.00 + 7.12. Crediting 50.33 would leave 89.00 + 3.09; 46.60 leaves 96.12.
        totalCents: 9612,
        withoutTheRuleCents: 8900 + 309,
      },
      {
        rule: 'a credit lowers the taxed amount of the fee',
        work: [capacitorWork(noParts)],
        creditShare: '0.5',
        tax: { rate: '0.10', taxableClasses: ['visit_fee', 'labor'] },
        totalCents: 8900 + 11325 - 4450 + 1578,
        withoutTheRuleCents: 8900 + 11325 - 4450 + 2023,
      },
      {
        rule: 'a discount lowers the taxed amount of labor',
        work: [capacitorWork(noParts), contactorWork(noParts)],
        tax: { rate: '0.10', taxableClasses: ['labor'] },
        totalCents: 8900 + 17365 + 1737,
        withoutTheRuleCents: 8900 + 17365 + 1888,
      },
      {
        rule: 'a credit of the fee does not lower the taxed amount of parts',
        work: [capacitorWork()],
        creditShare: '1',
        tax: { rate: '0.10', taxableClasses: ['part'] },
        totalCents: 5520 + 11325 + 552,
        withoutTheRuleCents: 5520 + 11325,
      },
      {
        rule: 'measured goods take the tiers on what the whole quantity costs, not on each pound',
        // 3.5 lb of 25 lb at 313.37 cost 43.8718: 25.00 x 3.0 + 18.8718 x 2.2 = 116.51796.
        work: [chargeWork([refrigerant(31337)])],
        tiers: { mode: 'progressive', steps: workedTiers },
        totalCents: 8900 + 11652 + 7550,
        // A pound costs 12.5348, x 3.0 x 3.5 = 131.6154.
        withoutTheRuleCents: 8900 + 13162 + 7550,
      },
      {
        rule: 'the cost of measured goods is not rounded before its price is',
        // Half a foot of 3 ft at 10.00 costs 1.666..., x 3.0 = 5.00.
        work: [chargeWork([refrigerant(1000, { quantity: '0.5', packQuantity: '3' })])],
        totalCents: 8900 + 500 + 7550,
        withoutTheRuleCents: 8900 + 501 + 7550,
      },
      {
        rule: 'flat tiers lift measured goods as they lift parts',
        // 3.5 lb of 25 lb at 180.00 cost 25.20: 55.44 by their own step, 75.00 from the step below.
        work: [chargeWork([refrigerant(18000)])],
        tiers: { mode: 'flat', steps: workedTiers },
        totalCents: 8900 + 7500 + 7550,
        withoutTheRuleCents: 8900 + 5544 + 7550,
      },
      {
        rule: 'a recall is free with its measured goods',
        work: [chargeWork([refrigerant(18000)], { recall: true })],
        totalCents: 8900,
        withoutTheRuleCents: 8900 + 7560,
      },
      {
        rule: 'a reset charges its measured goods like its parts',
        work: [chargeWork([refrigerant(18000)], { remedyClass: 'reset' })],
        totalCents: 8900 + 7560,
        withoutTheRuleCents: 8900,
      },
      {
        rule: 'advice is free, whatever goods its task lists',
        work: [chargeWork([refrigerant(18000)], { remedyClass: 'advise' })],
        totalCents: 8900,
        withoutTheRuleCents: 8900 + 7560 + 7550,
      },
      {
        rule: 'measured goods that the book calls material are not taxed as parts',
        work: [chargeWork([refrigerant(18000)])],
        tax: { rate: '0.10', taxableClasses: ['part'] },
        totalCents: 8900 + 7560 + 7550,
        withoutTheRuleCents: 8900 + 7560 + 7550 + 756,
      },
      {
        rule: 'measured goods are taxed as parts where the book says nothing else',
        work: [chargeWork([unclassed(refrigerant(18000))])],
        tax: { rate: '0.10', taxableClasses: ['part'] },
        totalCents: 8900 + 7560 + 7550 + 756,
        withoutTheRuleCents: 8900 + 7560 + 7550,
      },
      {
        rule: 'a part that the book calls equipment is not taxed as a part',
        work: [capacitorWork({ parts: equipment })],
        tax: { rate: '0.10', taxableClasses: ['part'] },
        totalCents: 8900 + 5520 + 11325,
        withoutTheRuleCents: 8900 + 5520 + 11325 + 552,
      },
      {
        rule: 'a maintenance agreement takes its share off the classes it names, and off no other',
        work: [capacitorWork({ accessMinutes: 15 })],
        agreement: { part: '0.10' },
        totalCents: 8900 + 5520 - 552 + 11325 + 3775,
        withoutTheRuleCents: 8900 + 5520 + 11325 + 3775,
      },
      {
        rule: 'measured goods are parts to the agreement',
        work: [chargeWork([refrigerant(18000)])],
        agreement: { part: '0.10' },
        totalCents: 8900 + 7560 - 756 + 7550,
        withoutTheRuleCents: 8900 + 7560 + 7550,
      },
      {
        rule: 'the agreement takes its share of what the second-task discount has left',
        work: [capacitorWork(noParts), contactorWork(noParts)],
        agreement: { labor: '0.15' },
        // 15 % of 113.25 = 16.9875 and of 60.40 = 9.06; of 75.50 it would be 11.325.
        totalCents: 8900 + 11325 - 1699 + 7550 - 1510 - 906,
        withoutTheRuleCents: 8900 + 11325 - 1699 + 7550 - 1510 - 1133,
      },
      {
        rule: 'the credit is a share of the fee that the agreement has left',
        work: [capacitorWork(noParts)],
        agreement: { visit_fee: '0.15' },
        creditShare: '0.5',
        // 89.00 - 13.35 = 75.65, half of it 37.825.
        totalCents: 8900 - 1335 - 3783 + 11325,
        withoutTheRuleCents: 8900 - 1335 - 4450 + 11325,
      },
      {
        rule: 'the credit looks at labor after the agreement too',
        work: [capacitorWork({ ...noParts, minutes: 20 })],
        agreement: { labor: '0.5' },
        creditShare: '1',
        // Half of 50.33 is 25.165, rounded in the customer’s favor to 25.17 off.
        totalCents: 8900 + 5033 - 2517 - 2516,
        withoutTheRuleCents: 8900 + 5033 - 2517 - 5033,
      },
      {
        rule: 'a discount of the agreement lowers the taxed amount',
        work: [capacitorWork()],
        agreement: { part: '0.10' },
        tax: { rate: '0.10', taxableClasses: ['part'] },
        totalCents: 8900 + 5520 - 552 + 11325 + 497,
        withoutTheRuleCents: 8900 + 5520 - 552 + 11325 + 552,
      },
      {
        rule: 'access that a document of this visit charged is not charged again, only what is longer',
        work: [capacitorWork({ ...noParts, accessMinutes: 20 })],
        earlierWork: earlier([], [15]),
        // 5 min at 151.00 an hour = 12.5833.
        totalCents: 8900 + 11325 + 1258,
        withoutTheRuleCents: 8900 + 11325 + 5033,
      },
      {
        rule: 'access as long as charged before is charged with nothing',
        work: [capacitorWork({ ...noParts, accessMinutes: 15 })],
        earlierWork: earlier([], [15]),
        totalCents: 8900 + 11325,
        withoutTheRuleCents: 8900 + 11325 + 3775,
      },
      {
        rule: 'access charged before on another system is charged on this one',
        work: [capacitorWork({ ...noParts, accessMinutes: 15, systemId: 'system-2' })],
        earlierWork: earlier([], [15]),
        totalCents: 8900 + 11325 + 3775,
        withoutTheRuleCents: 8900 + 11325,
      },
      {
        rule: 'on a change order every task is a second one while an earlier document has the dearest',
        work: [contactorWork(noParts)],
        earlierWork: earlier([11325], []),
        totalCents: 8900 + 7550 - 1510,
        withoutTheRuleCents: 8900 + 7550,
      },
      {
        rule: 'so is a task that is only as dear as the dearest before',
        work: [capacitorWork(noParts)],
        earlierWork: earlier([11325], []),
        totalCents: 8900 + 11325 - 2265,
        withoutTheRuleCents: 8900 + 11325,
      },
      {
        rule: 'a dearer task carries what the dearest before would have had off',
        work: [capacitorWork(noParts), contactorWork(noParts)],
        earlierWork: earlier([4000, 6000], []),
        // 20 % of 60.00 on the 113.25, and 20 % of 75.50 on the other one.
        totalCents: 8900 + 11325 - 1200 + 7550 - 1510,
        withoutTheRuleCents: 8900 + 11325 + 7550 - 1510,
      },
      {
        rule: 'a lump sum with too many goods in it is separated and taxed after all',
        work: [capacitorWork()],
        tax: { ...lumpSum, separateAboveShare: '0.10' },
        // 55.20 of 257.45 is 21 %.
        totalCents: 8900 + 5520 + 11325 + 552,
        withoutTheRuleCents: 8900 + 5520 + 11325,
      },
      {
        rule: 'a lump sum with few goods in it stays one',
        work: [capacitorWork()],
        tax: { ...lumpSum, separateAboveShare: '0.25' },
        totalCents: 8900 + 5520 + 11325,
        withoutTheRuleCents: 8900 + 5520 + 11325 + 552,
      },
      {
        rule: 'the share of goods is taken before the fee is credited, since the credit looks at the tax',
        work: [capacitorWork()],
        creditShare: '1',
        tax: { ...lumpSum, separateAboveShare: '0.25' },
        // 55.20 of 168.45 would be 33 %.
        totalCents: 5520 + 11325,
        withoutTheRuleCents: 5520 + 11325 + 552,
      },
      {
        rule: 'the share of goods counts measured goods beside parts',
        work: [capacitorWork({ goods: [refrigerant(18000)] })],
        tax: { ...lumpSum, separateAboveShare: '0.25' },
        // 130.80 of 333.05 is 39 %; the parts alone are 17 %. Only parts are taxed here.
        totalCents: 8900 + 5520 + 7560 + 11325 + 552,
        withoutTheRuleCents: 8900 + 5520 + 7560 + 11325,
      },
    ]),
  )('%s', (_, row) => {
    const option = pricedOption(inputsOf(row));
    assertAddsUp(option);
    expect(option.totalCents).toBe(row.totalCents);
    expect(row.withoutTheRuleCents).not.toBe(row.totalCents);
  });
});

describe('the paper', () => {
  it('lists fee, then each task’s parts, labor and discount, then access, credit and tax', () => {
    const inputs = inputsOf({
      work: [contactorWork(), capacitorWork({ accessMinutes: 15 })],
      creditShare: '0.5',
      adjustments: [
        {
          aimedAt: 'labor:finding-contactor:replace_contactor',
          amountCents: 500,
          reason: 'Seized screws',
          byOwner: false,
        },
      ],
    });
    expect(pricedOption(inputs).lines.map(({ key }) => key)).toEqual([
      'visit_fee',
      'part:finding-contactor:replace_contactor:contactor_30a',
      'labor:finding-contactor:replace_contactor',
      'discount:labor:finding-contactor:replace_contactor:second_task',
      'adjustment:labor:finding-contactor:replace_contactor:1',
      'part:finding-capacitor:replace_run_capacitor:capacitor_45_5',
      'labor:finding-capacitor:replace_run_capacitor',
      'access:system-1:condenser_electrical',
      'credit:visit_fee',
      'tax',
    ]);
  });

  it('lists goods behind the parts of their task, and discounts in the order they were taken', () => {
    const inputs = inputsOf({
      work: [
        contactorWork({ goods: [refrigerant(18000, { code: 'wire' }), refrigerant(18000)] }),
        capacitorWork({ parts: [], accessMinutes: 20 }),
      ],
      agreement: { visit_fee: '0.5', part: '0.1', labor: '0.15', access: '0.15' },
      earlierWork: earlier([6000], [15]),
    });
    expect(pricedOption(inputs).lines.map(({ key }) => key)).toEqual([
      'visit_fee',
      'discount:visit_fee:agreement',
      'part:finding-contactor:replace_contactor:contactor_30a',
      'discount:part:finding-contactor:replace_contactor:contactor_30a:agreement',
      'good:finding-contactor:replace_contactor:refrigerant',
      'discount:good:finding-contactor:replace_contactor:refrigerant:agreement',
      'good:finding-contactor:replace_contactor:wire',
      'discount:good:finding-contactor:replace_contactor:wire:agreement',
      'labor:finding-contactor:replace_contactor',
      'discount:labor:finding-contactor:replace_contactor:second_task',
      'discount:labor:finding-contactor:replace_contactor:agreement',
      'labor:finding-capacitor:replace_run_capacitor',
      'discount:labor:finding-capacitor:replace_run_capacitor:earlier_second_task',
      'discount:labor:finding-capacitor:replace_run_capacitor:agreement',
      'access:system-1:condenser_electrical',
      'discount:access:system-1:condenser_electrical:agreement',
      'tax',
    ]);
  });

  it('says of goods, agreements, earlier work and a separated lump sum why they cost what they do', () => {
    const option = pricedOption(
      inputsOf({
        work: [
          contactorWork({ parts: [] }),
          capacitorWork({ parts: [], goods: [refrigerant(18000)], accessMinutes: 20 }),
        ],
        agreement: { visit_fee: '0.5', part: '0.1', labor: '0.15' },
        earlierWork: earlier([6000], [15]),
        tax: {
          rate: '0.0825',
          taxableClasses: ['material', 'part'],
          mode: 'lump_sum',
          separateAboveShare: '0.1',
        },
      }),
    );
    expect(option.stated).toBe('separated');
    expect(option.lines.map(({ why }) => why.sentence)).toEqual([
      'The fee for this trip, as told when the visit was booked: $89.00.',
      '50% off the visit fee under the maintenance agreement Yearly care: 50% of $89.00 = $44.50.',
      '30 minutes / 60 x $151.00 an hour = $75.50.',
      '20% off the labor of a second task: 20% of $75.50 = $15.10.',
      '15% off the labor under the maintenance agreement Yearly care: 15% of the $60.40 left = $9.06.',
      '3.5 lb for $75.60.',
      '10% off the parts under the maintenance agreement Yearly care: 10% of $75.60 = $7.56.',
      '45 minutes / 60 x $151.00 an hour = $113.25.',
      'Task 1 was the dearest task of this visit before, charged in full at $60.00 of labor; it is a second task now: 20% of $60.00 = $12.00.',
      '15% off the labor under the maintenance agreement Yearly care: 15% of the $101.25 left = $15.19.',
      '20 minutes of access, less 15 minutes charged already on this visit: 5 minutes / 60 x $151.00 an hour = $12.58.',
      'Parts, materials and equipment are $68.04 of $262.52, more than 10%, so prices and tax are stated separately. 8.25% of $68.04 (parts, materials) = $5.61.',
    ]);
  });

  it('takes the agreement off the fee of a decline as well', () => {
    const quote = priced(inputsOf({ work: [], agreement: { visit_fee: '0.15' } }));
    expect(quote.decline.totalCents).toBe(7565);
    expect(quote.decline.lines.map(({ key }) => key)).toEqual([
      'visit_fee',
      'discount:visit_fee:agreement',
      'tax',
    ]);
  });

  it('says in one sentence per line how a pencil gets there', () => {
    const option = pricedOption(
      inputsOf({
        work: [
          contactorWork(),
          capacitorWork({ accessMinutes: 15 }),
          capacitorWork({
            findingId: 'finding-breaker',
            taskCode: 'reset_breaker',
            remedyClass: 'reset',
            parts: [],
          }),
        ],
        period: { code: 'after_hours', laborFactor: '1.5' },
        creditShare: '0.5',
        tax: { rate: '0.0825', taxableClasses: ['part'] },
      }),
    );
    expect(option.lines.map(({ why }) => why.sentence)).toEqual([
      'The fee for this trip, as told when the visit was booked: $89.00.',
      'One at $65.25.',
      '30 minutes / 60 x $151.00 an hour x 1.5 (after hours) = $113.25.',
      '20% off the labor of a second task: 20% of $113.25 = $22.65.',
      'One at $55.20.',
      '45 minutes / 60 x $151.00 an hour x 1.5 (after hours) = $169.88.',
      'No labor is charged for a reset.',
      '15 minutes / 60 x $151.00 an hour x 1.5 (after hours) = $56.63. Charged once for all work behind it.',
      '50% of the visit fee of $89.00 is credited when work is accepted: $44.50.',
      '8.25% of $120.45 (parts) = $9.94.',
    ]);
  });

  it('explains tax line by line where it is rounded line by line', () => {
    const option = pricedOption(
      workedInvoice({ rate: '0.0825', taxableClasses: ['part'], basis: 'item' }),
    );
    expect(option.lines.at(-1)?.why.sentence).toBe(
      '8.25% of each taxed line, each rounded to the cent: $5.38 + $4.55 = $9.93.',
    );
  });

  it('keeps the fee line at zero with its reason when there is no fee', () => {
    const quote = priced(
      inputsOf({ work: [], visitFee: { chargeable: false, reason: 'Parts return' } }),
    );
    expect(quote.decline.totalCents).toBe(0);
    expect(quote.decline.lines[0]?.why.sentence).toBe('No visit fee: Parts return.');
  });

  it('prices each option by itself: what one adjusts, another does not feel', () => {
    const base = workedInvoice({});
    const [option] = base.options;
    if (option === undefined) throw new Error('the worked invoice has an option');
    const free = { aimedAt: 'visit_fee', amountCents: -8900, reason: 'Goodwill', byOwner: true };
    const quote = priced({ ...base, options: [{ ...option, adjustments: [free] }, option] });
    expect(quote.options.map(({ totalCents }) => totalCents)).toEqual([29410, 38310]);
    expect(quote.decline.totalCents).toBe(8900);
  });
});

describe('what the engine refuses', () => {
  it.each<{ name: string; work: HandWork[]; codes: string[] }>([
    {
      name: 'one finding charged by two tasks',
      work: [capacitorWork(), capacitorWork({ taskCode: 'replace_other_capacitor' })],
      codes: ['duplicate_finding'],
    },
    {
      name: 'one part on two lines of a task, where a quantity belongs',
      work: [capacitorWork({ parts: [...capacitorWork().parts, ...capacitorWork().parts] })],
      codes: ['duplicate_part'],
    },
    {
      name: 'one good on two lines of a task',
      work: [chargeWork([refrigerant(100), refrigerant(200)])],
      codes: ['duplicate_good'],
    },
    {
      name: 'a good with the code of a part of its task',
      work: [capacitorWork({ goods: [refrigerant(100, { code: 'capacitor_45_5' })] })],
      codes: ['duplicate_good'],
    },
    {
      name: 'an amount too large to be held to the cent',
      work: [
        capacitorWork({
          parts: capacitorWork().parts.map((part) => ({
            ...part,
            unitCostCents: 100_000_000_000,
            quantity: 10_000,
          })),
        }),
      ],
      codes: ['amount_too_large'],
    },
  ])('$name', ({ work, codes }) => {
    const tiers = { mode: 'flat' as const, steps: [{ upToCents: null, factor: '100' }] };
    expect(refusalCodes({ ...inputsOf({ work }), tiers })).toEqual(codes);
  });
});

/** Labor and access of the worked system and its condenser that were charged on this visit. */
function earlier(laborCents: number[], accessMinutes: number[]): HandInputs['earlierWork'] {
  return {
    labor: laborCents.map((amountCents, at) => ({ taskName: `Task ${at + 1}`, amountCents })),
    access: accessMinutes.map((minutes) => ({
      systemId: 'system-1',
      accessGroup: 'condenser_electrical',
      minutes,
    })),
  };
}

// By position: a name given by `$rule` would be cut short, and no longer be found by it.
function titled(rows: Row[]): [rule: string, row: Row][] {
  return rows.map((row) => [row.rule, row]);
}

function unclassed({ taxClass: _, ...good }: HandGood): HandGood {
  return good;
}

interface RowInputs {
  work: HandWork[];
  tiers?: HandInputs['tiers'];
  agreement?: NonNullable<HandInputs['agreement']>['discounts'];
  earlierWork?: HandInputs['earlierWork'];
  visitFee?: HandInputs['visitFee'];
  period?: HandInputs['period'];
  creditShare?: string;
  secondTaskDiscount?: string;
  tax?: Partial<HandInputs['tax']>;
  adjustments?: HandInputs['options'][number]['adjustments'];
}

describe('what the engine refuses of measured goods', () => {
  const rising = {
    mode: 'progressive' as const,
    steps: [
      { upToCents: 2500, factor: '2' },
      { upToCents: null, factor: '2.1' },
    ],
  };

  it('tiers that rise, once per option with goods, because more would be dearer per pound', () => {
    const base = { ...inputsOf({ work: [] }), tiers: rising };
    const goods = { title: 'Charge', work: [chargeWork([refrigerant(18000)])], adjustments: [] };
    const parts = { title: 'Repair', work: [capacitorWork()], adjustments: [] };
    const result = price({ ...base, options: [goods, parts, goods] });
    expect(result).toMatchObject({
      outcome: 'refused',
      refusals: [
        { code: 'rising_factors_for_goods', pointer: '/tiers' },
        { code: 'rising_factors_for_goods', pointer: '/tiers' },
      ],
    });
    expect(refusalCodes({ ...base, options: [parts] })).toEqual([]);
  });

  it('says where the repeated one stands', () => {
    const result = price(inputsOf({ work: [chargeWork([refrigerant(100), refrigerant(100)])] }));
    expect(result).toMatchObject({ refusals: [{ pointer: '/options/0/work/0/goods/1/code' }] });
  });
});

interface Row extends RowInputs {
  rule: string;
  totalCents: number;
  withoutTheRuleCents: number;
}

function inputsOf(row: RowInputs): HandInputs {
  const base = workedInvoice(row.tax ?? {});
  return {
    ...base,
    policy: {
      ...base.policy,
      visitFeeCreditShare: row.creditShare ?? '0',
      secondTaskDiscount: row.secondTaskDiscount ?? '0.20',
    },
    tiers: row.tiers ?? base.tiers,
    period: row.period ?? base.period,
    visitFee: row.visitFee ?? base.visitFee,
    ...(row.agreement === undefined
      ? {}
      : { agreement: { code: 'yearly', name: 'Yearly care', discounts: row.agreement } }),
    ...(row.earlierWork === undefined ? {} : { earlierWork: row.earlierWork }),
    options: [{ title: 'Repair', work: row.work, adjustments: row.adjustments ?? [] }],
  };
}
