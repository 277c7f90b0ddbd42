import { describe, expect, it } from 'vitest';
import { type BilledCost, partCostsBesideBills } from '../../../src/auditing/index.ts';
import { cents } from '../../../src/pricing/index.ts';

const book = (costCents: number) =>
  new Map([['contactor_30a', { name: 'Contactor 30 A', costCents: cents(costCents) }]]);

const bills = (...costs: [billedOn: string, unitCostCents: number][]): BilledCost[] =>
  costs.map(([billedOn, unitCostCents]) => ({
    partCode: 'contactor_30a',
    billedOn,
    unitCostCents: cents(unitCostCents),
  }));

/** Latest 20.00, in the middle 22.00. */
const some = bills(['2026-01-10', 2_200], ['2026-03-03', 2_000], ['2025-11-20', 2_400]);

describe('the part costs of the price book beside what suppliers billed', () => {
  it('flags a cost above both the last bill and the middle of all, and says by how much', () => {
    expect(partCostsBesideBills(some, book(4_100))).toEqual([
      {
        ...{ partCode: 'contactor_30a', name: 'Contactor 30 A', bookCents: 4_100, bills: 3 },
        ...{ latestCents: 2_000, latestOn: '2026-03-03', medianCents: 2_200, overCents: 1_900 },
        standing: 'above_bills',
        sentence:
          'Contactor 30 A: the book has $41.00, the last supplier bill of Mar 3, 2026 $20.00, and the middle of 3 bills is $22.00. Please look at whether the book is right.',
      },
    ]);
  });

  // A tenth is let pass: 22.00 x 1.1 = 24.20; 20.00 / 1.1 = 18.18.
  it.each([
    [2_420, 'like_bills'],
    [2_421, 'above_bills'],
    [2_200, 'like_bills'],
    [1_819, 'like_bills'],
    [1_818, 'below_bills'],
  ])('of 20.00 last and 22.00 in the middle, %i cents in the book is %s', (costCents, standing) => {
    expect(partCostsBesideBills(some, book(costCents))[0]?.standing).toBe(standing);
  });

  it('a dear last bill justifies a dear book, whatever was paid before', () => {
    const rising = bills(['2026-01-10', 2_000], ['2026-02-10', 2_000], ['2026-03-10', 4_000]);
    expect(partCostsBesideBills(rising, book(4_100))[0]?.standing).toBe('like_bills');
  });

  it('one cheap lot does not make the book wrong', () => {
    const offer = bills(['2026-01-10', 4_000], ['2026-02-10', 4_000], ['2026-03-10', 1_000]);
    expect(partCostsBesideBills(offer, book(4_100))[0]?.standing).toBe('like_bills');
  });

  it('of two bills of one day the later one in the list is the last', () => {
    const twice = bills(['2026-03-10', 2_000], ['2026-03-10', 2_600]);
    expect(partCostsBesideBills(twice, book(2_600))[0]).toMatchObject({ latestCents: 2_600 });
  });

  it('a part that nobody billed cannot be told', () => {
    const [part] = partCostsBesideBills([], book(4_100));
    expect(part).toMatchObject({ bills: 0, latestCents: null, medianCents: null, overCents: 0 });
    expect(part?.standing).toBe('no_bills');
    expect(part?.sentence).toBe('Contactor 30 A: the book has $41.00. No supplier bill names it.');
  });

  it('the order of bills changes nothing but among those of one day', () => {
    expect(partCostsBesideBills([...some].reverse(), book(4_100))).toEqual(
      partCostsBesideBills(some, book(4_100)),
    );
  });
});
