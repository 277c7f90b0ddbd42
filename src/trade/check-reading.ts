import type { Reading } from './evidence.ts';
import { methodAccuracy, methodWords } from './words/methods.ts';
import { type PointRange, pointRange, pointWords } from './words/points.ts';
import { printedUnit, type Unit, unitOfQuantity } from './words/quantities.ts';

export type ReadingRefusal =
  | { kind: 'not_a_number' | 'wrong_quantity' | 'wrong_unit' | 'wrong_method'; message: string }
  | {
      kind: 'out_of_range';
      message: string;
      low: number;
      high: number;
      unit: Unit;
      /** The value that was probably meant, where a common slip explains the figure. */
      likely: number | undefined;
    };

type Figures = Pick<Reading, 'quantity' | 'point' | 'value' | 'unit' | 'method'>;

/**
 * Refuses a reading that cannot be: a quantity its point does not have, a method that cannot
 * measure it, a value no equipment shows. Undefined means that the reading may be kept.
 */
export function checkReading(reading: Figures): ReadingRefusal | undefined {
  const { quantity, point, method, unit, value } = reading;
  const range = pointRange(point, quantity);
  const unitDue = unitOfQuantity[quantity];
  if (range === undefined) {
    return refuse(
      'wrong_quantity',
      `There is no ${quantity} to be read: ${pointWords[point].name}.`,
    );
  }
  if (unit !== unitDue) {
    return refuse('wrong_unit', `A ${quantity} is given in ${unitDue}, not ${unit}.`);
  }
  if (methodAccuracy(method, quantity) === undefined) {
    return refuse('wrong_method', `A ${methodWords[method].name} cannot measure ${quantity}.`);
  }
  if (!Number.isFinite(value)) return refuse('not_a_number', 'The value is not a number.');
  if (value >= range.low && value <= range.high) return undefined;
  return outOfRange(reading, range);
}

function refuse(
  kind: Exclude<ReadingRefusal['kind'], 'out_of_range'>,
  message: string,
): ReadingRefusal {
  return { kind, message };
}

function outOfRange({ value, unit, point }: Figures, range: PointRange): ReadingRefusal {
  const { low, high } = range;
  const shown = printedUnit[unit];
  const slip = likelySlip(value, unit, range);
  const allowed = `${value} ${shown} is outside ${low} to ${high} ${shown} (${pointWords[point].name}).`;
  const guess = slip === undefined ? '' : ` Was it ${slip.likely} ${shown}, ${slip.how}?`;
  return { kind: 'out_of_range', message: allowed + guess, low, high, unit, likely: slip?.likely };
}

type Slip = { likely: number; how: string };

/** The first of the usual slips that turns the figure into one the point usually shows. */
function likelySlip(value: number, unit: Unit, range: PointRange): Slip | undefined {
  const slips: Slip[] = [
    { likely: -value, how: 'with the minus sign by mistake' },
    { likely: value / 10, how: 'with the decimal point lost' },
    { likely: value / 100, how: 'with the decimal point lost' },
    ...prefixSlip(value, unit),
  ];
  return slips.find(({ likely }) => likely >= range.usualLow && likely <= range.usualHigh);
}

const thousandth: Partial<Record<Unit, string>> = { V: 'mV', A: 'mA', uF: 'nF' };

function prefixSlip(value: number, unit: Unit): Slip[] {
  const smaller = thousandth[unit];
  return smaller === undefined ? [] : [{ likely: value / 1000, how: `given in ${smaller}` }];
}
