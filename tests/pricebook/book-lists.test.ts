import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { z } from 'zod';
import { priceBook } from '../../seed/price-book.ts';
import { bookLists, listNameSchema } from '../../src/pricebook/drafts/lists/book-lists.ts';
import { asDollars } from '../../src/pricebook/drafts/lists/cell-form.ts';
import { bookContentSchema } from '../../src/pricebook/index.ts';
import { partCategorySchema, partSchema } from '../../src/trade/index.ts';

const { effectiveFrom: _, ...input } = priceBook;
const book = bookContentSchema.parse(input);

/** Text that the book takes and that spreadsheets, parsers and formulas stumble over. */
const name = fc
  .string({ unit: 'grapheme', minLength: 1, maxLength: 60 })
  .map((text) => `${text}`.trim())
  .filter((text) => text !== '' && !/\p{Cc}/u.test(text))
  .chain((text) =>
    fc.constantFrom(text, `=${text}`, `'${text}`, `"${text}"`, `a,${text}`, `a\nb;${text}`),
  )
  .map((text) => text.trim())
  .filter((text) => text.length <= 120);

const figure = fc.oneof(
  fc.integer({ min: 1, max: 4 }),
  fc.double({ min: 1e-7, max: 1e6, noNaN: true, noDefaultInfinity: true }),
);

/** Parts of every category, with whatever figures its schema takes. */
const fit = fc
  .tuple(fc.constantFrom(...partCategorySchema.options), figure, fc.constantFrom('R-410A', 'R-22'))
  .map(([category, number, refrigerant]) => {
    const schema = partSchema.options.find(
      ({ shape }) => shape.category.safeParse(category).success,
    );
    const forms: [string, z.ZodType][] = Object.entries(schema?.shape.specs.shape ?? {});
    const specs = forms.map(([figureName, form]) => {
      const fitting = [number, Math.max(1, Math.round(number) % 4), refrigerant].find(
        (value) => form.safeParse(value).success,
      );
      return [figureName, fitting];
    });
    return { category, specs: Object.fromEntries(specs) };
  })
  .filter((each) => partSchema.safeParse(each).success)
  .map((each) => partSchema.parse(each));

const parts = fc.uniqueArray(
  fc.record(
    {
      code: fc.stringMatching(/^[A-Za-z0-9][A-Za-z0-9._-]{0,12}$/),
      name,
      costCents: fc.integer({ min: 0, max: 2_000_000_000 }),
      taxClass: fc.constantFrom('part' as const, 'material' as const, 'equipment' as const),
      warrantyClass: fc.constantFrom('none' as const, 'unit' as const, 'compressor' as const),
      supplier: name,
      fit,
    },
    { requiredKeys: ['code', 'name', 'costCents', 'warrantyClass', 'fit'] },
  ),
  { selector: ({ code }) => code.toLowerCase(), maxLength: 8 },
);

describe('a list of the price book', () => {
  it.each(listNameSchema.options)('of %s comes out of its file as it went in', (list) => {
    const file = bookLists[list].write(book);
    expect(bookLists[list].read(book, file)).toEqual({ outcome: 'read', content: book });
  });

  it('of parts does so for every category, figure and name that a book may hold', () => {
    fc.assert(
      fc.property(parts, (some) => {
        const content = bookContentSchema.parse({ ...book, parts: some });
        const file = bookLists.parts.write(content);
        expect(bookLists.parts.read(book, file)).toEqual({ outcome: 'read', content });
      }),
      { numRuns: 500 },
    );
  });

  it('has a column for every figure that decides whether any part fits', () => {
    const [header = ''] = Buffer.from(bookLists.parts.write(book)).toString('utf8').split('\r\n');
    const columns = header.split(',');
    for (const { shape } of partSchema.options) {
      for (const figureName of Object.keys(shape.specs.shape)) {
        const column = figureName.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);
        expect(columns).toContain(column);
      }
    }
    expect(new Set(columns).size).toBe(columns.length);
  });
});

describe('an amount in a cell', () => {
  it.each([
    ['18.40', 1_840],
    ['18.4', 1_840],
    ['18', 1_800],
    ['0.05', 5],
    ['0', 0],
    // Each of these is a cent off when it goes by way of a binary fraction and is cut.
    ['1.15', 115],
    ['8.29', 829],
    ['20000000.00', 2_000_000_000],
  ])('%s is %d cents', (cell, value) => {
    expect(asDollars.read(cell)).toEqual({ value });
  });

  it.each(['$5', '5,00', '1,000.00', '-5', '5.', '.5', '5.005', '5e2', '=5', '5 USD', '٥'])(
    '%s is refused',
    (cell) => {
      expect(asDollars.read(cell)).toHaveProperty('mistake');
    },
  );

  it('is the same cent when it is written and read again', () => {
    fc.assert(
      fc.property(fc.nat({ max: 2_000_000_000 }), (cents) => {
        expect(asDollars.read(asDollars.write(cents))).toEqual({ value: cents });
      }),
    );
  });
});
