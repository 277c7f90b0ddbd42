import { checkReading, type ReadingRefusal } from './check-reading.ts';
import type { Reading } from './evidence.ts';
import { toCanonical } from './words/convert-unit.ts';
import {
  type GaugeUnit,
  printedUnit,
  type Quantity,
  type Unit,
  unitOfQuantity,
  unitsOf,
} from './words/quantities.ts';
import { nearestUnit, readUnit } from './words/read-unit.ts';

/** A reading as the gauge shows it, its unit as somebody wrote it. */
export type TypedReading = Pick<Reading, 'quantity' | 'point' | 'method' | 'value'> & {
  unit: string;
};

/** The reading as it is kept, and the unit that was typed. */
type Taken = { value: number; unit: Unit; shownUnit: GaugeUnit };

export type TakenReading =
  | { taken: Taken; refusal?: never }
  | { taken?: never; refusal: ReadingRefusal };

/**
 * A reading in the unit of the gauge, turned exactly into the one it is kept in; or why there can be
 * no such reading, in the words of the unit that was typed.
 * Worked: 45,000 nF is kept as 45 uF; 21 Cel as 69.8 [degF]; 400 V of a capacitance is refused.
 */
export function takeReading(typed: TypedReading): TakenReading {
  const { quantity, point, method, value: shownValue } = typed;
  const unit = unitOfQuantity[quantity];
  if (!Number.isFinite(shownValue)) {
    return { refusal: { kind: 'not_a_number', message: 'The value is not a number.' } };
  }
  const shownUnit = readUnit(typed.unit);
  if (shownUnit === undefined) return { refusal: unknownUnit(typed) };
  const value = toCanonical(shownValue, shownUnit, unit);
  if (value === undefined) return { refusal: wrongUnit(quantity, shownUnit) };
  const shown = { value: shownValue, unit: shownUnit };
  const refusal = checkReading({ quantity, point, method, value, unit }, shown);
  return refusal === undefined ? { taken: { value, unit, shownUnit } } : { refusal };
}

function unknownUnit({ quantity, unit }: TypedReading): ReadingRefusal {
  const nearest = nearestUnit(unit, unitsOf(quantity));
  const guess = nearest === undefined ? '' : ` Did you mean ${printedUnit[nearest]}?`;
  return {
    kind: 'wrong_unit',
    message: `"${unit}" is no unit known here; ${unitsInWords(quantity)}.${guess}`,
  };
}

function wrongUnit(quantity: Quantity, unit: GaugeUnit): ReadingRefusal {
  const words = quantity.replaceAll('_', ' ');
  return {
    kind: 'wrong_unit',
    message: `${printedUnit[unit]} does not measure ${words}; ${unitsInWords(quantity)}.`,
  };
}

/** "capacitance is given in uF, nF or pF" */
function unitsInWords(quantity: Quantity): string {
  const units = unitsOf(quantity).map((each) => printedUnit[each]);
  const list =
    units.length === 1 ? units.join() : `${units.slice(0, -1).join(', ')} or ${units.at(-1)}`;
  return `${quantity.replaceAll('_', ' ')} is given in ${list}`;
}
