import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { goodsPricer, goodsUseSchema, partTiersSchema } from '../../src/pricing/index.ts';
import {
  arbitraryFallingTiers,
  arbitraryInputs,
  arbitraryTiers,
} from '../pricing/arbitrary-inputs.ts';
import { chargeWork, refrigerant } from '../pricing/oracle/hand-worked.ts';
import type { HandInputs } from '../pricing/oracle/price-by-hand.ts';
import {
  decimal,
  divide,
  halfUp,
  less,
  minus,
  rational,
  times,
  whole,
} from '../pricing/oracle/rational.ts';
import { price } from '../pricing/price.ts';

/*
 * Laws of goods sold by weight, length or volume. They hold for the exact price; what stands on
 * the paper is that price rounded once, so it is within half a cent of it.
 */

const runs = { numRuns: 2_000 };
const pack = fc.record({
  packCostCents: fc.oneof(fc.constantFrom(0, 1, 2500, 31_337), fc.nat(90_000)),
  packQuantity: fc.constantFrom('1', '25', '24', '3', '7.5', '0.333', '50.000'),
});
const thousandths = fc.oneof(fc.integer({ min: 1, max: 30_000 }), fc.integer({ min: 1, max: 50 }));

describe('buying more measured goods', () => {
  it('is never dearer per unit, never cheaper altogether, and never below cost', () => {
    fc.assert(
      fc.property(
        arbitraryFallingTiers,
        pack,
        thousandths,
        thousandths,
        (tiers, of, one, other) => {
          for (const [little, much] of aroundEnds(tiers, of, one, other)) {
            const small = sold(tiers, of, little);
            const large = sold(tiers, of, much);
            expect(less(perUnit(small), perUnit(large))).toBe(false);
            expect(less(large.exact, small.exact)).toBe(false);
            expect(less(large.exact, costOf(of, much))).toBe(false);
          }
        },
      ),
      runs,
    );
  });

  it('would be dearer per pound where factors rise, so such a book prices no goods', () => {
    const rising = {
      mode: 'progressive' as const,
      steps: [
        { upToCents: 1000, factor: '2' },
        { upToCents: null, factor: '3' },
      ],
    };
    const pound = { packCostCents: 1000, packQuantity: '1' };
    expect(perUnit(sold(rising, pound, 1000))).toEqual(whole(2000));
    expect(perUnit(sold(rising, pound, 2000))).toEqual(whole(2500));
  });

  it('stands on the paper within half a cent of the exact price of the whole line', () => {
    fc.assert(
      fc.property(arbitraryFallingTiers, pack, thousandths, (tiers, of, quantity) => {
        const { amountCents, exact } = sold(tiers, of, quantity);
        const twiceOff = times(whole(2), minus(whole(amountCents), exact));
        // An exact half goes up, so a line may be half a cent dearer, but never half a cent cheaper.
        expect(less(whole(-1), twiceOff)).toBe(true);
        expect(less(whole(1), twiceOff)).toBe(false);
        expect(BigInt(amountCents)).toBe(halfUp(exact));
      }),
      runs,
    );
  });
});

describe('tiers that rise anywhere', () => {
  it('are refused for every option with goods, and for no other', () => {
    const inputs = arbitraryInputs({ mistakes: false, adjustments: false });
    let refused = 0;
    fc.assert(
      fc.property(inputs, arbitraryTiers, (quote, tiers) => {
        const result = price({ ...quote, tiers });
        const withGoods = quote.options.filter(({ work }) =>
          work.some(({ goods = [] }) => goods.length > 0),
        );
        const factors = tiers.steps.map(({ factor }) => Number(factor));
        const rises = factors.some((factor, at) => factor > (factors[at - 1] ?? factor));
        const codes = result.outcome === 'refused' ? result.refusals.map(({ code }) => code) : [];
        if (codes.length > 0) refused += 1;
        expect(codes).toEqual(rises ? withGoods.map(() => 'rising_factors_for_goods') : []);
      }),
      { numRuns: 1_000 },
    );
    expect(refused).toBeGreaterThan(100);
  });
});

type Pack = { packCostCents: number; packQuantity: string };
type Tiers = HandInputs['tiers'];

/** A random pair and one that starts on each end of the tiers, where a price could jump. */
function aroundEnds({ steps }: Tiers, of: Pack, one: number, other: number): [number, number][] {
  const ends = steps.flatMap(({ upToCents }) => {
    if (upToCents === null || of.packCostCents === 0) return [];
    const quantity = (upToCents * Number(of.packQuantity) * 1000) / of.packCostCents;
    const below = Math.floor(quantity);
    return below < 1 || below > 90_000_000 ? [] : [[below, below + 1] as [number, number]];
  });
  return [[Math.min(one, other), Math.max(one, other)], ...ends];
}

function sold(tiers: Tiers, of: Pack, quantityThousandths: number) {
  const [good] =
    chargeWork([
      refrigerant(of.packCostCents, {
        packQuantity: of.packQuantity,
        quantity: (quantityThousandths / 1000).toFixed(3),
      }),
    ]).goods ?? [];
  const priced = goodsPricer(partTiersSchema.parse(tiers))(goodsUseSchema.parse(good));
  return {
    amountCents: priced.amountCents,
    exact: rational(priced.exact.numerator, priced.exact.denominator),
    quantity: rational(BigInt(quantityThousandths), 1000n),
  };
}

function perUnit({ exact, quantity }: ReturnType<typeof sold>) {
  return divide(exact, quantity);
}

function costOf(of: Pack, quantityThousandths: number) {
  const quantity = rational(BigInt(quantityThousandths), 1000n);
  return times(divide(quantity, decimal(of.packQuantity)), whole(of.packCostCents));
}
