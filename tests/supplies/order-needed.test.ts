import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { orderNeeded } from '../../src/supplies/order-needed.ts';
import { quantityText, thousandthsOf } from '../../src/supplies/quantity.ts';

const piece = { costCents: 1_840, packQuantity: null };
const cylinder = { costCents: 31_000, packQuantity: '25' };

describe('an order', () => {
  it.each([
    ['of pieces', { level: '3', orderUpTo: '10' }, piece, ['7', null, 12_880n]],
    [
      'when more was used than was there',
      { level: '-2', orderUpTo: '4' },
      piece,
      ['6', null, 11_040n],
    ],
    ['of two whole packs', { level: '6.5', orderUpTo: '50' }, cylinder, ['50', 2, 62_000n]],
    ['that fits exactly', { level: '25', orderUpTo: '50' }, cylinder, ['25', 1, 31_000n]],
    ['one thousandth above', { level: '24.999', orderUpTo: '50' }, cylinder, ['50', 2, 62_000n]],
    [
      'of packs that are no whole number',
      { level: '0', orderUpTo: '2' },
      { costCents: 500, packQuantity: '0.75' },
      ['2.25', 3, 1_500n],
    ],
  ] as const)('%s', (_, stock, part, [quantity, packs, costCents]) => {
    expect(orderNeeded(stock, part)).toEqual({ quantity, packs, costCents });
  });

  const thousandths = (min: bigint, max: bigint) => fc.bigInt({ min, max });

  it('reaches the target, and with one pack less it would not', () => {
    fc.assert(
      fc.property(
        thousandths(-1_000_000n, 1_000_000n),
        thousandths(1n, 1_000_000n),
        thousandths(1n, 100_000n),
        (level, missing, pack) => {
          const stock = { level: quantityText(level), orderUpTo: quantityText(level + missing) };
          const part = { costCents: 100, packQuantity: quantityText(pack) };
          const { quantity, packs, costCents } = orderNeeded(stock, part);
          const ordered = thousandthsOf(quantity);
          expect(ordered).toBe(BigInt(packs ?? 0) * pack);
          expect(ordered >= missing).toBe(true);
          expect(ordered - pack < missing).toBe(true);
          expect(costCents).toBe(BigInt(packs ?? 0) * 100n);
        },
      ),
    );
  });
});
