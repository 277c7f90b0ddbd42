/**
 * How dense air is at an altitude in feet, as a share of its density at sea level; at one
 * temperature that is also the ratio of the pressures. It scales the 1.08 and 4.5 of the air
 * equations. Undefined outside -1,000 to 16,000 ft, where nobody has a house.
 * Source: from memory of ASHRAE Handbook Fundamentals, chapter 1, equation 3.
 * Worked: 5,000 ft -> 0.8321.
 */
export function airDensityRatio(altitudeFt: number): number | undefined {
  if (!(altitudeFt >= -1000 && altitudeFt <= 16_000)) return undefined;
  return (1 - 6.8754e-6 * altitudeFt) ** 5.2559;
}
