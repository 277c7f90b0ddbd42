/**
 * The split (return less supply dry bulb, F) that a system with its airflow and capacity in order
 * shows at these return conditions. Damp air spends part of the cooling on its water, so the target
 * falls as the wet bulb rises; one figure for all houses is only a rule of thumb.
 * Undefined where the known points do not reach: outside 70 to 80 F, or a wet bulb that one of the
 * two rows beside it does not cover.
 * Source: points from memory of the California Title 24 appendix RA3.2, table of target temperature
 * splits (2008 edition); the table itself was not at hand. Between points the target is taken on
 * straight lines, along the wet bulb first, then between rows; `targetSplitDoubtDegF` bounds that.
 * Worked: 75/63 F -> 18.6; 77.5/63 F -> 20.0.
 */
export function targetTemperatureSplitDegF(
  returnDryBulbDegF: number,
  returnWetBulbDegF: number,
): number | undefined {
  const rows: Point[] = rowsByDryBulb.flatMap(({ dryBulbDegF, points }): Point[] => {
    const target = onStraightLines(points, returnWetBulbDegF);
    return target === undefined ? [] : [{ at: dryBulbDegF, target }];
  });
  const [below, above] = rowsAround(returnDryBulbDegF);
  const needed = rows.filter(({ at }) => at === below || at === above);
  return onStraightLines(needed, returnDryBulbDegF);
}

/**
 * How far a target between the points may lie from the table's own: the curve bends by 0.05 F per F
 * squared at most, as the points themselves show, and h * h / 8 of that over the widest step of
 * 10 F is 0.6 F. Added to the doubt of the measured split.
 */
export const targetSplitDoubtDegF = 0.6;

type Point = { at: number; target: number };

/** Each row's points lie in order of wet bulb, F, each with its target split, F. */
const rowsByDryBulb: readonly { dryBulbDegF: number; points: readonly Point[] }[] = [
  { dryBulbDegF: 70, points: inOrder([50, 20.9], [60, 17.7]) },
  { dryBulbDegF: 75, points: inOrder([55, 22.6], [60, 20.4], [63, 18.6], [67, 15.5]) },
  { dryBulbDegF: 80, points: inOrder([60, 23.2], [63, 21.4], [67, 18.3], [70, 15.5]) },
];

function inOrder(...pairs: readonly (readonly [at: number, target: number])[]): Point[] {
  return pairs.map(([at, target]) => ({ at, target }));
}

/** The rows next to a dry bulb; both are the same row for a dry bulb that has one of its own. */
function rowsAround(dryBulbDegF: number): [below: number | undefined, above: number | undefined] {
  const dryBulbs = rowsByDryBulb.map((row) => row.dryBulbDegF);
  return [
    dryBulbs.findLast((each) => each <= dryBulbDegF),
    dryBulbs.find((each) => each >= dryBulbDegF),
  ];
}

function onStraightLines(points: readonly Point[], at: number): number | undefined {
  const below = points.findLast((point) => point.at <= at);
  const above = points.find((point) => point.at >= at);
  if (below === undefined || above === undefined) return undefined;
  if (above.at === below.at) return below.target;
  const share = (at - below.at) / (above.at - below.at);
  return below.target + share * (above.target - below.target);
}
