import { chancesByNeighbors } from './chances-by-neighbors.ts';

/** So many marked ones among all of a lot. */
export interface Lot {
  readonly all: number;
  readonly marked: number;
}

/**
 * The chance of each count of marked ones from none to all among some that are drawn blindly from a
 * lot and not put back: the hypergeometric distribution.
 * @throws RangeError for numbers that are not whole, or more marked or drawn than there are
 */
export function drawnChances({ all, marked }: Lot, drawn: number): Float64Array {
  for (const some of [marked, drawn]) {
    if (!(Number.isInteger(all) && Number.isInteger(some) && some >= 0 && some <= all)) {
      throw new RangeError(`No lot: ${marked} marked and ${drawn} drawn of ${all}.`);
    }
  }
  const mode = Math.floor(((drawn + 1) * (marked + 1)) / (all + 2));
  return chancesByNeighbors(drawn, mode, (count) => {
    const leftUnmarked = all - marked - drawn + count;
    // With fewer marked than that, there are too few others to draw.
    if (leftUnmarked <= 0) return Number.POSITIVE_INFINITY;
    return ((marked - count + 1) * (drawn - count + 1)) / (count * leftUnmarked);
  });
}
