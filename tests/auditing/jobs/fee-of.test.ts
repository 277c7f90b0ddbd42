import { describe, expect, it } from 'vitest';
import type { JobDocument } from '../../../src/auditing/index.ts';
import { chargesOf } from '../../../src/auditing/jobs/charges-of.ts';
import { yesBeside } from '../../../src/auditing/jobs/fee-of.ts';
import { isTimeTaxedAsFee } from '../../../src/auditing/jobs/is-time-taxed-as-fee.ts';
import { leftBeforeFeeCredit } from '../../../src/auditing/jobs/left-before-fee-credit.ts';
import { cents, type TaxRule } from '../../../src/pricing/index.ts';
import { capacitor, documentOf, inputsOf, jobOf, keysOf } from '../job-of.ts';

/*
 * The fee of 89.00, of which a yes credits 44.50 against labor and access. PRODUCT.md, "Price".
 */

const labor = keysOf(capacitor()).labor;
const quote = documentOf(jobOf());

/** A quote with the fee charged beside it. */
const withoutFee: JobDocument = {
  ...quote,
  lines: quote.lines.filter(({ key, aimedAt }) => key !== 'visit_fee' && aimedAt === null),
};
const fee: JobDocument = {
  ...quote,
  ...{ kind: 'visit_fee', title: 'fee', quoteId: null },
  lines: quote.lines.filter(({ key }) => key === 'visit_fee'),
};

describe('what is left of a fee as a price', () => {
  it.each<[string, string, JobDocument['credited'], number]>([
    ['is the whole fee where a yes credited half of it', 'visit_fee', [], 8_900],
    [
      ...(['is no more where the credit was cut', 'visit_fee'] as const),
      ...([[{ key: 'visit_fee', amountCents: cents(-1_000) }], 8_900] as const),
    ],
    [
      ...(['is less where some of it was given back', 'visit_fee'] as const),
      ...([[{ key: 'visit_fee', amountCents: cents(1_500) }], 7_400] as const),
    ],
    ['of labor is not touched by the credit of the fee', labor, [], 11_325],
    [
      ...(['of labor is not touched by a credit that was cut', labor] as const),
      ...([[{ key: 'visit_fee', amountCents: cents(-1_000) }], 11_325] as const),
    ],
  ])('%s', (_, key, credited, expected) => {
    const document = { ...quote, credited };
    const charge = chargesOf(document).find(({ line }) => line.key === key);
    expect(charge && leftBeforeFeeCredit(document, charge)).toBe(expected);
  });
});

describe('the yes that credits a fee billed by itself', () => {
  const root = { ...withoutFee, quoteId: 'quote-5' };
  const change = { ...withoutFee, quoteId: 'quote-2', parentQuoteId: 'quote-5' };
  const another = { ...withoutFee, quoteId: 'quote-7' };

  it.each<[string, JobDocument[], string | undefined]>([
    ['is that to the quote, and not to what changes it', [fee, change, root], 'quote-5'],
    ['is that to the first of two quotes', [fee, root, another], 'quote-5'],
    ['is the same in another order', [another, root, fee], 'quote-5'],
    ['is none where a quote charges a fee itself', [fee, root, quote], undefined],
    ['is none where nobody said yes', [fee], undefined],
  ])('%s', (_, visit, expected) => {
    expect(yesBeside(fee, visit)?.quoteId).toBe(expected);
  });

  it('is no matter of a quote', () => {
    expect(yesBeside(root, [root, another])).toBeUndefined();
  });
});

describe('labor in place of a fee is taxed alike', () => {
  const rule = (...taxableClasses: TaxRule['taxableClasses']): TaxRule => ({
    ...inputsOf([capacitor()]).tax,
    taxableClasses,
  });
  const both = [quote, { ...quote, position: 2 }];

  it.each<[string, JobDocument[], TaxRule, boolean]>([
    ['where one rule taxes fee and labor', [quote], rule('visit_fee', 'labor', 'access'), true],
    ['not where labor alone is taxed', [quote], rule('labor', 'access'), false],
    ['not where the fee alone is taxed', [quote], rule('visit_fee', 'part'), false],
    ['not on two documents', both, rule('visit_fee', 'labor', 'access'), false],
    ['not on none', [], rule('visit_fee', 'labor', 'access'), false],
  ])('%s', (_, documents, tax, expected) => {
    expect(isTimeTaxedAsFee(documents, tax)).toBe(expected);
  });
});
