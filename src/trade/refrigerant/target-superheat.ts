/**
 * The superheat to charge to, or that charging by superheat is not allowed: a dash of the table
 * means that liquid could reach the compressor; outside the table nobody has published a target.
 */
export type TargetSuperheat =
  | { kind: 'target'; degF: number }
  | { kind: 'do_not_charge'; why: 'slugging_risk' | 'outside_table' };

/** A manufacturer's charging table for R-22 with fixed metering: rows outdoor, columns indoor. */
export const targetSuperheatTable = {
  indoorWetBulbsDegF: [56, 58, 60, 62, 64, 66, 68, 70, 72, 74, 76],
  rows: [
    { outdoorDegF: 55, targetsDegF: [17, 20, 23, 26, 29, 32, 35, 37, 40, 42, 45] },
    { outdoorDegF: 65, targetsDegF: [13, 16, 19, 21, 24, 27, 30, 33, 36, 38, 41] },
    { outdoorDegF: 75, targetsDegF: [6, 9, 12, 15, 18, 21, 24, 28, 31, 34, 37] },
    { outdoorDegF: 85, targetsDegF: ['-', '-', '-', 8, 11, 15, 19, 22, 26, 30, 33] },
    { outdoorDegF: 90, targetsDegF: ['-', '-', '-', 5, 9, 13, 16, 20, 24, 27, 31] },
    { outdoorDegF: 95, targetsDegF: ['-', '-', '-', '-', 6, 10, 14, 18, 22, 25, 29] },
    { outdoorDegF: 105, targetsDegF: ['-', '-', '-', '-', '-', 5, 9, 13, 17, 22, 26] },
    { outdoorDegF: 115, targetsDegF: ['-', '-', '-', '-', '-', '-', '-', 8, 14, 18, 23] },
  ],
} as const;

/**
 * Target superheat in F of a fixed-metering system from indoor wet bulb and outdoor dry bulb, F:
 * the table of a manufacturer, straight lines between its points. Where any point that the answer
 * needs is a dash, there is no target.
 * Worked: 70 F wet bulb, 95 F outdoors -> 18 F; 71 F and 100 F -> 17.5 F; 60 F and 95 F -> do not
 * charge.
 */
export function targetSuperheat(
  indoorWetBulbDegF: number,
  outdoorDryBulbDegF: number,
): TargetSuperheat {
  const { indoorWetBulbsDegF, rows } = targetSuperheatTable;
  const columns = between(indoorWetBulbsDegF, indoorWetBulbDegF);
  const outdoors = rows.map((row) => row.outdoorDegF);
  const lines = between(outdoors, outdoorDryBulbDegF);
  if (columns === undefined || lines === undefined) return outsideTable;
  const corners = lines.flatMap((line) =>
    columns.map((column) => ({
      share: line.share * column.share,
      target: rows[line.index]?.targetsDegF[column.index],
    })),
  );
  let degF = 0;
  for (const { share, target } of corners) {
    if (typeof target !== 'number') return sluggingRisk;
    degF += share * target;
  }
  return { kind: 'target', degF };
}

const sluggingRisk: TargetSuperheat = { kind: 'do_not_charge', why: 'slugging_risk' };
const outsideTable: TargetSuperheat = { kind: 'do_not_charge', why: 'outside_table' };

type Neighbor = { index: number; share: number };

/**
 * The points a value lies between and the share of each; a value on a point needs that one only,
 * so that a dash next to it does not matter. Undefined outside.
 */
function between(points: readonly number[], value: number): Neighbor[] | undefined {
  const exact = points.indexOf(value);
  if (exact >= 0) return [{ index: exact, share: 1 }];
  const above = points.findIndex((point) => point > value);
  const low = points[above - 1];
  const high = points[above];
  if (low === undefined || high === undefined) return undefined;
  const share = (value - low) / (high - low);
  return [
    { index: above - 1, share: 1 - share },
    { index: above, share },
  ];
}
