import { checkReading, type ReadingRefusal, type Shown } from './check-reading.ts';
import type { Reading } from './evidence.ts';
import { toCanonical } from './words/convert-unit.ts';
import { printedUnit, type Unit, unitOfQuantity, unitsOf } from './words/quantities.ts';

/** A reading as the gauge shows it: any unit that measures its quantity. */
export type TypedReading = Pick<Reading, 'quantity' | 'point' | 'method'> & Shown;

export type TakenReading =
  | { taken: { value: number; unit: Unit }; refusal?: never }
  | { taken?: never; refusal: ReadingRefusal };

/**
 * A reading in the unit of the gauge, turned exactly into the one it is kept in; or why there can be
 * no such reading, in the words of the unit that was typed.
 * Worked: 45,000 nF is kept as 45 uF; 21 Cel as 69.8 [degF]; 400 V of a capacitance is refused.
 */
export function takeReading(typed: TypedReading): TakenReading {
  const { quantity, point, method, ...shown } = typed;
  const unit = unitOfQuantity[quantity];
  if (!Number.isFinite(shown.value)) {
    return { refusal: { kind: 'not_a_number', message: 'The value is not a number.' } };
  }
  const value = toCanonical(shown.value, shown.unit, unit);
  if (value === undefined) return { refusal: wrongUnit(typed) };
  const refusal = checkReading({ quantity, point, method, value, unit }, shown);
  return refusal === undefined ? { taken: { value, unit } } : { refusal };
}

function wrongUnit({ quantity, unit }: TypedReading): ReadingRefusal {
  const units = unitsOf(quantity).map((each) => printedUnit[each]);
  const list =
    units.length === 1 ? units.join() : `${units.slice(0, -1).join(', ')} or ${units.at(-1)}`;
  const words = quantity.replaceAll('_', ' ');
  return {
    kind: 'wrong_unit',
    message: `${printedUnit[unit]} does not measure ${words}; ${words} is given in ${list}.`,
  };
}
