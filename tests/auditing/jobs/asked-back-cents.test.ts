import { expect, it } from 'vitest';
import type { Correction } from '../../../src/auditing/index.ts';
import { asBilled } from '../../../src/auditing/jobs/as-billed.ts';
import { askedBackCents } from '../../../src/auditing/jobs/asked-back-cents.ts';
import { pricesOf } from '../../../src/auditing/jobs/prices-of.ts';
import { cents } from '../../../src/pricing/index.ts';
import { billOf } from '../bill-of.ts';

/*
 * A bill that is too much as a whole gives back of its charges and of its tax: 175.43 and 7.37.
 */

const { documents } = billOf({ labor: 30_000, tax: 0 }, { taxCents: 1_238 });
const asked = (key: string, toCents: number): Correction => ({
  ...{ invoiceId: 'bill-1', position: 1, key },
  toCents: cents(toCents),
});
const [labor, tax] = [asked('labor', 12_457), asked('tax', 501)];

it.each([
  ['a charge alone', [labor], 17_543],
  ['the tax alone', [tax], 737],
  ['both', [labor, tax], 18_280],
  ['neither', [], 0],
])('of %s as much is asked back as is too much', (_, corrections, expected) => {
  expect(askedBackCents(documents, corrections, pricesOf())).toBe(expected);
});

it('as it was billed a document has nothing given back, but its fee credit as it was cut', () => {
  const cut = { key: 'visit_fee', amountCents: cents(-1_000) };
  const [document] = documents;
  if (document === undefined) throw new Error('there is a bill');
  const credited = [cut, { key: 'labor', amountCents: cents(1_500) }];
  expect(asBilled({ ...document, credited }).credited).toEqual([cut]);
});
