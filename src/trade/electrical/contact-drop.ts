/**
 * Heat in watts that a closed contact makes of the current through it; a sound pole drops close to
 * nothing. First principles: P = V x I. Worked: 3.0 V at 18 A -> 54 W.
 */
export function contactHeatWatts(dropVolts: number, amps: number): number {
  return dropVolts * amps;
}
