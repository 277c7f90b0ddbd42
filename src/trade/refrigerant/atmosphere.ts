/** The atmosphere that gauges and pressure tables are printed for, psia. */
export const seaLevelPsia = 14.696;

/**
 * Pressure of the standard atmosphere in psia at an altitude in ft; gauge becomes absolute as
 * psia = psig + this. Meant for where people live, about -1,500 to 15,000 ft; weather moves it by
 * some 0.3 psi. From memory of the ASHRAE Handbook of Fundamentals, psychrometrics:
 * p = 14.696 * (1 - 6.8754e-6 * Z)^5.2559.
 * Worked: 0 ft -> 14.696; 5,000 ft -> 12.228. So 118.0 psig of R-410A is 39.8 F at sea level and
 * 38.75 F at 5,000 ft.
 */
export function atmospherePsia(altitudeFt: number): number {
  return seaLevelPsia * (1 - 6.8754e-6 * altitudeFt) ** 5.2559;
}
