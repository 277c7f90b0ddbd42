import { describe, expect, it } from 'vitest';
import { cents, partPricer, partTiersSchema } from '../../src/pricing/index.ts';
import { handWorkedParts, workedTiers } from './oracle/hand-worked.ts';

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

  it('a flat price needs a step for every cost: beyond the last there is none to make up', () => {
    const pricePart = partPricer({
      mode: 'flat',
      steps: [{ upToCents: cents(1000), factor: '3' }],
    });
    expect(pricePart(cents(1000)).unitPriceCents).toBe(3000);
    expect(() => pricePart(cents(1001))).toThrow('Part tiers need a last step');
  });
});
