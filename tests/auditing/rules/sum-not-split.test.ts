import type { FairPrice } from '../../../src/auditing/index.ts';
import { priceQuote } from '../../../src/pricing/index.ts';
import { documentOf, type JobWishes, jobOf } from '../job-of.ts';
import { billOf } from './bill-of.ts';
import { holdRuleTo } from './hold-rule-to.ts';

/** By our book it is the job of quote 1001: $217.50 with its tax. */
function fair(wishes: JobWishes = {}): FairPrice {
  const { price } = documentOf(jobOf(wishes));
  if (price === undefined) throw new Error('a ticket of ours has its price');
  const result = priceQuote(price.inputs);
  const [option] = result.outcome === 'priced' ? result.quote.options : [];
  if (option === undefined) throw new Error('it can be priced');
  return { option, price, taskCodes: ['replace_dual_run_capacitor'] };
}

// A customer can check only what is told apart: PRODUCT.md, "Imported bills", common practice, no source.
holdRuleTo('sum_not_split', [
  { name: 'holds for our own papers', job: jobOf(), is: 'clear' },
  {
    name: 'holds for a bill that tells everything apart',
    job: billOf({ visit_fee: 8_900, labor: 11_325, part: 5_520 }, {}, 455),
    is: 'clear',
  },
  {
    name: 'says what a bill of one sum hides',
    job: billOf({ lump: 70_000 }),
    is: {
      says: [
        'The bill is one sum of $700.00. It does not tell apart the parts, the labor, the visit fee and the tax.',
      ],
    },
  },
  {
    name: 'and what the same work comes to by the price book',
    job: billOf({ lump: 70_000 }, { fair: fair() }),
    is: {
      says: [
        'The bill is one sum of $700.00. It does not tell apart the parts, the labor, the visit fee and the tax.',
        'By our price book the same work comes to $217.50 with its tax.',
      ],
    },
  },
  {
    name: 'and of one without any tax says nothing of tax',
    job: billOf({ lump: 70_000, tax: 0 }, { fair: fair({ tax: { rate: '0' } }) }),
    is: {
      says: [
        'The bill is one sum of $700.00. It does not tell apart the parts, the labor and the visit fee.',
        'By our price book the same work comes to $212.95.',
      ],
    },
  },
  {
    name: 'does not miss a tax that is told',
    job: billOf({ lump: 70_000 }, {}, 4_200),
    is: {
      says: [
        'The bill is one sum of $700.00. It does not tell apart the parts, the labor and the visit fee.',
      ],
    },
  },
  {
    name: 'compares with the tax where that is told apart, too',
    job: billOf({ lump: 70_000 }, { fair: fair() }, 4_200),
    is: {
      says: [
        'The bill is one sum of $700.00. It does not tell apart the parts, the labor and the visit fee.',
        'By our price book the same work comes to $217.50 with its tax.',
      ],
    },
  },
  {
    name: 'names the rest of a bill that tells some of it',
    job: billOf({ part: 5_520, lump: 25_000 }, {}, 455),
    is: {
      says: ['$250.00 of the bill is one sum. It does not tell apart the labor and the visit fee.'],
    },
  },
  {
    name: 'says that a sum beside everything else says nothing',
    job: billOf({ visit_fee: 8_900, labor: 11_325, part: 5_520, lump: 2_500 }, {}, 455),
    is: { says: ['$25.00 of the bill is one sum that says nothing of what it is for.'] },
  },
  {
    name: 'a bill of nothing hides nothing',
    job: billOf({ lump: 0 }),
    is: 'clear',
  },
]);
