import type { PlacedClue } from './clues.ts';
import { usualRow } from './likelihood.ts';
import type { Side } from './sides.ts';
import type { Suspect } from './suspects.ts';

/**
 * For each suspect the row of a clue's table that speaks of it: the same for every clue that has one
 * place only, and one for each side for what either side has.
 */
export type SuspectRows = Readonly<Record<'onePlace' | Side, Int32Array>>;

export function suspectRows(suspects: readonly Suspect[], isAnyPlacedOnce: boolean): SuspectRows {
  const onePlace = new Int32Array(suspects.map(wayOf));
  if (isAnyPlacedOnce) return { onePlace, outdoor: onePlace, indoor: onePlace };
  // The breaker of the outdoor unit says nothing of the one indoors.
  const on = (side: Side) =>
    new Int32Array(
      suspects.map((each) =>
        each.fault !== 'something_else' && each.side === side ? each.way : usualRow,
      ),
    );
  return { onePlace, outdoor: on('outdoor'), indoor: on('indoor') };
}

/** The rows in which a clue speaks of the suspects from where it is looked for. */
export function rowsAt({ clue, side }: PlacedClue, rows: SuspectRows): Int32Array {
  return clue.on === 'any' ? rows[side] : rows.onePlace;
}

function wayOf(suspect: Suspect): number {
  return suspect.fault === 'something_else' ? usualRow : suspect.way;
}
