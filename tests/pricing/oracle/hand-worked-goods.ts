import type { HandInputs, HandOptionInput } from './hand-inputs.ts';
import {
  capacitorWork,
  chargeWork,
  type HandWorkedLines,
  refrigerant,
  repairOf,
  workedInvoice,
  workedTiers,
} from './hand-worked.ts';

const good = 'good:finding-charge:charge_refrigerant:refrigerant';
const labor = 'labor:finding-charge:charge_refrigerant';

/**
 * Measured goods, at 151.00 an hour, 89.00 of fee, and 8.25 % on materials. Costs of packs are
 * illustrative, no source.
 */
export const handWorkedGoods: HandWorkedLines[] = [
  {
    //     313.37 for 25 lb, 3.5 lb        43.8718     (12.5348 a pound)
    //     first 25.00 x 3.0               75.00
    //     the other 18.8718 x 2.2         41.51796
    //                                    116.51796 -> 116.52
    // By the pound it would be 3.5 x 12.5348 x 3.0 = 131.62: buying more would not get cheaper.
    //     labor 0.5 h x 151.00            75.50
    //     fee                             89.00
    //                                    281.02
    //     tax 8.25 % of 116.52             9.6129  -> 9.61
    name: 'refrigerant 3.5 lb of 25 lb at 313.37, progressive over a bracket: 116.52',
    inputs: goodsInvoice({
      tiers: { mode: 'progressive', steps: workedTiers },
      options: repairOf([chargeWork([refrigerant(31337)])]),
    }),
    expected: {
      declineTotalCents: 8900,
      amounts: { visit_fee: 8900, [good]: 11652, [labor]: 7550, tax: 961 },
      stated: 'separated',
      taxCents: 961,
      totalCents: 29063,
    },
  },
  {
    //     180.00 for 25 lb, 3.5 lb        25.20
    //     25.20 x 2.2 = 55.44, but 25.00 x 3.0 = 75.00 is the top of the step below -> 75.00
    //     tax 8.25 % of 75.00              6.1875  -> 6.19
    //     89.00 + 75.00 + 75.50 + 6.19 = 245.69
    name: 'refrigerant 3.5 lb at 25.20 in flat steps: 55.44 is lifted to 75.00',
    inputs: goodsInvoice({
      tiers: { mode: 'flat', steps: workedTiers },
      options: repairOf([chargeWork([refrigerant(18000)])]),
    }),
    expected: {
      declineTotalCents: 8900,
      amounts: { visit_fee: 8900, [good]: 7500, [labor]: 7550, tax: 619 },
      stated: 'separated',
      taxCents: 619,
      totalCents: 24569,
    },
  },
  {
    //     10.00 for 3 ft, 0.5 ft           1.6666...
    //     x 3.0                            5.00 exactly
    // Rounding the cost first would give 1.67 x 3.0 = 5.01.
    //     tax 8.25 % of 5.00               0.4125  -> 0.41
    //     89.00 + 5.00 + 75.50 + 0.41 = 169.91
    name: 'half a foot of a 3 ft pack: the cost is not rounded before its price; equal steps are fine',
    inputs: goodsInvoice({
      tiers: {
        mode: 'progressive',
        steps: [
          { upToCents: 100, factor: '3.0' },
          { upToCents: null, factor: '3' },
        ],
      },
      options: repairOf([
        chargeWork([refrigerant(1000, { unit: '[ft_i]', quantity: '0.5', packQuantity: '3' })]),
      ]),
    }),
    expected: {
      declineTotalCents: 8900,
      amounts: { visit_fee: 8900, [good]: 500, [labor]: 7550, tax: 41 },
      stated: 'separated',
      taxCents: 41,
      totalCents: 16991,
    },
  },
  {
    // A recall is free with its goods. A reset is free but for its materials: 2 oz of 16 oz at
    // 20.00 cost 2.50, x 3.0 = 7.50. Advice charges nothing and has no line.
    //     tax 8.25 % of 7.50               0.61875 -> 0.62
    //     89.00 + 7.50 + 0.62 = 97.12
    name: 'goods of a recall are free, of a reset are charged, of advice are not there',
    inputs: goodsInvoice({
      options: repairOf([
        chargeWork([refrigerant(31337)], { recall: true }),
        chargeWork(
          [refrigerant(2000, { unit: '[oz_av]', quantity: '2', packQuantity: '16.000' })],
          { findingId: 'finding-switch', taskCode: 'reset_float_switch', remedyClass: 'reset' },
        ),
        chargeWork([refrigerant(31337)], { findingId: 'finding-old', remedyClass: 'advise' }),
      ]),
    }),
    expected: {
      declineTotalCents: 8900,
      amounts: {
        visit_fee: 8900,
        [good]: 0,
        [labor]: 0,
        'good:finding-switch:reset_float_switch:refrigerant': 750,
        'labor:finding-switch:reset_float_switch': 0,
        tax: 62,
      },
      stated: 'separated',
      taxCents: 62,
      totalCents: 9712,
    },
  },
];

/** Quotes that may not be given at all, and the sorted names of why. */
export const handWorkedRefusals: { name: string; inputs: HandInputs; refusals: string[] }[] = [
  {
    name: 'goods where a dearer step has a higher factor: once for each option with goods',
    inputs: goodsInvoice({
      tiers: {
        mode: 'progressive',
        steps: [
          { upToCents: 2500, factor: '2' },
          { upToCents: 5000, factor: '2' },
          { upToCents: null, factor: '2.000001' },
        ],
      },
      options: [
        ...repairOf([
          chargeWork([refrigerant(100), refrigerant(100, { code: 'oil' })]),
          chargeWork([refrigerant(100)], { findingId: 'finding-other' }),
        ]),
        ...repairOf([capacitorWork()]),
        ...repairOf([chargeWork([refrigerant(100)])]),
      ],
    }),
    refusals: ['rising_factors_for_goods', 'rising_factors_for_goods'],
  },
  {
    name: 'the same good twice in one task, though not in two',
    inputs: goodsInvoice({
      options: repairOf([
        chargeWork([refrigerant(100), refrigerant(200)]),
        chargeWork([refrigerant(100)], { findingId: 'finding-other' }),
      ]),
    }),
    refusals: ['duplicate_good'],
  },
  {
    name: 'a good with the code of a part of the same task',
    inputs: goodsInvoice({
      options: repairOf([capacitorWork({ goods: [refrigerant(100, { code: 'capacitor_45_5' })] })]),
    }),
    refusals: ['duplicate_good'],
  },
  {
    name: 'the owner raising the fee above what was told',
    inputs: goodsInvoice({ options: repairOf([capacitorWork()], [byOwner('visit_fee', 1)]) }),
    refusals: ['fee_raised'],
  },
  {
    name: 'the owner raising the goods of a reset',
    inputs: goodsInvoice({
      options: repairOf(
        [chargeWork([refrigerant(2000)], { remedyClass: 'reset' })],
        [byOwner(good, 1)],
      ),
    }),
    refusals: ['reset_raised'],
  },
  {
    name: 'the owner raising a part of a reset; its labor is free before it is a reset',
    inputs: goodsInvoice({
      options: repairOf(
        [capacitorWork({ remedyClass: 'reset' })],
        [
          byOwner('part:finding-capacitor:replace_run_capacitor:capacitor_45_5', 1),
          byOwner('labor:finding-capacitor:replace_run_capacitor', 1),
        ],
      ),
    }),
    refusals: ['free_line_charged', 'reset_raised'],
  },
  {
    name: 'the owner charging the goods of a recall',
    inputs: goodsInvoice({
      options: repairOf([chargeWork([refrigerant(2000)], { recall: true })], [byOwner(good, 1)]),
    }),
    refusals: ['free_line_charged'],
  },
  {
    name: 'anyone but the owner selling goods below what they cost: 43.8718 of 131.62',
    inputs: goodsInvoice({
      options: repairOf(
        [chargeWork([refrigerant(31337)])],
        [{ ...byOwner(good, -8775), byOwner: false }],
      ),
    }),
    refusals: ['adjustment_outside_fair_band'],
  },
];

function byOwner(aimedAt: string, amountCents: number): HandOptionInput['adjustments'][number] {
  return { aimedAt, amountCents, reason: 'Hard to reach', byOwner: true };
}

function goodsInvoice(changes: Partial<HandInputs>): HandInputs {
  return { ...workedInvoice({ rate: '0.0825', taxableClasses: ['material'] }), ...changes };
}
