import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  cents,
  currentPricingRuleset,
  type Line,
  type PricedOption,
  partPricer,
  partTiersSchema,
  priceQuote,
  pricingInputsSchema,
  sumLines,
} from '../../src/pricing/index.ts';
import { assertAddsUp } from '../harness/assert-adds-up.ts';
import {
  arbitraryDistinctWork,
  arbitraryInputs,
  arbitraryTax,
  arbitraryTiers,
  arbitraryWork,
} from '../pricing/arbitrary-inputs.ts';
import { capacitorWork, workedInvoice } from '../pricing/oracle/hand-worked.ts';
import type { HandInputs, HandWork } from '../pricing/oracle/price-by-hand.ts';
import { price, priced, pricedOption } from '../pricing/price.ts';

/*
 * Laws that hold for every quote. Where the tables of tests/pricing hold the case that fails
 * without a guard, the law names it; the other laws carry their own case below them.
 */

const runs = { numRuns: 2_000 };
const withoutAdjustments = arbitraryInputs({ mistakes: false, adjustments: false });
const withAdjustments = arbitraryInputs({ mistakes: false, adjustments: true });

describe('a quote adds up', () => {
  it('the total is the sum of its lines, whatever was adjusted', () => {
    fc.assert(
      fc.property(withAdjustments, (inputs) => {
        for (const charges of chargesOf(inputs)) {
          expect(sumLines(charges.lines)).toBe(charges.totalCents);
          assertAddsUp(charges);
        }
      }),
      runs,
    );
  });

  it('no charge, with everything aimed at it, is ever below zero', () => {
    fc.assert(
      fc.property(withAdjustments, (inputs) => {
        for (const { lines } of chargesOf(inputs)) {
          for (const { key } of lines.filter((line) => !('aimedAt' in line))) {
            const aimed = lines.filter((line) => line.key === key || aimOf(line) === key);
            expect(sumLines(aimed)).toBeGreaterThanOrEqual(0);
          }
        }
      }),
      runs,
    );
  });
});

describe('a dearer part never sells for less', () => {
  it('in either mode, with factors in any order (part-price: 25.01 is lifted to 75.00)', () => {
    const cost = fc.integer({ min: 0, max: 80_000 });
    fc.assert(
      fc.property(arbitraryTiers, cost, fc.integer({ min: 0, max: 3 }), (tiers, lower, more) => {
        const pricePart = partPricer(partTiersSchema.parse(tiers));
        const ends = tiers.steps.flatMap(({ upToCents }) => upToCents ?? []);
        // Random costs seldom meet an end, where inversions live, so each end is tried as well.
        for (const at of [lower, ...ends]) {
          const cheap = pricePart(cents(at)).unitPriceCents;
          const dear = pricePart(cents(at + more)).unitPriceCents;
          expect(dear).toBeGreaterThanOrEqual(cheap);
          expect(cheap).toBeGreaterThanOrEqual(at);
        }
      }),
      runs,
    );
  });
});

describe('the order in which things were written changes nothing', () => {
  it('not of findings, their parts and goods, adjustments, taxed classes, or earlier work', () => {
    fc.assert(
      fc.property(withAdjustments, (inputs) => {
        const reversed: HandInputs = {
          ...inputs,
          tax: { ...inputs.tax, taxableClasses: inputs.tax.taxableClasses.toReversed() },
          ...(inputs.earlierWork === undefined
            ? {}
            : {
                earlierWork: {
                  access: inputs.earlierWork.access.toReversed(),
                  labor: inputs.earlierWork.labor.toReversed(),
                },
              }),
          options: inputs.options.map((option) => ({
            ...option,
            work: option.work.toReversed().map(reversedGoods),
            adjustments: option.adjustments.toReversed(),
          })),
        };
        const [one, other] = [price(inputs), price(reversed)];
        if (one.outcome === 'priced') expect(other).toEqual(one);
        else expect(other.outcome).toBe('refused');
      }),
      runs,
    );
  });

  it('not of two tasks with the same code and labor, where only the finding tells them apart', () => {
    const work = ['finding-b', 'finding-a'].map((findingId) => capacitorWork({ findingId }));
    const forward = pricedOption(withWork(workedInvoice({}), work));
    const backward = pricedOption(withWork(workedInvoice({}), work.toReversed()));
    expect(backward).toEqual(forward);
  });
});

describe('adding work never lowers the price before discounts', () => {
  it('whatever the work is', () => {
    const added = arbitraryWork(fc.constant('finding-added'));
    fc.assert(
      fc.property(withoutAdjustments, arbitraryDistinctWork, added, (inputs, work, one) => {
        const before = grossCents(pricedOption(withWork(inputs, work)));
        const after = grossCents(pricedOption(withWork(inputs, [...work, one])));
        expect(after).toBeGreaterThanOrEqual(before);
      }),
      runs,
    );
  });
});

describe('repairing never totals less than declining', () => {
  it('after tax, under every tax rule, unless the owner lowers the fee itself', () => {
    fc.assert(
      fc.property(withAdjustments, arbitraryTax, (inputs, tax) => {
        const result = price({ ...inputs, tax });
        if (result.outcome === 'refused') return;
        for (const option of result.quote.options) {
          if (option.lines.some((line) => aimOf(line) === 'visit_fee' && isLowered(line))) continue;
          expect(option.totalCents).toBeGreaterThanOrEqual(result.quote.decline.totalCents);
        }
      }),
      runs,
    );
  });

  it('and the credit is lowered for it by no cent more than needed', () => {
    fc.assert(
      fc.property(
        withoutAdjustments,
        fc.array(arbitraryWork(fc.constant('finding-1')), { minLength: 1, maxLength: 1 }),
        arbitraryTax,
        (inputs, work, tax) => {
          const quote = priced({ ...withWork(inputs, work), tax });
          for (const option of quote.options) {
            const wished = wishedCreditCents(inputs, option, quote.decline.classTotals.visit_fee);
            const given = -(option.lines.find(({ kind }) => kind === 'credit')?.amountCents ?? 0);
            expect(given).toBeLessThanOrEqual(wished);
            // One more cent of credit saves that cent and at most one or two cents of tax.
            if (given < wished) {
              expect(option.totalCents - quote.decline.totalCents).toBeLessThanOrEqual(2);
            }
          }
        },
      ),
      runs,
    );
  });

  it('the plain smaller of share and labor would break it: line-by-line tax rounds away', () => {
    // Two labor lines of 1.00 at 0.4 %: their tax is nothing, the tax of 2.00 of fee is 0.01.
    const rates = { ...workedInvoice({}).rates, annualBurdenedWageCents: 6000 };
    const inputs: HandInputs = {
      ...workedInvoice({
        rate: '0.004',
        taxableClasses: ['visit_fee', 'labor'],
        basis: 'item',
      }),
      rates: {
        ...rates,
        annualAvailableHours: 1,
        billableFraction: '1',
        annualTruckCents: 0,
        annualOverheadCents: 0,
        margin: '0',
      },
      visitFee: { chargeable: true, amountCents: 200 },
      policy: {
        ...workedInvoice({}).policy,
        visitFeeCreditShare: '1',
        secondTaskDiscount: '0',
      },
    };
    const work = ['finding-a', 'finding-b'].map((findingId) =>
      capacitorWork({ findingId, minutes: 1, parts: [] }),
    );
    const quote = priced(withWork(inputs, work));
    const [option] = quote.options;
    expect(quote.decline.totalCents).toBe(201);
    expect(option?.classTotals.labor).toBe(200);
    expect(option?.totalCents).toBe(201);
  });
});

describe('a reset never costs more than the fee and its materials', () => {
  it('before tax exactly, and after tax as if it took no time (price-quote: breaker reset)', () => {
    fc.assert(
      fc.property(withoutAdjustments, arbitraryDistinctWork, (inputs, work) => {
        const resets = work.map((item) => ({ ...item, remedyClass: 'reset' as const }));
        const option = pricedOption(withWork(inputs, resets));
        const agreed = option.lines.filter(({ code }) => code === 'agreement_discount');
        expect(option.totalCents - option.taxCents).toBe(
          feeAndMaterials(inputs, option) + sumLines(agreed),
        );
        const timeless = resets.map((item) => ({ ...item, minutes: 0, accessMinutes: 0 }));
        expect(option.totalCents).toBe(pricedOption(withWork(inputs, timeless)).totalCents);
      }),
      runs,
    );
  });

  it('whatever anybody adjusts, the owner included (adjust-charges: raised by a cent)', () => {
    const adjusted = fc.record({
      line: fc.nat(),
      amountCents: fc.oneof(
        fc.integer({ min: -50, max: 10 }),
        fc.integer({ min: -9000, max: 9000 }),
      ),
      byOwner: fc.boolean(),
    });
    const adjustments = fc.array(adjusted, { minLength: 1, maxLength: 3 });
    let priceable = 0;
    fc.assert(
      fc.property(withoutAdjustments, arbitraryDistinctWork, adjustments, (inputs, work, asked) => {
        const resets = work.map((item) => ({ ...item, remedyClass: 'reset' as const }));
        const before = pricedOption(withWork(inputs, resets));
        const keys = before.lines.filter(({ kind }) => chargeKinds.has(kind)).map(({ key }) => key);
        const result = price({
          ...inputs,
          options: [
            {
              title: 'Reset',
              work: resets,
              adjustments: asked.map(({ line, ...adjustment }) => ({
                ...adjustment,
                aimedAt: keys[line % keys.length] ?? 'visit_fee',
                reason: 'Hard to reach',
              })),
            },
          ],
        });
        if (result.outcome === 'refused') return;
        priceable += 1;
        for (const option of result.quote.options) {
          const dueCents = option.totalCents - option.taxCents;
          expect(dueCents).toBeLessThanOrEqual(feeAndMaterials(inputs, option));
          expect(dueCents).toBeLessThanOrEqual(before.totalCents - before.taxCents);
        }
      }),
      runs,
    );
    // A law under which every adjustment was refused would say nothing.
    expect(priceable).toBeGreaterThan(100);
  });
});

describe('pricing the stored inputs again', () => {
  it('gives the same quote, step by step, after a trip through JSON', () => {
    fc.assert(
      fc.property(withAdjustments, (inputs) => {
        const stored: unknown = JSON.parse(JSON.stringify(inputs));
        const first = priceQuote(pricingInputsSchema.parse(inputs));
        const again = currentPricingRuleset.priceQuote(pricingInputsSchema.parse(stored));
        expect(JSON.stringify(again)).toBe(JSON.stringify(first));
      }),
      { numRuns: 500 },
    );
  });

  it('leaves the inputs as they were', () => {
    fc.assert(
      fc.property(withAdjustments, (inputs) => {
        const before = JSON.stringify(inputs);
        const parsed = pricingInputsSchema.parse(inputs);
        priceQuote(deepFreeze(parsed));
        expect(JSON.stringify(inputs)).toBe(before);
      }),
      { numRuns: 300 },
    );
  });
});

describe('amounts stay exact or are refused', () => {
  it('for costs, quantities and fees as large as the book allows', () => {
    const huge = fc.record({
      cost: fc.integer({ min: 0, max: 100_000_000_000 }),
      quantity: fc.integer({ min: 1, max: 10_000 }),
      factor: fc.constantFrom('1', '3.0', '999999.999999'),
      tasks: fc.integer({ min: 1, max: 30 }),
    });
    let refused = 0;
    fc.assert(
      fc.property(huge, ({ cost, quantity, factor, tasks }) => {
        const base = workedInvoice({ rate: '1', taxableClasses: ['part', 'labor'] });
        const parts = capacitorWork().parts.map((part) => ({
          ...part,
          unitCostCents: cost,
          quantity,
        }));
        const work = Array.from({ length: tasks }, (_, at) =>
          capacitorWork({ findingId: `finding-${at}`, minutes: 100_000, parts }),
        );
        const tiers = { mode: 'progressive' as const, steps: [{ upToCents: null, factor }] };
        const result = price({ ...withWork(base, work), tiers });
        if (result.outcome === 'refused') {
          refused += 1;
          expect(result.refusals.map(({ code }) => code)).toEqual(['amount_too_large']);
          return;
        }
        for (const option of result.quote.options) assertAddsUp(option);
      }),
      { numRuns: 300 },
    );
    expect(refused).toBeGreaterThan(0);
    expect(refused).toBeLessThan(300);
  });
});

function chargesOf(inputs: HandInputs) {
  const result = price(inputs);
  return result.outcome === 'refused' ? [] : [result.quote.decline, ...result.quote.options];
}

function withWork(inputs: HandInputs, work: HandWork[]): HandInputs {
  return { ...inputs, options: [{ title: 'Repair', work, adjustments: [] }] };
}

function reversedGoods({ parts, goods, ...work }: HandWork): HandWork {
  const reversed = { ...work, parts: parts.toReversed() };
  return goods === undefined ? reversed : { ...reversed, goods: goods.toReversed() };
}

function aimOf(line: Line): string | undefined {
  return 'aimedAt' in line ? line.aimedAt : undefined;
}

function isLowered(line: Line): boolean {
  return line.kind === 'adjustment' && line.amountCents < 0;
}

const chargeKinds = new Set<Line['kind']>(['visit_fee', 'part', 'good', 'labor', 'access']);

function feeAndMaterials(inputs: HandInputs, option: PricedOption): number {
  const materials = option.lines.filter(({ kind }) => kind === 'part' || kind === 'good');
  return (inputs.visitFee.chargeable ? inputs.visitFee.amountCents : 0) + sumLines(materials);
}

function grossCents(option: PricedOption): number {
  return sumLines(option.lines.filter(({ kind }) => chargeKinds.has(kind)));
}

/** The smaller of share x fee and labor with access, before anything is lowered for the tax. */
function wishedCreditCents(inputs: HandInputs, option: PricedOption, feeCents: number): number {
  const thousandths = Math.round(Number(inputs.policy.visitFeeCreditShare) * 1000);
  const share = Math.floor((2 * feeCents * thousandths + 1000) / 2000);
  return Math.min(share, option.classTotals.labor + option.classTotals.access);
}

function deepFreeze<T>(value: T): T {
  if (typeof value === 'object' && value !== null) {
    for (const inner of Object.values(value)) deepFreeze(inner);
    Object.freeze(value);
  }
  return value;
}
