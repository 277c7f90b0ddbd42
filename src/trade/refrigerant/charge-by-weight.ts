/**
 * Refrigerant in oz to add to the factory charge for a line set, negative to take out: what the
 * line holds less what the factory allowed for it.
 * Source: two manufacturers' installation manuals.
 * Worked: 75 ft of 1/2 in. at 1.2 oz/ft, 9 oz allowed -> +81 oz; 25 ft of 1/4 in. at 0.27 oz/ft,
 * 13.5 oz allowed -> -6.75 oz.
 */
export function chargeByWeightOz(line: {
  lineFt: number;
  adderOzPerFt: number;
  factoryAllowanceOz: number;
}): number {
  return line.lineFt * line.adderOzPerFt - line.factoryAllowanceOz;
}

/** Outside diameter of a liquid line, in. */
export type LiquidLine = '1/4' | '5/16' | '3/8' | '1/2';

/**
 * Refrigerant per foot of liquid line, oz/ft, as single manuals print it: a check on what was
 * entered, never a replacement for the unit's own manual, which rules. R-410A 1/4 in. is 0.27 in
 * one manual and rounded to 0.3 in another. Other refrigerants and sizes: not published where we
 * looked.
 */
export const lineAddersOzPerFt = {
  'R-410A': { '1/4': 0.27, '5/16': 0.4, '3/8': 0.6, '1/2': 1.2 },
  'R-32': { '1/4': 0.13, '3/8': 0.26, '1/2': 0.42 },
} as const satisfies Record<string, Partial<Record<LiquidLine, number>>>;
