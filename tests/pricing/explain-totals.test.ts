import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  explainTotals,
  priceQuote,
  pricingInputsSchema,
  type WhyNode,
} from '../../src/pricing/index.ts';
import { arbitraryInputs } from './arbitrary-inputs.ts';
import { capacitorWork, contactorWork, workedInvoice } from './oracle/hand-worked.ts';
import { priced } from './price.ts';

/** Every amount that the engine says it reckoned tax on. */
function taxedAmounts(nodes: readonly WhyNode[]): string[] {
  return nodes.flatMap((node) => {
    if (node.node === 'input') return node.name === 'taxed amount' ? [`${node.value}/1`] : [];
    return taxedAmounts(node.from);
  });
}

describe('the sums of an option, line by line', () => {
  it('are the total and the taxed amounts of the engine, whatever is quoted', () => {
    let taxedSeen = 0;
    fc.assert(
      fc.property(arbitraryInputs({ mistakes: false, adjustments: true }), (json) => {
        const inputs = pricingInputsSchema.parse(json);
        const result = priceQuote(inputs);
        fc.pre(result.outcome === 'priced');
        result.quote.options.forEach((option, at) => {
          const work = inputs.options[at]?.work ?? [];
          const { total, taxed } = explainTotals(option.lines, work, inputs.tax, option.stated);
          expect(total.exact).toBe(`${option.totalCents}/1`);
          const steps = option.lines.find(({ kind }) => kind === 'tax')?.why.steps ?? [];
          expect(taxed.map(({ exact }) => exact)).toEqual(taxedAmounts(steps));
          taxedSeen += taxed.length;
        });
        const { lines, totalCents } = result.quote.decline;
        expect(explainTotals(lines, [], inputs.tax, inputs.tax.mode).total.exact).toBe(
          `${totalCents}/1`,
        );
      }),
    );
    expect(taxedSeen).toBeGreaterThan(10);
  });

  it('name their lines, and a discount counts with what it is aimed at', () => {
    const json = workedInvoice({ rate: '0.08875', taxableClasses: ['labor'], basis: 'item' });
    const inputs = pricingInputsSchema.parse({
      ...json,
      options: [{ title: 'Repair', work: [capacitorWork({}), contactorWork({})], adjustments: [] }],
    });
    const [option] = priced(json).options;
    if (option === undefined) throw new Error('expected an option');
    const work = inputs.options[0]?.work ?? [];
    const { total, taxed } = explainTotals(option.lines, work, inputs.tax, 'separated');
    expect(total.from).toHaveLength(option.lines.length);
    // The contactor's labor of 75.50 less 20 % as the second task, and 113.25 of the capacitor's.
    expect(taxed.map(({ exact }) => exact)).toEqual(['6040/1', '11325/1']);
    expect(taxed[0]?.from).toMatchObject([{ value: '7550' }, { value: '-1510' }]);
  });
});
