import { expect, it } from 'vitest';
import { sameTerms } from '../../../src/auditing/jobs/same-terms.ts';

/*
 * A book that has the same figures comes to the same, whatever it calls things: PRODUCT.md, "Price".
 */

const book = {
  taskName: 'Replace the capacitor',
  rates: { margin: '0.15', hours: 1_200 },
  tiers: [{ upToCents: 1_000, factor: '4' }, { factor: '3' }],
};

it.each<[string, unknown, boolean]>([
  ['the very same', book, true],
  ['what is equal', structuredClone(book), true],
  ['other names', { ...book, name: 'A name', taskName: 'Swap it', tiers: book.tiers }, true],
  ['what is absent for what is undefined', { ...book, period: undefined }, true],
  ['one more figure', { ...book, period: '1.5' }, false],
  ['a figure that is gone', { taskName: book.taskName, rates: book.rates }, false],
  ['another figure', { ...book, rates: { ...book.rates, hours: 1_201 } }, false],
  ['a text for a number', { ...book, rates: { ...book.rates, hours: '1200' } }, false],
  ['another order', { ...book, tiers: book.tiers.toReversed() }, false],
  ['one tier more', { ...book, tiers: [...book.tiers, { factor: '2' }] }, false],
  ['an object of the same keys for a list', { ...book, tiers: { ...book.tiers } }, false],
  ['nothing for something', { ...book, rates: null }, false],
])('terms beside %s: %s', (_, other, expected) => {
  expect(sameTerms(book, other)).toBe(expected);
  expect(sameTerms(other, book)).toBe(expected);
});
