import { describe, expect, it } from 'vitest';
import {
  cents,
  partPricer,
  partTiersSchema,
  priceQuote,
  pricingInputsSchema,
} from '../../src/pricing/index.ts';
import { handWorkedParts, workedInvoice, workedTiers } from './oracle/hand-worked.ts';

describe('the price of a part comes from its cost by the tiers of the book', () => {
  it.each(handWorkedParts)('$mode: cost $costCents -> $sellsForCents ($because)', (row) => {
    const pricePart = partPricer(partTiersSchema.parse({ mode: row.mode, steps: workedTiers }));
    expect(pricePart(cents(row.costCents)).unitPriceCents).toBe(row.sellsForCents);
  });

  it('a flat price stays lifted over a whole step whose own prices would all be lower', () => {
    const steps = [
      { upToCents: 1000, factor: '3' },
      { upToCents: 1200, factor: '1' },
      { upToCents: null, factor: '2' },
    ];
    const pricePart = partPricer(partTiersSchema.parse({ mode: 'flat', steps }));
    expect(pricePart(cents(1200)).unitPriceCents).toBe(3000);
    // Remembering only the step just below (12.00 x 1) would let this one sell for 26.00.
    expect(pricePart(cents(1300)).unitPriceCents).toBe(3000);
  });

  it('a flat price is told as lifted only where it was, not where its own step comes to as much', () => {
    const steps = [
      { upToCents: 1000, factor: '3' },
      { upToCents: null, factor: '2' },
    ];
    const pricePart = partPricer(partTiersSchema.parse({ mode: 'flat', steps }));
    const top = 'top price of the steps below';
    expect(JSON.stringify(pricePart(cents(1499)))).toContain(top);
    expect(pricePart(cents(1500)).unitPriceCents).toBe(3000);
    expect(JSON.stringify(pricePart(cents(1500)))).not.toContain(top);
  });

  it('tiers that no book has are a mistake of ours, which no quote hides behind a refusal', () => {
    const inputs = pricingInputsSchema.parse(workedInvoice({}));
    const tiers = { mode: 'flat' as const, steps: [{ upToCents: cents(1), factor: '3' }] };
    expect(() => priceQuote({ ...inputs, tiers })).toThrow('Part tiers need a last step');
  });

  it('a cost at the end of a step belongs to it, in either mode', () => {
    const steps = [
      { upToCents: 1000, factor: '2' },
      { upToCents: null, factor: '3' },
    ];
    for (const mode of ['flat', 'progressive'] as const) {
      const price = partPricer(partTiersSchema.parse({ mode, steps }))(cents(1000));
      expect(price.unitPriceCents).toBe(2000);
      expect(JSON.stringify(price)).not.toContain('"3"');
    }
  });

  it('of steps whose ends sell for the same, a lifted price names the first', () => {
    const steps = [
      { upToCents: 1000, factor: '3' },
      { upToCents: 1500, factor: '2' },
      { upToCents: null, factor: '1' },
    ];
    const price = partPricer(partTiersSchema.parse({ mode: 'flat', steps }))(cents(2000));
    expect(price.unitPriceCents).toBe(3000);
    expect(JSON.stringify(price)).toContain('"3"');
    expect(JSON.stringify(price)).not.toContain('"2"');
  });

  it('a part that costs nothing is told by the first step, not by none', () => {
    const steps = [{ upToCents: null, factor: '3' }];
    const price = partPricer(partTiersSchema.parse({ mode: 'progressive', steps }))(cents(0));
    expect(price.unitPriceCents).toBe(0);
    expect(JSON.stringify(price)).toContain('cost in this step');
  });

  it('a flat price needs a step for every cost: beyond the last there is none to make up', () => {
    const pricePart = partPricer({
      mode: 'flat',
      steps: [{ upToCents: cents(1000), factor: '3' }],
    });
    expect(pricePart(cents(1000)).unitPriceCents).toBe(3000);
    expect(() => pricePart(cents(1001))).toThrow('Part tiers need a last step');
  });
});
