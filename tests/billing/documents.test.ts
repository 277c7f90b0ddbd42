import { describe, expect, it } from 'vitest';
import {
  acceptedDocument,
  type BilledDocument,
  balanceOf,
  feeDocument,
  invoiceTotal,
} from '../../src/billing/index.ts';
import { cents, currentPricingRuleset } from '../../src/pricing/index.ts';
import type { HandInputs } from '../pricing/oracle/hand-inputs.ts';
import { parsed, partsTaxed, workedLines } from './worked-bill.ts';

const { version } = currentPricingRuleset;

describe('an accepted option is billed as the published invoice', () => {
  it.each([
    { name: 'taxed once for the invoice', taxCents: 994, totalCents: 39_304 },
    { name: 'taxed line by line', taxCents: 993, totalCents: 39_303 },
    { name: 'as a lump sum', taxCents: 0, totalCents: 38_310 },
  ])('$name', ({ taxCents, totalCents }) => {
    const lines = workedLines(taxCents);
    expect(acceptedDocument(lines)).toEqual({ kind: 'accepted', lines, taxCents, totalCents });
  });
});

describe('the fee of a trip without a yes', () => {
  const allTaxed: Partial<HandInputs['tax']> = {
    rate: '0.08875',
    taxableClasses: ['visit_fee', 'part', 'labor', 'access'],
  };
  const agreement = { code: 'yearly', name: 'Yearly care', discounts: { visit_fee: '0.10' } };

  it.each([
    { name: '89.00 where fees are not taxed', tax: partsTaxed, fees: [8_900], taxCents: 0 },
    // 8.875 % of 89.00 = 7.89875
    { name: '89.00 and 7.90 of tax', tax: allTaxed, fees: [8_900], taxCents: 790 },
    // 8.875 % of 80.10 = 7.108875
    {
      name: 'less 10 % by agreement, taxed on what is left',
      tax: allTaxed,
      agreed: { agreement },
      fees: [8_900, -890],
      taxCents: 711,
    },
  ])('is $name', ({ tax, agreed, fees, taxCents }) => {
    const document = feeDocument(parsed(tax, undefined, agreed), version);
    const amounts = document?.lines.map(({ amountCents }) => amountCents);
    expect(amounts).toEqual([...fees, taxCents]);
    expect(document).toMatchObject({
      kind: 'visit_fee',
      taxCents,
      totalCents: fees.reduce((sum, fee) => sum + fee, taxCents),
    });
  });

  it('is none where none is owed', () => {
    const visitFee = { chargeable: false as const, reason: 'Parts return' };
    expect(feeDocument(parsed(partsTaxed, undefined, { visitFee }), version)).toBeUndefined();
  });

  it('is never made up by rules that nobody knows', () => {
    expect(() => feeDocument(parsed(partsTaxed), 'pricing-0')).toThrow('pricing-0');
  });
});

describe('an invoice', () => {
  const document = (taxCents: number, totalCents: number) =>
    ({
      taxCents: cents(taxCents),
      totalCents: cents(totalCents),
    }) satisfies Partial<BilledDocument>;

  it('carries each document’s tax unchanged: 9.94 and 4.55, though once for both were 14.50', () => {
    // 8.25 % of 120.45 = 9.937125 and of 55.20 = 4.554; of 175.65 = 14.491125.
    const documents = [document(994, 39_304), document(455, 5_975)];
    expect(invoiceTotal(documents)).toEqual({ taxCents: 1_449, totalCents: 45_279 });
  });

  it('of nothing comes to nothing', () => {
    expect(invoiceTotal([])).toEqual({ taxCents: 0, totalCents: 0 });
  });

  it('never comes to less than nothing', () => {
    expect(() => invoiceTotal([document(0, 100), document(0, -101)])).toThrow('less than nothing');
    expect(invoiceTotal([document(0, 100), document(0, -100)]).totalCents).toBe(0);
  });
});

describe('the balance of a bill of 393.04', () => {
  it.each([
    { name: 'nobody paid yet', money: {}, balance: 39_304 },
    { name: 'part of it paid', money: { paidCents: 10_000 }, balance: 29_304 },
    { name: 'paid', money: { paidCents: 39_304 }, balance: 0 },
    {
      name: 'paid less a credit',
      money: { creditedCents: 7_064, paidCents: 32_240 },
      balance: 0,
    },
    {
      name: 'credited after it was paid: we owe',
      money: { creditedCents: 7_064, paidCents: 39_304 },
      balance: -7_064,
    },
    {
      name: 'and what we owed was given back',
      money: { creditedCents: 7_064, paidCents: 39_304, refundedCents: 7_064 },
      balance: 0,
    },
  ])('$name', ({ money, balance }) => {
    const nothing = { totalCents: 39_304, creditedCents: 0, paidCents: 0, refundedCents: 0 };
    expect(balanceOf({ ...nothing, ...money })).toBe(balance);
  });
});
