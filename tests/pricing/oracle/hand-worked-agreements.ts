import type { HandInputs } from './hand-inputs.ts';
import {
  capacitorWork,
  chargeWork,
  contactorWork,
  type HandWorkedLines,
  refrigerant,
  repairOf,
  workedInvoice,
} from './hand-worked.ts';

const capacitor = 'finding-capacitor:replace_run_capacitor';
const contactor = 'finding-contactor:replace_contactor';

/** Maintenance agreements on the worked invoice at 151.00 an hour. Shares are illustrative. */
export const handWorkedAgreements: HandWorkedLines[] = [
  {
    // 50 % off the fee, 10 % off parts, 15 % off labor and access; second tasks 20 %.
    //     fee          89.00  - 44.50                        44.50
    //     capacitor    55.20  -  5.52                        49.68
    //     its labor   113.25  - 16.99  (16.9875)             96.26
    //     contactor    65.25  -  6.53  (6.525)               58.72
    //     its labor    75.50  - 15.10 = 60.40 - 9.06         51.34
    //     access       37.75  -  5.66  (5.6625)              32.09
    //                                                       332.59
    //     tax 8.25 % of 49.68 + 58.72 = 108.40                8.94  (8.943)
    name: 'every class of charge, on the labor of a second task after its own discount',
    inputs: agreed(
      { visit_fee: '0.5', part: '0.10', labor: '0.15', access: '0.15' },
      {
        ...workedInvoice({ rate: '0.0825', taxableClasses: ['part'] }),
        options: repairOf([
          capacitorWork({ accessMinutes: 15 }),
          contactorWork({ accessMinutes: 10 }),
        ]),
      },
    ),
    expected: {
      declineTotalCents: 4450,
      amounts: {
        visit_fee: 8900,
        'discount:visit_fee:agreement': -4450,
        [`part:${capacitor}:capacitor_45_5`]: 5520,
        [`discount:part:${capacitor}:capacitor_45_5:agreement`]: -552,
        [`labor:${capacitor}`]: 11325,
        [`discount:labor:${capacitor}:agreement`]: -1699,
        [`part:${contactor}:contactor_30a`]: 6525,
        [`discount:part:${contactor}:contactor_30a:agreement`]: -653,
        [`labor:${contactor}`]: 7550,
        [`discount:labor:${contactor}:second_task`]: -1510,
        [`discount:labor:${contactor}:agreement`]: -906,
        'access:system-1:condenser_electrical': 3775,
        'discount:access:system-1:condenser_electrical:agreement': -566,
        tax: 894,
      },
      stated: 'separated',
      taxCents: 894,
      totalCents: 34153,
    },
  },
  {
    // 15 % off the fee, which is credited by half on acceptance; 8.875 % on everything.
    //     fee          89.00 - 13.35 = 75.65 - 37.83 (37.825)    37.82
    //     capacitor                                              55.20
    //     its labor                                             113.25
    //                                                           206.27
    //     tax 8.875 % of 206.27                                  18.31  (18.3064625)
    //     declining: 75.65 + 6.71 (6.7139375) = 82.36
    name: 'the fee when declining is the fee after the agreement, and so is what is credited',
    inputs: agreed(
      { visit_fee: '0.15' },
      {
        ...workedInvoice({
          rate: '0.08875',
          taxableClasses: ['visit_fee', 'part', 'labor', 'access', 'material'],
        }),
        policy: { ...workedInvoice({}).policy, visitFeeCreditShare: '0.5' },
        options: repairOf([capacitorWork()]),
      },
    ),
    expected: {
      declineTotalCents: 8236,
      amounts: {
        visit_fee: 8900,
        'discount:visit_fee:agreement': -1335,
        'credit:visit_fee': -3783,
        [`part:${capacitor}:capacitor_45_5`]: 5520,
        [`labor:${capacitor}`]: 11325,
        tax: 1831,
      },
      stated: 'separated',
      taxCents: 1831,
      totalCents: 22458,
    },
  },
  {
    // The whole fee off: declining costs nothing and there is nothing left to credit. A warranted
    // part is zero and gets no line of discount. A share of 0 makes no line either.
    //     refrigerant 25.20 x 3.0 = 75.60 - 7.56 = 68.04, its labor 75.50 less 20 % = 60.40
    //     labor of the warranted capacitor 113.25
    //     0.00 + 68.04 + 60.40 + 113.25 = 241.69
    name: 'the whole fee, measured goods as parts, and nothing off what is zero already',
    inputs: agreed(
      { visit_fee: '1', part: '0.1', labor: '0' },
      {
        ...workedInvoice({ rate: '0.0825', taxableClasses: ['visit_fee', 'part'] }),
        policy: { ...workedInvoice({}).policy, visitFeeCreditShare: '1' },
        options: repairOf([
          capacitorWork({
            parts: capacitorWork().parts.map((part) => ({
              ...part,
              underManufacturerWarranty: true,
            })),
          }),
          chargeWork([refrigerant(18000)]),
        ]),
      },
    ),
    expected: {
      declineTotalCents: 0,
      amounts: {
        visit_fee: 8900,
        'discount:visit_fee:agreement': -8900,
        [`part:${capacitor}:capacitor_45_5`]: 0,
        [`labor:${capacitor}`]: 11325,
        'good:finding-charge:charge_refrigerant:refrigerant': 7560,
        'discount:good:finding-charge:charge_refrigerant:refrigerant:agreement': -756,
        'labor:finding-charge:charge_refrigerant': 7550,
        'discount:labor:finding-charge:charge_refrigerant:second_task': -1510,
        tax: 0,
      },
      stated: 'separated',
      taxCents: 0,
      totalCents: 24169,
    },
  },
];

function agreed(
  discounts: NonNullable<HandInputs['agreement']>['discounts'],
  inputs: HandInputs,
): HandInputs {
  return { ...inputs, agreement: { code: 'yearly', name: 'Yearly care', discounts } };
}
