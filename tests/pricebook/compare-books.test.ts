import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { priceBook } from '../../seed/price-book.ts';
import { compareBooks } from '../../src/pricebook/drafts/compare-books.ts';
import { type BookContent, bookContentSchema } from '../../src/pricebook/index.ts';

const { effectiveFrom: _, ...input } = priceBook;
const book = bookContentSchema.parse(input);
const first = <Entry>([entry]: readonly Entry[]): Entry => {
  if (entry === undefined) throw new Error('the invented book has entries of every kind');
  return entry;
};
const part = first(book.parts);
const agreement = first(book.agreements);

describe('two price books', () => {
  it('that are the same differ in nothing', () => {
    expect(compareBooks(book, structuredClone(book))).toEqual([]);
  });

  it('differ in nothing when lists stand in another order or numbers are written otherwise', () => {
    const steps = book.tiers.steps.map((step) => ({
      ...step,
      factor: Number(step.factor).toFixed(4),
    }));
    const rewritten: BookContent = {
      ...book,
      tasks: book.tasks.toReversed(),
      parts: book.parts.toReversed(),
      agreements: book.agreements.toReversed(),
      tiers: { ...book.tiers, steps },
    };
    expect(compareBooks(book, rewritten)).toEqual([]);
  });

  it.each<[string, Partial<BookContent>, object]>([
    [
      'the margin',
      { rates: { ...book.rates, margin: '0.2' } },
      { list: 'rates', entry: null, field: 'margin', before: '0.15', after: '0.2' },
    ],
    [
      'days of validity',
      { policy: { ...book.policy, quoteValidityDays: 10 } },
      { list: 'policy', entry: null, field: 'quoteValidityDays', before: 30, after: 10 },
    ],
    [
      'the name of a part, though both are numbers of one value',
      { parts: [{ ...part, name: '1.0' }, ...book.parts.slice(1)] },
      { list: 'parts', entry: part.code, field: 'name', before: part.name, after: '1.0' },
    ],
    [
      'a discount',
      {
        agreements: [
          { ...agreement, discounts: { ...agreement.discounts, access: '0.5' } },
          ...book.agreements.slice(1),
        ],
      },
      {
        list: 'agreements',
        entry: agreement.code,
        field: 'discounts.access',
        before: null,
        after: '0.5',
      },
    ],
  ])('that differ in %s show it with what it was and is', (_, change, expected) => {
    expect(compareBooks(book, { ...book, ...change })).toEqual([
      { change: 'changed', ...expected },
    ]);
  });

  it('show what was added and what was taken out, by their codes', () => {
    const after = { ...book, parts: [...book.parts.slice(1), { ...part, code: 'NEW-1' }] };
    const whole = { list: 'parts', field: null, before: null, after: null };
    expect(compareBooks(book, after)).toEqual([
      { ...whole, entry: part.code, change: 'removed' },
      { ...whole, entry: 'NEW-1', change: 'added' },
    ]);
  });

  it('show that another period is tried first', () => {
    const [regular, rest] = book.periods;
    if (regular === undefined || rest === undefined) throw new Error('the book has two periods');
    const lunch = { ...regular, code: 'lunch' };
    const before = { ...book, periods: [regular, lunch, rest] };
    const after = { ...book, periods: [lunch, regular, rest] };
    expect(compareBooks(before, after)).toEqual([
      { list: 'periods', entry: 'lunch', change: 'changed', field: 'place', before: 2, after: 1 },
      { list: 'periods', entry: 'regular', change: 'changed', field: 'place', before: 1, after: 2 },
    ]);
  });

  it('show every part that sells for something else because the tiers are others', () => {
    const steps = [{ upToCents: null, factor: '2' }];
    const changes = compareBooks(book, { ...book, tiers: { ...book.tiers, steps } });
    const prices = changes.filter(({ list }) => list === 'parts');
    expect(new Set(prices.map(({ field }) => field))).toEqual(new Set(['priceCents']));
    for (const { entry, after } of prices) {
      const cost = book.parts.find(({ code }) => code === entry)?.costCents ?? Number.NaN;
      expect(after).toBe(2 * cost);
    }
    // Only a part whose two prices happen to be equal may be left out.
    expect(prices.length).toBeGreaterThan(book.parts.length / 2);
  });

  it('differ the other way round in the same fields, with before and after exchanged', () => {
    const some = fc.record({
      parts: fc.subarray(book.parts),
      tasks: fc.subarray(book.tasks, { minLength: 1 }),
      agreements: fc.subarray(book.agreements),
      policy: fc.record({
        ...constants(book.policy),
        quoteValidityDays: fc.integer({ min: 1, max: 9 }),
      }),
      cost: fc.integer({ min: 0, max: 99_999 }),
    });
    const bookOf = ({ cost, ...sections }: Picked) => ({
      ...book,
      ...sections,
      parts: sections.parts.map((each, at) => (at === 0 ? { ...each, costCents: cost } : each)),
    });
    fc.assert(
      fc.property(some, some, (one, other) => {
        const there = compareBooks(bookOf(one), bookOf(other));
        const back = compareBooks(bookOf(other), bookOf(one));
        const exchanged = back.map(({ before, after, change, ...rest }) => ({
          ...rest,
          change: change === 'added' ? 'removed' : change === 'removed' ? 'added' : change,
          before: after,
          after: before,
        }));
        const texts = (changes: object[]) => changes.map((each) => inOrder(each)).sort();
        expect(texts(there)).toEqual(texts(exchanged));
      }),
    );
  });
});

interface Picked {
  parts: BookContent['parts'];
  tasks: BookContent['tasks'];
  agreements: BookContent['agreements'];
  policy: BookContent['policy'];
  cost: number;
}

function constants(policy: BookContent['policy']) {
  return {
    secondTaskDiscount: fc.constant(policy.secondTaskDiscount),
    visitFeeCreditShare: fc.constant(policy.visitFeeCreditShare),
    fairBandTolerance: fc.constant(policy.fairBandTolerance),
    causeSearchMinutes: fc.constant(policy.causeSearchMinutes),
  };
}

function inOrder(change: object): string {
  return JSON.stringify(Object.entries(change).sort(([a], [b]) => (a < b ? -1 : 1)));
}
