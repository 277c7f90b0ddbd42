import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  cents,
  type PricingInputs,
  priceQuote,
  pricingInputsSchema,
} from '../../src/pricing/index.ts';
import { type OtherBook, substituteBook } from '../../src/pricing/substitute-book.ts';
import { arbitraryInputs } from './arbitrary-inputs.ts';
import { bookOf } from './book-of.ts';
import { capacitorWork, repairOf, workedInvoice } from './oracle/hand-worked.ts';
import type { HandWork } from './oracle/price-by-hand.ts';

const random = arbitraryInputs({ mistakes: false, adjustments: true }).map((inputs) =>
  pricingInputsSchema.parse(inputs),
);

function substituted(inputs: PricingInputs, book: OtherBook): PricingInputs {
  const result = substituteBook(inputs, book);
  if (result.outcome === 'missing') throw new Error(JSON.stringify(result.missing));
  return pricingInputsSchema.parse(result.inputs);
}

function capacitorJob(changes: Partial<HandWork> = {}): PricingInputs {
  const options = repairOf([capacitorWork(changes)]);
  return pricingInputsSchema.parse({ ...workedInvoice({}), options });
}

function totalsOf(inputs: PricingInputs): number[] {
  const result = priceQuote(inputs);
  if (result.outcome === 'refused') throw new Error(JSON.stringify(result.refusals));
  return result.quote.options.map(({ totalCents }) => totalCents);
}

/** The worked example's capacitor: 45 minutes and a part of 18.40. */
const worked = capacitorJob();
const workedBook = bookOf(worked);

describe('work under another price book', () => {
  it('under the book it was priced by is the same to the cent', () => {
    expect(totalsOf(substituted(worked, workedBook))).toEqual(totalsOf(worked));
  });

  it('has the other book’s figures, and no figure of the old one', () => {
    const [code = ''] = workedBook.parts.keys();
    const part = { name: 'Dearer capacitor', costCents: cents(9_999), warranted: true } as const;
    const task = { name: 'Swap it', minutes: 55, accessGroup: 'roof', accessMinutes: 25 };
    const book: OtherBook = {
      ...workedBook,
      policy: { ...workedBook.policy, visitFeeCreditShare: '0' },
      periods: new Map([[worked.period.code, { code: worked.period.code, laborFactor: '2' }]]),
      tasks: new Map([[capacitorWork().taskCode, task]]),
      parts: new Map([[code, { ...part, taxClass: 'equipment' }]]),
    };
    const { period, policy, options } = substituted(worked, book);
    expect({ period, policy }).toEqual({
      period: { code: worked.period.code, laborFactor: '2' },
      policy: book.policy,
    });
    expect(options[0]?.work[0]).toMatchObject({
      taskName: 'Swap it',
      minutes: 55,
      accessGroup: 'roof',
      accessMinutes: 25,
      parts: [{ code, name: 'Dearer capacitor', unitCostCents: 9_999, taxClass: 'equipment' }],
    });
  });

  it('keeps what belongs to the job: fee told, tax, quantities, adjustments, earlier work', () => {
    fc.assert(
      fc.property(random, random, (inputs, other) => {
        const donor = bookOf(other);
        const book = { ...bookOf(inputs), rates: donor.rates, tiers: donor.tiers };
        // A good that two tasks of a random quote measure in two units stands in no one book.
        fc.pre(substituteBook(inputs, book).outcome === 'substituted');
        const after = substituted(inputs, book);
        const kept = ({ visitFee, tax, earlierWork, options }: PricingInputs) => ({
          visitFee,
          tax,
          earlierWork,
          options: options.map(({ title, adjustments, work }) => ({
            title,
            adjustments,
            work: work.map(({ findingId, taskCode, remedyClass, recall, parts, goods }) => ({
              of: [findingId, taskCode, remedyClass, recall],
              parts: parts.map(({ code, quantity }) => [code, quantity]),
              goods: goods?.map(({ code, quantity, unit }) => [code, quantity, unit]),
            })),
          })),
        });
        expect(kept(after)).toEqual(kept(inputs));
        expect(after.rates).toEqual(donor.rates);
        // Doing it again finds nothing left to change.
        expect(substituted(after, book)).toEqual(after);
      }),
    );
  });
});

describe('a part under a warranty', () => {
  const [code = ''] = workedBook.parts.keys();
  const inputs = (underManufacturerWarranty: boolean) =>
    capacitorJob({
      parts: capacitorWork().parts.map((part) => ({ ...part, underManufacturerWarranty })),
    });
  const book = (warranted: boolean): OtherBook => {
    const part = workedBook.parts.get(code);
    if (part === undefined) throw new Error('the worked example has a part');
    return { ...workedBook, parts: new Map([[code, { ...part, warranted }]]) };
  };

  it.each([
    [true, true, true],
    [true, false, false],
    [false, true, false],
    [false, false, false],
  ])('that ran then: %s, in a book that knows one: %s, is free: %s', (ran, knows, isFree) => {
    const [part] = substituted(inputs(ran), book(knows)).options[0]?.work[0]?.parts ?? [];
    expect(part?.underManufacturerWarranty).toBe(isFree);
  });
});

describe('a maintenance agreement', () => {
  const agreement = { code: 'yearly', name: 'Yearly care', discounts: { labor: '0.1' } };
  const under = { ...worked, agreement };
  const offering = (code: string): OtherBook => ({
    ...workedBook,
    agreements: new Map([[code, { code, name: 'Better care', discounts: { labor: '0.25' } }]]),
  });

  it('gives more where the other book’s plan of the same code does', () => {
    expect(substituted(under, offering('yearly')).agreement).toEqual({
      ...agreement,
      discounts: { ...agreement.discounts, labor: '0.25' },
    });
  });

  it('gives what it gave when the other book offers it no longer: the customer pays for it', () => {
    expect(substituted(under, offering('monthly')).agreement).toEqual(agreement);
  });

  it('is not given to whoever has none', () => {
    expect(substituted(worked, offering('yearly'))).not.toHaveProperty('agreement');
  });
});

describe('what another book has not', () => {
  it('is named, each thing once, and nothing is guessed', () => {
    const nothing: OtherBook = {
      ...workedBook,
      periods: new Map(),
      tasks: new Map(),
      parts: new Map(),
      agreements: new Map(),
    };
    const twice = { ...worked, options: [...worked.options, ...worked.options] };
    expect(substituteBook(twice, nothing)).toEqual({
      outcome: 'missing',
      missing: [
        { what: 'period', code: worked.period.code },
        { what: 'task', code: capacitorWork().taskCode },
        { what: 'part', code: capacitorWork().parts[0]?.code },
      ],
    });
  });

  it('or sells by another measure, cannot be priced either', () => {
    const [code = ''] = workedBook.parts.keys();
    const part = workedBook.parts.get(code);
    if (part === undefined) throw new Error('the worked example has a part');
    const measured = { unit: '[ft_i]', packQuantity: '100' } as const;
    const book = { ...workedBook, parts: new Map([[code, { ...part, measured }]]) };
    expect(substituteBook(worked, book)).toEqual({
      outcome: 'missing',
      missing: [{ what: 'measure', code }],
    });
  });
});

describe('an option of a quote', () => {
  it('costs alone what it costs beside the others, and is refused for its own mistakes only', () => {
    const answersOf = (inputs: PricingInputs) => {
      const result = priceQuote(inputs);
      return result.outcome === 'refused'
        ? { refused: result.refusals.map(({ code, message }) => `${code} ${message}`) }
        : { totals: result.quote.options.map(({ totalCents }) => totalCents) };
    };
    fc.assert(
      fc.property(random, (inputs) => {
        const alone = inputs.options.map((option) => answersOf({ ...inputs, options: [option] }));
        const refused = alone.flatMap((each) => each.refused ?? []);
        const totals = alone.flatMap((each) => each.totals ?? []);
        expect(answersOf(inputs)).toEqual(refused.length > 0 ? { refused } : { totals });
      }),
    );
  });
});
