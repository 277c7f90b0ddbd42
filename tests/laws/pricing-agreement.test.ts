import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assertAddsUp } from '../harness/assert-adds-up.ts';
import { arbitraryInputs } from '../pricing/arbitrary-inputs.ts';
import { type HandInputs, priceByHand } from '../pricing/oracle/price-by-hand.ts';
import { amountsByKey, price } from '../pricing/price.ts';

describe('two calculations that share no code reach the same cents', () => {
  it('on every line, tax and total of 5,000 random quotes, or refuse for the same reasons', () => {
    fc.assert(
      fc.property(arbitraryInputs({ mistakes: true, adjustments: true }), (inputs) => {
        expect(answerOfEngine(inputs)).toEqual(priceByHand(inputs));
      }),
      { numRuns: 5_000 },
    );
  }, 120_000);

  it('on 5,000 quotes without mistakes, where more of them reach the sums', () => {
    fc.assert(
      fc.property(arbitraryInputs({ mistakes: false, adjustments: false }), (inputs) => {
        expect(answerOfEngine(inputs)).toEqual(priceByHand(inputs));
      }),
      { numRuns: 5_000 },
    );
  }, 120_000);

  it('and the random quotes do hold every kind of line and every refusal', () => {
    const seen = new Set<string>();
    const sample = fc.sample(arbitraryInputs({ mistakes: true, adjustments: true }), {
      numRuns: 2_000,
      seed: 7,
    });
    for (const inputs of sample) {
      const result = price(inputs);
      if (result.outcome === 'refused') {
        for (const { code } of result.refusals) seen.add(code);
      } else {
        for (const { kind, key } of result.quote.options.flatMap(({ lines }) => lines)) {
          seen.add(kind === 'discount' ? `discount ${key.split(':').at(-1)}` : kind);
        }
        for (const { stated } of result.quote.options) {
          seen.add(`${inputs.tax.mode} stated ${stated}`);
        }
      }
    }
    expect([...seen].sort()).toEqual([
      'access',
      'adjustment',
      'adjustment_below_zero',
      'adjustment_outside_fair_band',
      'adjustment_without_reason',
      'credit',
      'discount agreement',
      'discount earlier_second_task',
      'discount second_task',
      'duplicate_finding',
      'duplicate_good',
      'duplicate_part',
      'fee_raised',
      'free_line_charged',
      'good',
      'labor',
      'lump_sum stated lump_sum',
      'lump_sum stated separated',
      'part',
      'reset_raised',
      'rising_factors_for_goods',
      'separated stated separated',
      'tax',
      'unknown_adjustment_target',
      'visit_fee',
    ]);
  }, 60_000);
});

function answerOfEngine(inputs: HandInputs) {
  const result = price(inputs);
  if (result.outcome === 'refused') {
    return { refusals: result.refusals.map(({ code }) => code).sort() };
  }
  const { quote } = result;
  assertAddsUp(quote.decline);
  for (const option of quote.options) assertAddsUp(option);
  return {
    laborRateCents: quote.laborRateCents,
    declineTotalCents: quote.decline.totalCents,
    options: quote.options.map((option) => ({
      amounts: withoutZeroAdjustments(amountsByKey(option)),
      stated: option.stated,
      taxCents: option.taxCents,
      totalCents: option.totalCents,
    })),
  };
}

/** Adjustments that cancel each other stand on the paper, but the oracle knows only their sum. */
function withoutZeroAdjustments(amounts: Record<string, number>): Record<string, number> {
  return Object.fromEntries(
    Object.entries(amounts).filter(([key, cents]) => cents !== 0 || !key.startsWith('adjustment:')),
  );
}
