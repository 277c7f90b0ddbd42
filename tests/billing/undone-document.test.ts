import { describe, expect, it } from 'vitest';
import { acceptedDocument, type BilledLine, undoneDocument } from '../../src/billing/index.ts';
import { cents, currentPricingRuleset } from '../../src/pricing/index.ts';
import type { HandInputs, HandWork } from '../pricing/oracle/hand-inputs.ts';
import {
  capacitorWork,
  chargeWork,
  contactorWork,
  refrigerant,
  workedTiers,
} from '../pricing/oracle/hand-worked.ts';
import { at, line, parsed, partsTaxed, partsTaxedByLine, workedLines } from './worked-bill.ts';

const CAPACITOR = 'finding-capacitor';
const CONTACTOR = 'finding-contactor';

type Used = Parameters<typeof undoneDocument>[1]['used'];

function takenOff(
  tax: Partial<HandInputs['tax']>,
  lines: readonly BilledLine[],
  undone: readonly string[],
  work?: HandWork[],
) {
  return lessOf(parsed(tax, work), lines, { undoneFindingIds: undone, used: [] });
}

function lessOf(
  inputs: ReturnType<typeof parsed>,
  lines: readonly BilledLine[],
  done: { undoneFindingIds: readonly string[]; used: Used },
) {
  const rulesetVersion = currentPricingRuleset.version;
  return undoneDocument({ inputs, rulesetVersion, optionAt: 0, lines }, done);
}

function amountsOf(answer: ReturnType<typeof undoneDocument>): Record<string, number> {
  if (answer.outcome === 'nothing') return {};
  if (answer.outcome !== 'some') throw new Error(`taken off: ${answer.outcome}`);
  return Object.fromEntries(
    answer.document.lines.map(({ key, amountCents }) => [key, amountCents]),
  );
}

describe('work of the published invoice that was not done comes off the bill', () => {
  it.each([
    {
      name: 'the contactor, tax once for the invoice',
      tax: partsTaxed,
      billedTax: 994,
      undone: CONTACTOR,
      // Labor goes at the discounted price. 9.94 less 8.25 % of 55.20 = 4.554.
      off: { contactor: -6_525, contactorLabor: -6_040, tax: -539 },
      left: 8_900 + 5_520 + 11_325 + 455,
    },
    {
      name: 'the contactor, tax line by line',
      tax: partsTaxedByLine,
      billedTax: 993,
      undone: CONTACTOR,
      off: { contactor: -6_525, contactorLabor: -6_040, tax: -538 },
      left: 8_900 + 5_520 + 11_325 + 455,
    },
    {
      name: 'the capacitor, the dearest task: the second one keeps what was taken off it',
      tax: partsTaxed,
      billedTax: 994,
      undone: CAPACITOR,
      // 9.94 less 8.25 % of 65.25 = 5.383.
      off: { capacitor: -5_520, capacitorLabor: -11_325, tax: -456 },
      left: 8_900 + 6_525 + 6_040 + 538,
    },
  ] as const)('$name', ({ tax, billedTax, undone, off, left }) => {
    const lines = workedLines(billedTax);
    const answer = takenOff(tax, lines, [undone]);
    const named = Object.entries(off).map(([name, amountCents]) => [
      `undone:${at[name as keyof typeof off]}`,
      amountCents,
    ]);
    expect(amountsOf(answer)).toEqual(Object.fromEntries(named));
    if (answer.outcome !== 'some') throw new Error('nothing was taken off');
    expect(answer.document.kind).toBe('work_not_done');
    expect(acceptedDocument(lines).totalCents + answer.document.totalCents).toBe(left);
  });

  it('a lump sum has no tax to take off', () => {
    const lumpSum = { ...partsTaxed, mode: 'lump_sum' } as const;
    expect(amountsOf(takenOff(lumpSum, workedLines(0), [CONTACTOR]))).toEqual({
      [`undone:${at.contactor}`]: -6_525,
      [`undone:${at.contactorLabor}`]: -6_040,
    });
  });

  it('a part that was free takes nothing off', () => {
    const lines = workedLines(538).map((each) =>
      each.key === at.capacitor ? line(each.key, 0, { findingIds: [CAPACITOR] }) : each,
    );
    expect(amountsOf(takenOff(partsTaxed, lines, [CAPACITOR]))).toEqual({
      [`undone:${at.capacitorLabor}`]: -11_325,
    });
  });
});

describe('what serves several findings is billed while one of them was mended', () => {
  const key = 'access:system-1:condenser_electrical';
  /** At 151.00 an hour, 10 minutes are 25.17 and 30 minutes 75.50. */
  const wayIn = (amountCents: number, findingIds: string[]) =>
    line(key, amountCents, { findingIds });
  const minutes = (capacitor: number, contactor: number) => [
    capacitorWork({ accessMinutes: capacitor }),
    contactorWork({ accessMinutes: contactor }),
  ];

  it('the way in to both, when both need the same', () => {
    const lines = workedLines(994, [wayIn(2_517, [CAPACITOR, CONTACTOR])]);
    const off = amountsOf(takenOff(partsTaxed, lines, [CONTACTOR], minutes(10, 10)));
    expect(off).not.toHaveProperty([`undone:${key}`]);
  });

  it('but no more of it than what was mended needs', () => {
    const lines = workedLines(994, [wayIn(7_550, [CAPACITOR, CONTACTOR])]);
    const off = amountsOf(takenOff(partsTaxed, lines, [CONTACTOR], minutes(10, 30)));
    expect(off[`undone:${key}`]).toBe(2_517 - 7_550);
  });

  it('nor the way in to the undone one alone', () => {
    const lines = workedLines(994, [wayIn(2_517, [CONTACTOR])]);
    const off = amountsOf(takenOff(partsTaxed, lines, [CONTACTOR], minutes(0, 10)));
    expect(off[`undone:${key}`]).toBe(-2_517);
  });

  it('one can for two sections', () => {
    const both = [CAPACITOR, 'finding-other-section'];
    const lines = workedLines(994).map((each) =>
      each.findingIds.includes(CAPACITOR) ? { ...each, findingIds: both } : each,
    );
    const work = [capacitorWork({ alsoFindingIds: ['finding-other-section'] }), contactorWork()];
    const half = takenOff(partsTaxed, lines, ['finding-other-section'], work);
    expect(half.outcome).toBe('nothing');
    expect(amountsOf(takenOff(partsTaxed, lines, both, work))).toEqual({
      [`undone:${at.capacitor}`]: -5_520,
      [`undone:${at.capacitorLabor}`]: -11_325,
      'undone:tax': -456,
    });
  });
});

describe('the fee is credited as far as labor and access are still charged', () => {
  const credit = line('credit:visit_fee', -8_900, { priceClass: 'visit_fee', aimedAt: at.fee });
  const wholeFee = { ...parsed({}).policy, visitFeeCreditShare: '1' };

  function left(
    tax: Partial<HandInputs['tax']>,
    lines: readonly BilledLine[],
    undone: string,
  ): Record<string, number> {
    const inputs = { ...parsed(tax), policy: wholeFee };
    const answer = lessOf(inputs, lines, { undoneFindingIds: [undone], used: [] });
    if (answer.outcome !== 'some') throw new Error(answer.outcome);
    return {
      putBack: amountsOf(answer)[`undone:${credit.key}`] ?? 0,
      tax: acceptedDocument(lines).taxCents + answer.document.taxCents,
      total: acceptedDocument(lines).totalCents + answer.document.totalCents,
    };
  }

  it('and stays whole where what was done took that long', () => {
    // 89.00 - 89.00 + 55.20 + 113.25, and 8.25 % of 55.20 = 4.554.
    const lines = workedLines(994, [credit]);
    expect(left(partsTaxed, lines, CONTACTOR)).toEqual({ putBack: 0, tax: 455, total: 17_300 });
  });

  it('and is cut to the labor of what was done', () => {
    // 60.40 of labor is left: 89.00 - 60.40 + 65.25 + 60.40, and 8.25 % of 65.25 = 5.383.
    const lines = workedLines(994, [credit]);
    expect(left(partsTaxed, lines, CAPACITOR)).toEqual({
      putBack: 2_860,
      tax: 538,
      total: 8_900 + 6_525 + 538,
    });
  });

  it('and, where the fee is taxed and labor is not, to what leaves the bill no less than a no', () => {
    // Declining comes to 89.00 + 7.34. The contactor was free, so 60.40 of labor is all that was
    // done. With 55.80 credited: 33.20 + 2.74 + 60.40 = 96.34; with a cent more, 96.33.
    const taxed = { ...partsTaxed, taxableClasses: ['part', 'visit_fee'] } as const;
    const free = workedLines(455, [credit]).map((each) =>
      each.key === at.contactor ? { ...each, amountCents: line('', 0).amountCents } : each,
    );
    expect(left({ ...taxed, taxableClasses: [...taxed.taxableClasses] }, free, CAPACITOR)).toEqual({
      putBack: 3_320,
      tax: 274,
      total: 9_634,
    });
  });
});

describe('what else is billed of the visit counts too', () => {
  const credit = line('credit:visit_fee', -8_900, { priceClass: 'visit_fee', aimedAt: at.fee });
  const inputs = {
    ...parsed(partsTaxed),
    policy: { ...parsed({}).policy, visitFeeCreditShare: '1' },
  };
  const lines = workedLines(994, [credit]);
  const rulesetVersion = currentPricingRuleset.version;
  const accepted = { inputs, rulesetVersion, optionAt: 0, lines };
  const of = (timeCents: number, totalCents: number) => ({
    timeCents: cents(timeCents),
    totalCents: cents(totalCents),
  });
  const undone = (ids: string[]) => ({ undoneFindingIds: ids, used: [] });
  const putBack = (answer: ReturnType<typeof undoneDocument>) =>
    amountsOf(answer)[`undone:${credit.key}`] ?? 0;

  it('the labor of a change order keeps as much of the credit', () => {
    // 60.40 of labor is left, and 20.00 with the change order.
    const beside = { changeOrders: of(2_000, 5_000), feeWaived: false };
    expect(putBack(undoneDocument(accepted, undone([CAPACITOR]), beside))).toBe(
      8_900 - 6_040 - 2_000,
    );
  });

  it('a quote of which nothing was done bills its trip, with the credit that a change order earns', () => {
    const beside = { changeOrders: of(7_297, 14_360), feeWaived: false };
    const answer = undoneDocument(accepted, undone([CAPACITOR, CONTACTOR]), beside);
    expect(putBack(answer)).toBe(8_900 - 7_297);
    expect(answer.left).toEqual(of(0, 8_900 - 7_297));
  });

  it('and where the trip was for our own work that came back, no fee', () => {
    const beside = { changeOrders: of(0, 0), feeWaived: true };
    expect(amountsOf(undoneDocument(accepted, undone([]), beside))).toEqual({});
    const without = workedLines(994);
    const waived = undoneDocument({ ...accepted, lines: without }, undone([]), beside);
    expect(amountsOf(waived)).toEqual({ [`undone:${at.fee}`]: -8_900 });
    expect(waived.left.totalCents).toBe(39_304 - 8_900);
  });
});

describe('goods that were sold and not used come off at the price of what was used', () => {
  /** 5 lb at 20.00 a pound, by the tiers below: 75.00 + 75.00 x 2.2 = 240.00. */
  const charge = 'good:finding-charge:charge_refrigerant:refrigerant';
  const chargeLabor = 'labor:finding-charge:charge_refrigerant';
  const sold = chargeWork([refrigerant(50_000, { quantity: '5' })]);
  const words = { findingIds: ['finding-charge'] };
  const lines = [line(at.fee, 8_900), line(charge, 24_000, words), line(chargeLabor, 7_550, words)];
  const tiers = { mode: 'progressive' as const, steps: workedTiers };

  function offOf(
    used: Used,
    { tax = {}, more = [], changes = {} }: { tax?: object; more?: BilledLine[]; changes?: object },
  ): Record<string, number> {
    const inputs = parsed(tax, [sold], { tiers, ...changes });
    const answer = lessOf(inputs, [...lines, ...more], { undoneFindingIds: [], used });
    return answer.outcome === 'nothing' ? {} : amountsOf(answer);
  }

  it('3 of 5 lb: 75.00 + 35.00 x 2.2 = 152.00, so 88.00', () => {
    expect(offOf([{ key: charge, quantity: '3' }], {})).toEqual({ [`undone:${charge}`]: -8_800 });
  });

  it('with the tax on it, 19.80 less 8.25 % of 152.00 = 12.54', () => {
    const tax = { rate: '0.0825', taxableClasses: ['material'] };
    expect(offOf([{ key: charge, quantity: '3' }], { tax, more: [line(at.tax, 1_980)] })).toEqual({
      [`undone:${charge}`]: -8_800,
      'undone:tax': -726,
    });
  });

  it('less the discount of an agreement on it: 216.00 - 136.80 = 79.20', () => {
    const agreement = { code: 'club', name: 'Club', discounts: { part: '0.10' } };
    const discount = line(`discount:${charge}:agreement`, -2_400, {
      priceClass: 'part',
      aimedAt: charge,
    });
    expect(
      offOf([{ key: charge, quantity: '3' }], { more: [discount], changes: { agreement } }),
    ).toEqual({ [`undone:${charge}`]: -7_920 });
  });

  it('and no more than is left of it after an adjustment', () => {
    const adjusted = line(`adjustment:${charge}:1`, -23_000, {
      priceClass: 'part',
      aimedAt: charge,
    });
    expect(offOf([{ key: charge, quantity: '3' }], { more: [adjusted] })).toEqual({
      [`undone:${charge}`]: -1_000,
    });
  });

  it.each([
    { name: 'nothing where all of it was used', quantity: '5', off: {} },
    { name: 'all of it where none was', quantity: '0', off: { [`undone:${charge}`]: -24_000 } },
  ])('$name', ({ quantity, off }) => {
    expect(offOf([{ key: charge, quantity }], {})).toEqual(off);
  });

  it('nothing where another part is what was used less of', () => {
    expect(offOf([], {})).toEqual({});
  });

  it('one of two contactors: its unit price', () => {
    const [contactor] = contactorWork().parts;
    if (contactor === undefined) throw new Error('a contactor is a part');
    const two = contactorWork({ parts: [{ ...contactor, quantity: 2 }] });
    const inputs = parsed(partsTaxed, [capacitorWork(), two]);
    const withTwo = workedLines(1_532).map((each) =>
      each.key === at.contactor ? { ...each, amountCents: line('', 13_050).amountCents } : each,
    );
    const used = [{ key: at.contactor, quantity: '1' }];
    // 8.25 % of 185.70 = 15.320; of 120.45 = 9.937.
    const answer = lessOf(inputs, withTwo, { undoneFindingIds: [], used });
    expect(amountsOf(answer)).toEqual({ [`undone:${at.contactor}`]: -6_525, 'undone:tax': -538 });
  });

  it('a part of work that was not done comes off once', () => {
    const used = [{ key: at.contactor, quantity: '0' }];
    const done = { undoneFindingIds: [CONTACTOR], used };
    expect(amountsOf(lessOf(parsed(partsTaxed), workedLines(994), done))).toEqual({
      [`undone:${at.contactor}`]: -6_525,
      [`undone:${at.contactorLabor}`]: -6_040,
      'undone:tax': -539,
    });
  });
});

describe('a job of which nothing was done', () => {
  it('is not billed as accepted at all, so that the trip is billed as after a no', () => {
    expect(takenOff(partsTaxed, workedLines(994), [CAPACITOR, CONTACTOR]).outcome).toBe(
      'everything',
    );
  });

  it('is billed whole when everything was done', () => {
    expect(takenOff(partsTaxed, workedLines(994), []).outcome).toBe('nothing');
    expect(takenOff(partsTaxed, workedLines(994), ['another-finding']).outcome).toBe('nothing');
  });
});
