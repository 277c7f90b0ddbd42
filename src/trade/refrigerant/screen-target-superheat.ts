/** What the formula can say; it is coarser than a table and says by how much. */
export type ScreenedSuperheat =
  | { kind: 'target'; degF: number; uncertaintyDegF: number }
  | { kind: 'do_not_charge'; why: 'target_too_low' | 'outside_formula' };

/** Below this target liquid could reach the compressor: common practice, no source. */
export const targetSuperheatMinDegF = 5;

/**
 * Target superheat in F by the field formula (3*WB - 80 - DB)/2 for fixed metering, from indoor wet
 * bulb and outdoor dry bulb, F. A screen where no table of the unit is at hand. Against a
 * manufacturer's R-22 table it is within 3 F up to 95 F outdoors, and from there to 115 F as much
 * as 6.5 F too low in humid houses; so it is not asked outside the table's range. Source: a public
 * training page on fixed metering. Where the table forbids charging, the formula may still give up
 * to 7.5 F: a table goes before it.
 * Worked: 64 F wet bulb, 96 F outdoors -> 8.0 F +/- 6.5 F; 66 F and 90 F -> 14.0 F +/- 3 F; 60 F
 * and 95 F -> 2.5 F, do not charge by superheat.
 */
export function screenTargetSuperheat(
  indoorWetBulbDegF: number,
  outdoorDryBulbDegF: number,
): ScreenedSuperheat {
  const isInside =
    isWithin(indoorWetBulbDegF, proven.wetBulb) && isWithin(outdoorDryBulbDegF, proven.outdoor);
  if (!isInside) return { kind: 'do_not_charge', why: 'outside_formula' };
  const degF = (3 * indoorWetBulbDegF - 80 - outdoorDryBulbDegF) / 2;
  if (degF < targetSuperheatMinDegF) return { kind: 'do_not_charge', why: 'target_too_low' };
  const uncertaintyDegF = outdoorDryBulbDegF <= 95 ? 3 : 6.5;
  return { kind: 'target', degF, uncertaintyDegF };
}

/** Where there is a table to compare the formula with. */
const proven = {
  wetBulb: { lowDegF: 56, highDegF: 76 },
  outdoor: { lowDegF: 55, highDegF: 115 },
} as const;

function isWithin(degF: number, range: { lowDegF: number; highDegF: number }): boolean {
  return degF >= range.lowDegF && degF <= range.highDegF;
}
