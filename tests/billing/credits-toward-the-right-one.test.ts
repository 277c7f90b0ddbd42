import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type ChargedBefore,
  type Credit,
  creditOn,
  creditsTowardTheRightOne,
} from '../../src/billing/index.ts';
import { cents } from '../../src/pricing/index.ts';
import type { HandInputs } from '../pricing/oracle/hand-inputs.ts';
import {
  at,
  line,
  partsTaxed,
  partsTaxedByLine,
  workedDocument,
  workedLines,
} from './worked-bill.ts';

const CAPACITOR = 'finding-capacitor';
const CONTACTOR = 'finding-contactor';

const lumpSum: Partial<HandInputs['tax']> = { ...partsTaxed, mode: 'lump_sum' };

/*
 * The capacitor of the published invoice did not cure: 55.20 and 113.25 of labor, and of the tax
 * 9.94 less 8.25 % of 65.25 = 5.383, which is 4.56. Together 173.01.
 */
describe('what did not cure is credited toward the right one', () => {
  it.each<{
    name: string;
    capCents: number;
    tax?: Partial<HandInputs['tax']>;
    before?: number;
    credits: Partial<Record<'capacitor' | 'capacitorLabor', number>>;
    restCents: number;
  }>([
    {
      name: 'whole where the right one is dearer, and the rest is for other papers',
      capCents: 20_000,
      credits: { capacitor: 5_520, capacitorLabor: 11_325 },
      restCents: 2_699,
    },
    {
      name: 'whole where both are as dear, to the cent',
      capCents: 17_301,
      credits: { capacitor: 5_520, capacitorLabor: 11_325 },
      restCents: 0,
    },
    {
      name: 'a cent less where the right one is a cent cheaper',
      capCents: 17_300,
      credits: { capacitor: 5_520, capacitorLabor: 11_324 },
      restCents: 0,
    },
    {
      name: 'the part with its tax of 4.56 and nothing else',
      capCents: 5_976,
      credits: { capacitor: 5_520 },
      restCents: 0,
    },
    {
      // 9.94 less 8.25 % of 92.74 = 7.651 is 2.29; with 27.71 that is 30.00.
      name: 'some of the part, so that it is 30.00 with its tax',
      capCents: 3_000,
      credits: { capacitor: 2_771 },
      restCents: 0,
    },
    {
      // 27.78 and 2.29 are 30.07; 27.79 and 2.30 would be 30.09. The missing cent goes nowhere.
      name: 'a cent below the cap where the next cent brings one of tax',
      capCents: 3_008,
      credits: { capacitor: 2_778 },
      restCents: 0,
    },
    {
      // 4.55 less 8.25 % of 27.48 = 2.267 is 2.28; with 27.72 that is 30.00.
      name: 'some of the part, tax line by line',
      tax: partsTaxedByLine,
      capCents: 3_000,
      credits: { capacitor: 2_772 },
      restCents: 0,
    },
    {
      name: 'some of a lump sum, which had no tax',
      tax: lumpSum,
      capCents: 3_000,
      credits: { capacitor: 3_000 },
      restCents: 0,
    },
    {
      name: 'not again what was credited before',
      before: 5_520,
      capCents: 20_000,
      credits: { capacitorLabor: 11_325 },
      restCents: 8_675,
    },
    {
      name: 'not at all where the right one costs nothing',
      capCents: 0,
      credits: {},
      restCents: 0,
    },
  ])('$name', ({ tax = partsTaxed, before = 0, capCents, credits, restCents }) => {
    const plan = creditsTowardTheRightOne(charged(tax, before), [CAPACITOR], capCents);
    const named = Object.entries(credits).map(([name, amountCents]) => ({
      key: at[name as keyof typeof credits],
      amountCents,
    }));
    expect(plan).toEqual({ credits: named, restCents });
  });

  it('labor at its discounted price, and neither the fee nor the way in to what did cure', () => {
    const access = line('access:system-1:panels', 2_516, { findingIds: [CAPACITOR, CONTACTOR] });
    const document = { ...charged(partsTaxed, 0), lines: workedLines(994, [access]) };
    const { credits } = creditsTowardTheRightOne(document, [CONTACTOR], 100_000);
    expect(credits).toEqual([
      { key: at.contactor, amountCents: 6_525 },
      { key: at.contactorLabor, amountCents: 6_040 },
    ]);
    const both = creditsTowardTheRightOne(document, [CAPACITOR, CONTACTOR], 100_000).credits;
    expect(both.map(({ key }) => key)).toContain(access.key);
    expect(both.map(({ key }) => key)).not.toContain(at.fee);
  });

  it('never above the cap with its tax, and not a cent less than goes in', () => {
    let cut = 0;
    fc.assert(
      fc.property(arbitraryCase, ({ document, uncured, capCents }) => {
        const { credits, restCents } = creditsTowardTheRightOne(document, uncured, capCents);
        const all = creditsTowardTheRightOne(document, uncured, 1_000_000).credits;
        const given = totalOf(document, credits);
        expect(given).toBeLessThanOrEqual(capCents);
        const last = all.findIndex(({ amountCents }, i) => credits[i]?.amountCents !== amountCents);
        const cutAt = all[last];
        if (cutAt === undefined) {
          expect(restCents).toBe(capCents - given);
          return;
        }
        cut += 1;
        expect(restCents).toBe(0);
        expect(credits.slice(0, last)).toEqual(all.slice(0, last));
        expect(credits.length).toBeLessThanOrEqual(last + 1);
        const oneMore = cents((credits[last]?.amountCents ?? 0) + 1);
        const more = [...all.slice(0, last), { key: cutAt.key, amountCents: oneMore }];
        expect(totalOf(document, more)).toBeGreaterThan(capCents);
      }),
      { numRuns: 2_000 },
    );
    expect(cut).toBeGreaterThan(200);
  });
});

function charged(tax: Partial<HandInputs['tax']>, before: number): ChargedBefore {
  const stated = tax.mode === 'lump_sum' ? 'lump_sum' : 'separated';
  const credited = before === 0 ? [] : [{ key: at.capacitor, amountCents: cents(before) }];
  return { ...workedDocument(tax, { stated }), credited };
}

/** By the same door through which the memo is made. */
function totalOf(document: ChargedBefore, credits: readonly Credit[]): number {
  const answer = creditOn(document, document.credited, credits);
  if (answer.outcome === 'refused') throw new Error(JSON.stringify(answer.refusals));
  return answer.totalCents;
}

const arbitraryCase = fc.record({
  document: fc
    .record({
      rate: fc.constantFrom('0', '0.0625', '0.0825', '0.095', '1'),
      basis: fc.constantFrom('item' as const, 'invoice' as const),
      taxableClasses: fc.subarray(['visit_fee', 'part', 'labor', 'access'] as const),
      before: fc.integer({ min: 0, max: 5_520 }),
    })
    .map(({ taxableClasses, before, ...tax }) =>
      charged({ ...tax, taxableClasses: [...taxableClasses] }, before),
    ),
  uncured: fc.subarray([CAPACITOR, CONTACTOR], { minLength: 1 }),
  capCents: fc.integer({ min: 0, max: 45_000 }),
});
