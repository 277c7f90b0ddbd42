import { describe, expect, it } from 'vitest';
import { type BillAsRead, billFactsOf, judgeJob } from '../../../src/auditing/index.ts';
import { cents } from '../../../src/pricing/index.ts';
import { fairBook, regular } from './fair-book.ts';

/*
 * Resets billed as repairs in words that do not say so: common practice, no source. PRODUCT.md,
 * "Reset". A reset comes to the fee of 89.00 and its materials.
 */

const book = fairBook();

/** What the rule about resets says of a bill: its sentences, and what goes back by it. */
function judged(
  found: string,
  done: string,
  chargedCents: number,
  split: Partial<BillAsRead> = {},
) {
  const bill = {
    ...{ billId: 'bill-1', billedOn: '2025-07-03', found, done, parts: [] },
    ...{ taxCents: cents(0), chargedCents: cents(chargedCents), ...split },
  };
  const { flags } = judgeJob(billFactsOf(bill, { book, period: regular }));
  const flag = flags.find(({ ruleCode }) => ruleCode === 'reset_billed_as_repair');
  return flag && { severity: flag.severity, sentences: flag.sentences, overCents: flag.overCents };
}

describe('a bill that found only what a reset puts right', () => {
  it.each([
    ['Tripped breaker', 'Breaker repair, electrical repair labor 2 hours', 43_900],
    ['Tripped breaker', 'Replaced contactor', 38_900],
    ['Tripped breaker', 'Repaired breaker', 70_000],
    ['Breaker tripped', 'Breaker service', 70_000],
    ['Found breaker off', 'Circuit repair - restored power to condenser', 70_000],
    ['No power. Tripped breaker', 'Fixed unit', 70_000],
    ['Float switch tripped', 'Electrical repair', 40_000],
    ['Disconnect pulled', 'Replaced capacitor', 40_000],
    ['Blown 3 amp fuse', 'Replaced transformer', 40_000],
    ['Dead batteries', 'Replaced thermostat', 40_000],
  ])('is to be looked at where something else was done: %s, %s', (found, done, chargedCents) => {
    expect(judged(found, done, chargedCents)).toMatchObject({ severity: 'look', overCents: 0 });
  });

  it('says what the reset comes to, and what is charged', () => {
    expect(judged('Tripped breaker', 'Breaker service', 70_000)?.sentences).toEqual([
      'What was found, “Tripped breaker”, needs only a reset, which comes to $89.00 by our price book. The bill charges $700.00 and names nothing else that was wrong: please look at what was done.',
    ]);
  });

  it.each([
    ['Tripped breaker', 'Reset breaker', 43_900, 35_000],
    ['Tripped breaker', 'Reset and tested', 43_900, 35_000],
    ['Tripped breaker', 'Restored power to condenser', 43_900, 35_000],
    ['Breaker off', 'Restored power, parts and labor', 43_900, 35_000],
    ['Float switch tripped', 'Reset it', 43_900, 35_000],
  ])('comes to the fee where the reset is only worded otherwise: %s, %s', (...bill) => {
    const [found, done, chargedCents, overCents] = bill;
    expect(judged(found, done, chargedCents)).toMatchObject({ severity: 'owed', overCents });
  });

  it.each([
    ['what such a finding asks for', 'Float switch tripped', 'Cleared drain', 20_000],
    ['a look for its cause', 'Tripped breaker', 'diagnosed breaker trip', 20_000],
    ['the short behind a fuse', 'Blown 3 amp fuse', 'Repaired low voltage wiring', 20_000],
    ['no more than a reset comes to', 'Tripped breaker', 'Breaker service', 8_900],
    ['a breaker that is bad', 'Bad breaker', 'Breaker service', 70_000],
    ['something else besides', 'Tripped breaker, bad capacitor', 'Replaced capacitor', 70_000],
    ['a word that nobody knows', 'Tripped breaker twice', 'Replaced contactor', 70_000],
    ['a breaker that was fine', 'Breaker ok', 'Replaced contactor', 70_000],
    ['nothing that was found', '', 'Replaced contactor', 70_000],
  ])('nothing is said of %s', (_, found, done, chargedCents) => {
    expect(judged(found, done, chargedCents)).toBeUndefined();
  });
});
