import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { faultCodeSchema } from '../../../src/trade/index.ts';
import { commonPriors, priorsFrom } from '../../../src/trade/next/priors.ts';

describe('how common a fault is before anybody looked', () => {
  test('is common practice while the company has closed fewer than 500 tickets with a proven fault', () => {
    const priors = priorsFrom({ plugged_drain: 499 });
    expect(priors.shares).toEqual(commonPriors.shares);
    expect(priors).toMatchObject({ basis: 'common_practice', ticketCount: 499 });
  });

  test('joins the own tickets from 500 on, the trade weighing as much as 500 of them', () => {
    const priors = priorsFrom({ plugged_drain: 500 });
    expect(priors.basis).toBe('own_tickets');
    // Mean of a Dirichlet distribution: (500 * common + 500) / 1000 of what the catalog knows (0.95).
    const common = commonPriors.shares.plugged_drain / 0.95;
    expect(priors.shares.plugged_drain).toBeCloseTo((0.95 * (500 * common + 500)) / 1000, 12);
  });

  test('always leaves a twentieth to something else, and adds up to one', () => {
    const counts = fc.dictionary(
      fc.constantFrom(...faultCodeSchema.options),
      fc.integer({ min: 0, max: 5_000 }),
    );
    fc.assert(
      fc.property(counts, (tickets) => {
        const { shares, somethingElse } = priorsFrom(tickets);
        const sum = Object.values(shares).reduce((total, each) => total + each, 0);
        expect(somethingElse).toBe(0.05);
        expect(sum + somethingElse).toBeCloseTo(1, 9);
        expect(Math.min(...Object.values(shares))).toBeGreaterThan(0);
      }),
    );
  });

  test('is the same for the same tickets', () => {
    const counts = { plugged_drain: 300, run_capacitor_herm: 412 } as const;
    expect(priorsFrom(counts)).toEqual(priorsFrom({ ...counts }));
  });
});
