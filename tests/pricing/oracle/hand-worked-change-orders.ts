import type { HandEarlierWork, HandInputs } from './hand-inputs.ts';
import {
  capacitorWork,
  contactorWork,
  type HandWorkedLines,
  repairOf,
  workedInvoice,
} from './hand-worked.ts';

const capacitor = 'finding-capacitor:replace_run_capacitor';
const contactor = 'finding-contactor:replace_contactor';
const access = 'access:system-1:condenser_electrical';

/**
 * Change orders at 151.00 an hour, second tasks 20 % off, 8.25 % on parts, the fee charged before.
 * First principles: two documents of one visit together charge what one would have.
 */
export const handWorkedChangeOrders: HandWorkedLines[] = [
  {
    // Charged before: labor 75.50 (dearest, whole), 40.00 (less 8.00) and 10.00 (less 2.00), access
    // 15 min at the longest = 37.75.
    // New: 113.25 is dearer than 75.50, so it is spared and carries 20 % of 75.50 = 15.10.
    //     capacitor                             55.20
    //     its labor    113.25 - 15.10           98.15
    //     contactor                             65.25
    //     its labor     75.50 - 15.10           60.40
    //     access 40 - 15 = 25 min               62.92  (62.9166...)
    //                                          341.92
    //     tax 8.25 % of 120.45                   9.94
    // On one paper: labor 113.25 + 60.40 + 60.40 + 32.00 + 8.00 = 274.05, and on two
    // 75.50 + 32.00 + 8.00 and 98.15 + 60.40 = 274.05; access 40 min = 100.67 = 37.75 + 62.92.
    name: 'access opened before and a dearer new task',
    inputs: changeOrder(
      {
        access: [
          { systemId: 'system-1', accessGroup: 'condenser_electrical', minutes: 10 },
          { systemId: 'system-1', accessGroup: 'condenser_electrical', minutes: 15 },
          { systemId: 'system-1', accessGroup: 'condenser_electrical', minutes: 5 },
        ],
        labor: [
          { taskName: 'Replace relay', amountCents: 4000 },
          { taskName: 'Replace fan motor', amountCents: 7550 },
          { taskName: 'Replace fuse holder', amountCents: 1000 },
        ],
      },
      { options: repairOf([capacitorWork({ accessMinutes: 40 }), contactorWork()]) },
    ),
    expected: {
      declineTotalCents: 0,
      amounts: {
        visit_fee: 0,
        [`part:${capacitor}:capacitor_45_5`]: 5520,
        [`labor:${capacitor}`]: 11325,
        [`discount:labor:${capacitor}:earlier_second_task`]: -1510,
        [`part:${contactor}:contactor_30a`]: 6525,
        [`labor:${contactor}`]: 7550,
        [`discount:labor:${contactor}:second_task`]: -1510,
        [access]: 6292,
        tax: 994,
      },
      stated: 'separated',
      taxCents: 994,
      totalCents: 35186,
    },
  },
  {
    // Charged before: labor 113.25, access 15 min. New access of 15 min is opened already.
    //     contactor 65.25 + labor 75.50 - 15.10 = 60.40, together 125.65
    //     tax 8.25 % of 65.25 = 5.383 -> 5.38
    name: 'a cheaper task is a second task, and access as long as before costs nothing',
    inputs: changeOrder(
      {
        access: [{ systemId: 'system-1', accessGroup: 'condenser_electrical', minutes: 15 }],
        labor: [{ taskName: 'Replace run capacitor', amountCents: 11325 }],
      },
      { options: repairOf([contactorWork({ accessMinutes: 15 })]) },
    ),
    expected: {
      declineTotalCents: 0,
      amounts: {
        visit_fee: 0,
        [`part:${contactor}:contactor_30a`]: 6525,
        [`labor:${contactor}`]: 7550,
        [`discount:labor:${contactor}:second_task`]: -1510,
        tax: 538,
      },
      stated: 'separated',
      taxCents: 538,
      totalCents: 13103,
    },
  },
  {
    // As dear as the dearest before is not dearer: 20 % off. The agreement takes 15 % of the rest.
    // The same access of another system was no opening of this one.
    //     capacitor                                        55.20
    //     its labor 113.25 - 22.65 = 90.60 - 13.59         77.01
    //     access 15 min                                    37.75
    //                                                     169.96
    //     tax                                               4.55
    name: 'a task as dear as the dearest before is a second task; another system opens anew',
    inputs: changeOrder(
      {
        access: [{ systemId: 'system-2', accessGroup: 'condenser_electrical', minutes: 15 }],
        labor: [{ taskName: 'Replace fan motor', amountCents: 11325 }],
      },
      {
        agreement: { code: 'yearly', name: 'Yearly care', discounts: { labor: '0.15' } },
        options: repairOf([capacitorWork({ accessMinutes: 15 })]),
      },
    ),
    expected: {
      declineTotalCents: 0,
      amounts: {
        visit_fee: 0,
        [`part:${capacitor}:capacitor_45_5`]: 5520,
        [`labor:${capacitor}`]: 11325,
        [`discount:labor:${capacitor}:second_task`]: -2265,
        [`discount:labor:${capacitor}:agreement`]: -1359,
        [access]: 3775,
        tax: 455,
      },
      stated: 'separated',
      taxCents: 455,
      totalCents: 17451,
    },
  },
  {
    // Dearer than 75.50: spared, carries 15.10; the agreement takes 15 % of 98.15 = 14.7225.
    //     55.20 + 113.25 - 15.10 - 14.72 = 138.63, tax 4.55
    name: 'the agreement comes after what the earlier second task had off',
    inputs: changeOrder(
      { access: [], labor: [{ taskName: 'Replace contactor', amountCents: 7550 }] },
      {
        agreement: { code: 'yearly', name: 'Yearly care', discounts: { labor: '0.15' } },
        options: repairOf([capacitorWork()]),
      },
    ),
    expected: {
      declineTotalCents: 0,
      amounts: {
        visit_fee: 0,
        [`part:${capacitor}:capacitor_45_5`]: 5520,
        [`labor:${capacitor}`]: 11325,
        [`discount:labor:${capacitor}:earlier_second_task`]: -1510,
        [`discount:labor:${capacitor}:agreement`]: -1472,
        tax: 455,
      },
      stated: 'separated',
      taxCents: 455,
      totalCents: 14318,
    },
  },
];

function changeOrder(earlierWork: HandEarlierWork, changes: Partial<HandInputs>): HandInputs {
  return {
    ...workedInvoice({ rate: '0.0825', taxableClasses: ['part'] }),
    visitFee: { chargeable: false, reason: 'Charged with the first quote' },
    earlierWork,
    ...changes,
  };
}
