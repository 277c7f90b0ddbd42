import { adjustedForMany } from './adjusted-for-many.ts';
import type { Comparison } from './compare-with-others.ts';

/**
 * Several comparisons that are shown together, each chance adjusted for all of them: so that of
 * everything that stands out among them no larger share than `falseShareMax` does so by chance
 * alone, on average.
 */
export function adjustedTogether(
  lists: readonly (readonly Comparison[])[],
  falseShareMax: number,
): Comparison[][] {
  const looked = lists
    .flat()
    .flatMap((row) => (row.chance === null ? [] : [{ row, chance: row.chance }]));
  const adjusted = adjustedForMany(looked.map(({ chance }) => chance));
  const adjustedOf = new Map(looked.map(({ row }, at) => [row, adjusted[at]]));
  return lists.map((rows) =>
    rows.map((row): Comparison => {
      const adjustedChance = adjustedOf.get(row);
      if (adjustedChance === undefined) return row;
      const standing = adjustedChance <= falseShareMax ? 'stands_out' : 'like_others';
      return { ...row, adjustedChance, standing };
    }),
  );
}
