import { ProblemError } from '../platform/http/problem.ts';
import { pointWords, printedUnit, type Reading, type Shown, wetAboveDry } from '../trade/index.ts';

/** A reading with what was typed; `pointer` is its place in the request, unless it came before. */
type Bulb = Omit<Reading, 'id'> & { shown: Shown; pointer?: string };

/**
 * Refuses a wet bulb above the dry bulb of the same air, where the request has one of the two.
 * @param readings of one system, in the order they were recorded
 * @throws ProblemError 422 with both figures
 */
export function refuseWetAboveDry(readings: readonly Bulb[]): void {
  for (const { wet, dry } of wetAboveDry(readings)) {
    const pointers = [wet.pointer, dry.pointer].filter((each) => each !== undefined);
    if (pointers.length === 0) continue;
    const message =
      `A wet bulb of ${print(wet.shown)} above a dry bulb of ${print(dry.shown)} cannot be ` +
      `(${pointWords[wet.point].name}). Were the two swapped?`;
    throw new ProblemError('reading-out-of-range', message, {
      errors: pointers.map((pointer) => {
        return { in: 'body' as const, pointer, code: 'wet_above_dry', message };
      }),
    });
  }
}

function print({ value, unit }: Shown): string {
  return `${value} ${printedUnit[unit]}`;
}
