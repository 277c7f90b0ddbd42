import { atmospherePsia, seaLevelPsia } from '../refrigerant/atmosphere.ts';

/**
 * How dense air is at an altitude in feet, as a share of its density at sea level; at one
 * temperature that is the ratio of the pressures. It scales the 1.08 and 4.5 of the air equations.
 * Undefined outside -1,500 to 15,000 ft, where nobody lives.
 * Source: that of `atmospherePsia`. Worked: 5,000 ft -> 0.8321.
 */
export function airDensityRatio(altitudeFt: number): number | undefined {
  if (!(altitudeFt >= -1500 && altitudeFt <= 15_000)) return undefined;
  return atmospherePsia(altitudeFt) / seaLevelPsia;
}
