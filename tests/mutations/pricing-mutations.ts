import type { Mutation } from './mutation.ts';

const laws = 'tests/laws/pricing.test.ts';

/** Mistakes in the price of a quote. */
export const pricingMutations: readonly Mutation[] = [
  {
    breaks: 'a dearer part sells for less at the step of a flat tier',
    file: 'src/pricing/part-price.ts',
    find: 'if (compare(ownPrice, step.topPriceBelow) >= 0)',
    replace: 'if (true)',
    caughtBy: { file: laws, name: 'in either mode, with factors in any order' },
  },
];
