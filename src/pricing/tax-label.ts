import type { PricingInputs } from './pricing-inputs.ts';
import { taxClassesInSpanish } from './spanish/words.ts';
import { percentText, taxClassWords } from './words.ts';

type TaxRule = Pick<PricingInputs['tax'], 'name' | 'rate' | 'taxableClasses'>;

/**
 * A tax as papers name it: 'Sales tax, 8.25% of parts, materials and equipment'. One that falls on
 * nothing is its name alone.
 */
export function taxLabel({ name, rate, taxableClasses }: TaxRule): string {
  if (taxableClasses.length === 0) return name;
  const classes = taxableClasses.map((each) => taxClassWords[each]);
  return `${name}, ${percentText(rate)} of ${listed(classes, 'and')}`;
}

/** The same in Spanish; the owner names the tax, in whatever language. */
export function taxLabelInSpanish({ name, rate, taxableClasses }: TaxRule): string {
  const named = /impuesto/i.test(name) ? name : `Impuesto (${name})`;
  if (taxableClasses.length === 0) return named;
  const classes = taxableClasses.map((each) => taxClassesInSpanish[each]);
  return `${named}, ${percentText(rate)} de ${listed(classes, 'y')}`;
}

/** 'parts', 'parts and labor', 'parts, materials and equipment'. */
function listed(words: readonly string[], and: string): string {
  return [words.slice(0, -1).join(', '), words.at(-1)].filter(Boolean).join(` ${and} `);
}
