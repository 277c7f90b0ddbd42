import { describe, expect, it } from 'vitest';
import type { PreviewedOption } from '../../src/pricebook/drafts/contract.ts';
import { summarize } from '../../src/pricebook/drafts/summarize.ts';

function option(position: number, differenceCents: number | null): PreviewedOption {
  const priced = differenceCents !== null;
  return {
    position,
    title: 'Repair',
    oldTotalCents: 10_000,
    newTotalCents: priced ? 10_000 + differenceCents : null,
    differenceCents,
    percent: priced ? (differenceCents / 100).toFixed(2) : null,
    notPriced: priced ? null : { reason: 'missing_in_draft', messages: [] },
  };
}

/** A quote with an option for each difference. */
function quote(number: number, differences: (number | null)[]) {
  return { number, options: differences.map((cents, at) => option(at + 1, cents)) };
}

describe('what the differences of all options come to', () => {
  // Counted by hand.
  it('is counted, added up, and shown by its middle and by its largest, up or down', () => {
    expect(summarize([quote(7, [100, null]), quote(8, [-900, 0]), quote(9, [300])])).toEqual({
      optionsPriced: 4,
      optionsNotPriced: 1,
      up: 2,
      down: 1,
      same: 1,
      differenceCents: -500,
      median: { cents: 0, percent: '0.00' },
      largest: { quoteNumber: 8, position: 1, cents: -900, percent: '-9.00' },
    });
  });

  it.each([
    [[5], 5],
    [[1, 2, 3], 2],
    [[4, 1], 1],
    [[10, -10, 30, 20], 10],
  ])('of %j has its middle at %d', (differences, middle) => {
    expect(summarize([quote(1, differences)]).median?.cents).toBe(middle);
  });

  it('names the first of several as large', () => {
    expect(summarize([quote(1, [-50]), quote(2, [50])]).largest?.quoteNumber).toBe(1);
  });

  it('is nothing when there is nothing', () => {
    expect(summarize([])).toMatchObject({ optionsPriced: 0, median: null, largest: null });
  });
});
