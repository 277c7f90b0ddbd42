export type CondensingBand = { seerMin: number; lowDegF: number; highDegF: number };

/**
 * How far above the outdoor air a clean condenser of the right charge condenses, by efficiency,
 * best first. Common practice, no source: 15 to 20 F from 14 SEER on, 25 to 30 F for old machines
 * of about 10 SEER, 20 to 25 F between; that the middle starts at 12 SEER is our own choice.
 */
export const condensingBands = [
  { seerMin: 14, lowDegF: 15, highDegF: 20 },
  { seerMin: 12, lowDegF: 20, highDegF: 25 },
  { seerMin: 0, lowDegF: 25, highDegF: 30 },
] as const satisfies readonly CondensingBand[];

/**
 * The band to expect; without a known efficiency, everything any machine may show.
 * Worked: 15 SEER -> 15 to 20 F; unknown -> 15 to 30 F.
 */
export function condensingBand(seer: number | undefined): { lowDegF: number; highDegF: number } {
  const band = condensingBands.find(({ seerMin }) => seer !== undefined && seer >= seerMin);
  return band ?? { lowDegF: condensingBands[0].lowDegF, highDegF: condensingBands[2].highDegF };
}
