import { describe, expect, it } from 'vitest';
import { fuse, wire } from './goods.ts';
import { capacitorWork, contactorWork, workedInvoice } from './oracle/hand-worked.ts';
import type { HandInputs, HandOptionInput } from './oracle/price-by-hand.ts';
import { price, pricedOption, refusalCodes } from './price.ts';

const labor = 'labor:finding-capacitor:replace_run_capacitor';
const secondLabor = 'labor:finding-contactor:replace_contactor';
const part = 'part:finding-capacitor:replace_run_capacitor:capacitor_45_5';
const freeLabor = 'labor:finding-breaker:reset_breaker';
const freePart = 'part:finding-warranty:replace_motor:motor';
const resetPart = 'part:finding-fuse:replace_control_fuse:fuse_3a';
const resetGood = 'good:finding-fuse:replace_control_fuse:wire';
const recalledPart = 'part:finding-recall:replace_control_fuse:fuse_3a';
const recalledGood = 'good:finding-recall:replace_control_fuse:wire';

/**
 * Tolerance 10 %, cost 128.35 an hour. Labor 113.25 costs 96.2625 and may reach 124.575; the part
 * at 55.20 costs 18.40 and may reach 60.72; the second labor is 60.40 after its discount, already
 * below its cost of 64.175, and may reach 66.44. Rows stand in pairs around each limit, so moving
 * or removing a limit fails one of them.
 */
describe('the fair band of a line', () => {
  it.each([
    { name: 'down to the cost of the labor', aimedAt: labor, cents: -1698, codes: [] },
    { name: 'not below it', aimedAt: labor, cents: -1699, codes: ['adjustment_outside_fair_band'] },
    { name: 'up to the tolerance', aimedAt: labor, cents: 1132, codes: [] },
    { name: 'not above it', aimedAt: labor, cents: 1133, codes: ['adjustment_outside_fair_band'] },
    { name: 'down to the cost of a part', aimedAt: part, cents: -3680, codes: [] },
    { name: 'not below it', aimedAt: part, cents: -3681, codes: ['adjustment_outside_fair_band'] },
    { name: 'up to the tolerance', aimedAt: part, cents: 552, codes: [] },
    { name: 'not above it', aimedAt: part, cents: 553, codes: ['adjustment_outside_fair_band'] },
    { name: 'from the discounted labor up', aimedAt: secondLabor, cents: 604, codes: [] },
    {
      name: 'not from the labor before its discount',
      aimedAt: secondLabor,
      cents: 605,
      codes: ['adjustment_outside_fair_band'],
    },
    {
      name: 'not lower where the discount is below cost already',
      aimedAt: secondLabor,
      cents: -1,
      codes: ['adjustment_outside_fair_band'],
    },
    {
      name: 'not below a fee that was told',
      aimedAt: 'visit_fee',
      cents: -1,
      codes: ['adjustment_outside_fair_band'],
    },
  ])('$aimedAt, $cents cents: $name', ({ aimedAt, cents, codes }) => {
    expect(refusalCodes(adjusted([by('technician', aimedAt, cents)]))).toEqual(codes);
    // The owner may go where the band ends, with a reason.
    expect(refusalCodes(adjusted([by('owner', aimedAt, cents)]))).toEqual([]);
  });

  it('is judged on everything aimed at the line together', () => {
    const twice = [by('technician', labor, 1000), by('technician', labor, 133)];
    expect(refusalCodes(adjusted(twice))).toEqual(['adjustment_outside_fair_band']);
  });

  it('does not let others leave it in the shade of an owner’s adjustment', () => {
    const shaded = [by('owner', labor, -2000), by('technician', labor, 2000)];
    expect(refusalCodes(adjusted(shaded))).toEqual(['adjustment_outside_fair_band']);
  });

  it('of a fee that was told is that fee, though the owner takes back what others add', () => {
    const backAndForth = [by('technician', 'visit_fee', 2), by('owner', 'visit_fee', -2)];
    expect(refusalCodes(adjusted(backAndForth))).toEqual(['adjustment_outside_fair_band']);
  });

  it('is not left by the owner lowering what others raised inside it', () => {
    const both = [by('technician', labor, 1132), by('owner', labor, -5000)];
    expect(refusalCodes(adjusted(both))).toEqual([]);
  });
});

describe('what nobody may adjust, the owner included', () => {
  it.each([
    {
      name: 'charging the labor of a reset',
      aimedAt: freeLabor,
      cents: 1,
      code: 'free_line_charged',
    },
    { name: 'charging a warranted part', aimedAt: freePart, cents: 1, code: 'free_line_charged' },
    { name: 'a fee above what was told', aimedAt: 'visit_fee', cents: 1, code: 'fee_raised' },
    { name: 'a part of a reset', aimedAt: resetPart, cents: 1, code: 'reset_raised' },
    { name: 'measured goods of a reset', aimedAt: resetGood, cents: 1, code: 'reset_raised' },
    {
      name: 'a part of a reset that a recall makes free',
      aimedAt: recalledPart,
      cents: 1,
      code: 'free_line_charged',
    },
    {
      name: 'measured goods of a recall',
      aimedAt: recalledGood,
      cents: 1,
      code: 'free_line_charged',
    },
    { name: 'a line below zero', aimedAt: labor, cents: -11326, code: 'adjustment_below_zero' },
    {
      name: 'a line that is not there',
      aimedAt: 'labor:nothing:nothing',
      cents: 1,
      code: 'unknown_adjustment_target',
    },
    { name: 'the tax', aimedAt: 'tax', cents: -1, code: 'unknown_adjustment_target' },
    {
      name: 'a discount, instead of the line it is aimed at',
      aimedAt: `discount:${secondLabor}:second_task`,
      cents: 1,
      code: 'unknown_adjustment_target',
    },
  ])('$name', ({ aimedAt, cents, code }) => {
    expect(refusalCodes(adjusted([by('owner', aimedAt, cents)]))).toEqual([code]);
  });

  it('charging a fee that this trip does not have', () => {
    const inputs = adjusted([by('owner', 'visit_fee', 1)]);
    const recall = { ...inputs, visitFee: { chargeable: false as const, reason: 'Recall' } };
    expect(refusalCodes(recall)).toEqual(['free_line_charged']);
  });

  it.each([
    { name: 'others and the owner together', aimedAt: 'visit_fee', code: 'fee_raised' },
    { name: 'others and the owner together', aimedAt: resetPart, code: 'reset_raised' },
  ])('raising $aimedAt by a cent on balance, $name', ({ aimedAt, code }) => {
    const both = [by('technician', aimedAt, 2), by('owner', aimedAt, -1)];
    expect(refusalCodes(adjusted(both))).toEqual([code]);
  });

  it('but may lower the fee and the materials of a reset', () => {
    const lowered = ['visit_fee', resetPart, resetGood].map((key) => by('owner', key, -1));
    expect(refusalCodes(adjusted(lowered))).toEqual([]);
  });

  it('a line down to zero is the last step the owner has', () => {
    expect(refusalCodes(adjusted([by('owner', labor, -11325)]))).toEqual([]);
  });

  it('anything without a reason', () => {
    const inputs = adjusted([{ ...by('owner', labor, 1), reason: '  ' }]);
    expect(refusalCodes(inputs)).toEqual(['adjustment_without_reason']);
  });
});

describe('an adjustment', () => {
  it('stands behind its line with its reason and changes tax, class and total', () => {
    const option = pricedOption(adjusted([by('technician', part, 500)]));
    const before = pricedOption(adjusted([]));
    const line = option.lines.find(({ kind }) => kind === 'adjustment');
    expect(line).toMatchObject({ aimedAt: part, class: 'part', amountCents: 500, byOwner: false });
    expect(line?.why.sentence).toBe('Hard to reach');
    expect(option.classTotals.part - before.classTotals.part).toBe(500);
    // 10 % on parts.
    expect(option.taxCents - before.taxCents).toBe(50);
  });

  it('shows its reason without the spaces around it', () => {
    const option = pricedOption(adjusted([{ ...by('owner', part, 1), reason: ' Hard to reach ' }]));
    const line = option.lines.find(({ kind }) => kind === 'adjustment');
    expect(line?.why.sentence).toBe('Hard to reach');
  });

  it('stands in one order, whichever was made first: by amount, the owner’s last, by reason', () => {
    const inOrder = [
      by('owner', part, -100),
      { ...by('technician', part, 100), reason: 'Hard to reach' },
      { ...by('technician', part, 100), reason: 'Late at night' },
      { ...by('owner', part, 100), reason: 'Hard to reach' },
      by('technician', part, 200),
    ];
    for (const made of [
      inOrder,
      inOrder.toReversed(),
      [...inOrder.slice(3), ...inOrder.slice(0, 3)],
    ]) {
      const lines = pricedOption(adjusted(made)).lines.flatMap((line) =>
        line.kind === 'adjustment' ? [line] : [],
      );
      expect(
        lines.map(({ amountCents, byOwner, why }) => [amountCents, byOwner, why.sentence]),
      ).toEqual(inOrder.map(({ amountCents, byOwner, reason }) => [amountCents, byOwner, reason]));
    }
  });

  it('of the fee lowers what can be credited: no more than what is left of it', () => {
    const inputs = adjusted([by('owner', 'visit_fee', -6000)]);
    const generous = { ...inputs, policy: { ...inputs.policy, visitFeeCreditShare: '1' } };
    const option = pricedOption(generous);
    expect(option.lines.find(({ kind }) => kind === 'credit')?.amountCents).toBe(-2900);
    expect(option.classTotals.visit_fee).toBe(0);
  });

  it('refused: says where it stands and in plain words, without the cost', () => {
    const result = price(adjusted([by('owner', part, 1), by('technician', labor, -1699)]));
    expect(result).toEqual({
      outcome: 'refused',
      refusals: [
        {
          code: 'adjustment_outside_fair_band',
          message: "'Replace run capacitor' would leave the fair band. Only the owner may do that.",
          pointer: '/options/0/adjustments/1/amountCents',
        },
      ],
    });
  });
});

type AdjustmentInput = HandOptionInput['adjustments'][number];

function by(who: 'owner' | 'technician', aimedAt: string, amountCents: number): AdjustmentInput {
  return { aimedAt, amountCents, reason: 'Hard to reach', byOwner: who === 'owner' };
}

/** Capacitor and contactor, resets with and without materials, a motor under warranty. */
function adjusted(adjustments: AdjustmentInput[]): HandInputs {
  const reset = capacitorWork({
    findingId: 'finding-breaker',
    taskCode: 'reset_breaker',
    remedyClass: 'reset',
    parts: [],
  });
  const warranty = capacitorWork({
    findingId: 'finding-warranty',
    taskCode: 'replace_motor',
    minutes: 0,
    parts: [
      {
        code: 'motor',
        name: 'Condenser fan motor',
        unitCostCents: 12000,
        quantity: 1,
        underManufacturerWarranty: true,
      },
    ],
  });
  const fuseReset = capacitorWork({
    findingId: 'finding-fuse',
    taskCode: 'replace_control_fuse',
    remedyClass: 'reset',
    parts: [fuse],
    goods: [wire],
  });
  const recalled = { ...fuseReset, findingId: 'finding-recall', recall: true };
  const work = [capacitorWork(), contactorWork(), reset, fuseReset, recalled, warranty];
  return {
    ...workedInvoice({ rate: '0.10', taxableClasses: ['part'] }),
    options: [{ title: 'Repair', work, adjustments }],
  };
}
