import { describe, expect, it } from 'vitest';
import { type AddableCharges, assertAddsUp } from '../harness/assert-adds-up.ts';

const sound: AddableCharges = {
  lines: [
    line('visit_fee', 1, 'visit_fee', 'visit_fee', 8900),
    { ...line('part', 2, 'part', 'part', 11040), quantity: 2, unitPriceCents: 5520 },
    line('labor', 3, 'labor', 'labor', 7550),
    { ...line('discount', 4, 'discount', 'labor', -1510), aimedAt: 'labor' },
    line('tax', 5, 'tax', 'tax', 911),
  ],
  classTotals: { visit_fee: 8900, part: 11040, labor: 6040, access: 0 },
  taxCents: 911,
  totalCents: 26891,
};

describe('assertAddsUp', () => {
  it('accepts a paper that adds up, as an object or as JSON', () => {
    expect(() => assertAddsUp(sound)).not.toThrow();
    expect(() => assertAddsUp(JSON.parse(JSON.stringify(sound)))).not.toThrow();
  });

  it.each<{ name: string; wrong: AddableCharges; says: RegExp }>([
    { name: 'a cent on the total', wrong: { ...sound, totalCents: 26892 }, says: /not 26892/ },
    { name: 'a cent on the tax', wrong: { ...sound, taxCents: 912 }, says: /class tax/ },
    {
      name: 'cents moved between classes',
      wrong: { ...sound, classTotals: { ...sound.classTotals, part: 11041, labor: 6039 } },
      says: /class part come to 11040, not 11041/,
    },
    {
      name: 'a class without a total',
      wrong: { ...sound, classTotals: { visit_fee: 8900, part: 11040, access: 0 } },
      says: /class labor/,
    },
    { name: 'two where three are billed', wrong: changed(1, { quantity: 3 }), says: /3 x 5520/ },
    {
      name: 'a part without its unit price',
      wrong: changed(1, { unitPriceCents: undefined }),
      says: /undefined/,
    },
    { name: 'half a cent', wrong: changed(2, { amountCents: 7550.5 }), says: /no whole number/ },
    {
      name: 'a discount that adds',
      wrong: { ...changed(3, { amountCents: 1510 }), totalCents: 29911 },
      says: /adds to the price/,
    },
    { name: 'a discount of nothing', wrong: changed(3, { aimedAt: 'nothing' }), says: /not there/ },
    {
      name: 'a discount aimed at another class',
      wrong: changed(3, { aimedAt: 'part' }),
      says: /not of the class/,
    },
    { name: 'a gap in the positions', wrong: changed(4, { position: 6 }), says: /position 6/ },
    { name: 'a repeated key', wrong: changed(4, { key: 'part' }), says: /stands twice/ },
  ])('refuses $name', ({ wrong, says }) => {
    expect(() => assertAddsUp(wrong)).toThrow(says);
  });
});

function line(key: string, position: number, kind: string, lineClass: string, amountCents: number) {
  return { key, position, kind, class: lineClass, amountCents };
}

function changed(at: number, changes: Partial<AddableCharges['lines'][number]>): AddableCharges {
  return {
    ...sound,
    lines: sound.lines.map((one, index) => (index === at ? { ...one, ...changes } : one)),
  };
}
