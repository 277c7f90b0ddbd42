import { decimalText } from './decimal-text.ts';
import { multiply, type Ratio } from './ratio.ts';

/**
 * A number that is no price, to be read and compared: decimal text with its unit. Prices are whole
 * cents; nobody pays a figure.
 */
export interface Figure {
  readonly decimal: string;
  readonly unit: FigureUnit;
  /** Whether more digits would follow. */
  readonly isRounded: boolean;
}

export const figureUnits = ['usd_per_year', 'usd_per_hour', 'hours_per_year', 'percent'] as const;
export type FigureUnit = (typeof figureUnits)[number];

/** How a value becomes its unit, and how many digits of it anybody can use. */
const forms: Record<FigureUnit, { readonly unitsPerValue: Ratio; readonly digits: number }> = {
  usd_per_year: { unitsPerValue: { numerator: 1n, denominator: 100n }, digits: 2 },
  usd_per_hour: { unitsPerValue: { numerator: 1n, denominator: 100n }, digits: 4 },
  hours_per_year: { unitsPerValue: { numerator: 1n, denominator: 1n }, digits: 1 },
  percent: { unitsPerValue: { numerator: 100n, denominator: 1n }, digits: 2 },
};

/** A figure from its exact value: amounts in cents, hours in hours, percent as a share. */
export function figureOf(value: Ratio, unit: FigureUnit): Figure {
  const { unitsPerValue, digits } = forms[unit];
  const { text, isExact } = decimalText(multiply(value, unitsPerValue), digits);
  return { decimal: text, unit, isRounded: !isExact };
}
