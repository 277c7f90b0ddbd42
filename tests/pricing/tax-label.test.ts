import { describe, expect, it } from 'vitest';
import { taxLabel, taxLabelInSpanish } from '../../src/pricing/index.ts';
import type { TaxClass } from '../../src/pricing/price-book.ts';

describe('a tax is named on papers with its rate and what it falls on', () => {
  it.each<[TaxClass[], string, string]>([
    [['part'], 'Sales tax, 8.25% of parts', 'Impuesto (Sales tax), 8.25% de piezas'],
    [
      ['part', 'labor'],
      'Sales tax, 8.25% of parts and labor',
      'Impuesto (Sales tax), 8.25% de piezas y mano de obra',
    ],
    [
      ['part', 'material', 'equipment'],
      'Sales tax, 8.25% of parts, materials and equipment',
      'Impuesto (Sales tax), 8.25% de piezas, materiales y equipo',
    ],
    // The line stands on the paper at zero, and must not say a percent of nothing.
    [[], 'Sales tax', 'Impuesto (Sales tax)'],
  ])('on %j', (taxableClasses, english, spanish) => {
    const tax = { name: 'Sales tax', rate: '0.0825', taxableClasses };
    expect(taxLabel(tax)).toBe(english);
    expect(taxLabelInSpanish(tax)).toBe(spanish);
  });

  it('that the owner named in Spanish is not called a tax twice', () => {
    const tax = { name: 'Impuesto estatal', rate: '0.05', taxableClasses: ['part' as const] };
    expect(taxLabelInSpanish(tax)).toBe('Impuesto estatal, 5% de piezas');
  });
});
