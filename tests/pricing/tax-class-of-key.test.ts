import { describe, expect, it } from 'vitest';
import {
  goodKey,
  partKey,
  pricingInputsSchema,
  taxClassOfKey,
  type WorkItem,
} from '../../src/pricing/index.ts';
import type { TaxClass } from '../../src/pricing/price-book.ts';
import { fuse, wire } from './goods.ts';
import { capacitorWork, contactorWork, workedInvoice } from './oracle/hand-worked.ts';

/** Two parts and two goods, of which the second each is classed by the book. */
const work = pricingInputsSchema
  .parse({
    ...workedInvoice({}),
    options: [
      {
        title: 'Repair',
        work: [
          contactorWork(),
          capacitorWork({
            parts: [fuse, { ...fuse, code: 'air_handler', taxClass: 'equipment' }],
            goods: [wire, { ...wire, code: 'solder', taxClass: 'material' }],
          }),
        ],
        adjustments: [],
      },
    ],
  })
  .options.flatMap((option) => option.work);

describe('what a tax rule sees in a stored charge', () => {
  it.each<TaxClass>(['visit_fee', 'labor', 'access'])('%s is its own class', (priceClass) => {
    expect(taxClassOfKey({ key: priceClass, priceClass }, work)).toBe(priceClass);
  });

  it.each<[string, (item: WorkItem) => string | undefined, TaxClass]>([
    ['a part without a class', ({ parts }) => parts[0]?.code, 'part'],
    ['a part of a class', ({ parts }) => parts[1]?.code, 'equipment'],
    ['goods without a class', ({ goods }) => goods?.[0]?.code, 'part'],
    ['goods of a class', ({ goods }) => goods?.[1]?.code, 'material'],
  ])('%s is what the book said then', (_, codeOf, taxClass) => {
    const [, item] = work;
    const code = item === undefined ? undefined : codeOf(item);
    const keys = work.flatMap((each) => [
      ...each.parts.filter((part) => part.code === code).map((part) => partKey(each, part)),
      ...(each.goods ?? []).filter((good) => good.code === code).map((good) => goodKey(each, good)),
    ]);
    expect(keys).toHaveLength(1);
    const found = keys.map((key) => taxClassOfKey({ key, priceClass: 'part' }, work));
    expect(found).toEqual([taxClass]);
  });

  it('is nothing to guess: goods that no work sold, and lines that are no charge, are refused', () => {
    const unsold = {
      key: 'part:finding-capacitor:replace_run_capacitor:motor',
      priceClass: 'part',
    };
    expect(() => taxClassOfKey(unsold, work)).toThrow('no work sells part:finding-capacitor');
    expect(() => taxClassOfKey({ key: 'tax', priceClass: 'tax' }, work)).toThrow(
      'tax is no charge',
    );
  });
});
