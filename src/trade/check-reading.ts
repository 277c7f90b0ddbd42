import type { Reading } from './evidence.ts';
import { convertUnit } from './words/convert-unit.ts';
import { methodAccuracy, methodWords } from './words/methods.ts';
import { lineVolts } from './words/points/point.ts';
import { type PointRange, pointRange, pointWords } from './words/points.ts';
import {
  type GaugeUnit,
  printedUnit,
  type Unit,
  unitOfQuantity,
  unitsOf,
} from './words/quantities.ts';

/** A figure as a gauge shows it and a person types it. */
export type Shown = { value: number; unit: GaugeUnit };

export type ReadingRefusal =
  | { kind: 'not_a_number' | 'wrong_quantity' | 'wrong_unit' | 'wrong_method'; message: string }
  | {
      kind: 'out_of_range';
      message: string;
      low: number;
      high: number;
      unit: Unit;
      /** What was probably meant, as it would be typed, where a common slip explains the figure. */
      likely: Shown | undefined;
    };

type Figures = Pick<Reading, 'quantity' | 'point' | 'value' | 'unit' | 'method'>;

/**
 * Refuses a reading that cannot be: a quantity its point does not have, a method that cannot
 * measure it, a value no equipment shows. Undefined means that the reading may be kept.
 * @param shown the same figure in the unit it was typed in, for the words of the refusal
 */
export function checkReading(reading: Figures, shown: Shown = reading): ReadingRefusal | undefined {
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
  const shownRange = rangeOnGauge(range, shown.unit);
  if (value >= shownRange.low && value <= shownRange.high) return undefined;
  return outOfRange(reading, shown, shownRange);
}

/** Inches of mercury are the vacuum side of a gauge alone: above zero nobody reads them. */
function rangeOnGauge(range: PointRange, shown: GaugeUnit): PointRange {
  return shown === inchesOfMercury ? { ...range, high: Math.min(range.high, 0) } : range;
}

const inchesOfMercury: GaugeUnit = "[in_i'Hg]";

function refuse(
  kind: Exclude<ReadingRefusal['kind'], 'out_of_range'>,
  message: string,
): ReadingRefusal {
  return { kind, message };
}

function outOfRange(reading: Figures, shown: Shown, range: PointRange): ReadingRefusal {
  const { low, high } = range;
  const { unit, point } = reading;
  const refusal = { kind: 'out_of_range', low, high, unit } as const;
  const allowed = `${print(shown)} is outside ${rangeInWords(range, unit, shown.unit)} (${pointWords[point].name}).`;
  if (isLineVoltageOnControl(reading, range)) {
    const danger = `If it really is ${print(reading)}: stop, line voltage is on the control circuit.`;
    return { ...refusal, message: `${allowed} ${danger}`, likely: undefined };
  }
  const vacuum = vacuumMeant(shown, reading, range);
  if (vacuum !== undefined) {
    const message = `A vacuum in inHg is typed with a minus: ${vacuum.value} inHg.`;
    return { ...refusal, message, likely: vacuum };
  }
  const slips = likelySlips(reading, shown, range).slice(0, 2);
  const guesses = slips.map(({ likely, how }) => print(likely) + how).join(' or ');
  const message = slips.length === 0 ? allowed : `${allowed} Was it ${guesses}?`;
  return { ...refusal, message, likely: slips[0]?.likely };
}

/**
 * Whether the figure is what the mains would show where 24 V or a battery belongs. To guess that
 * it was a slip would comfort somebody whose hand is in the panel.
 */
function isLineVoltageOnControl({ quantity, value }: Figures, { high }: PointRange): boolean {
  const { usualLow, high: lineHigh } = lineVolts;
  return quantity === 'voltage' && high < usualLow && value >= usualLow && value <= lineHigh;
}

/** A compound gauge shows its vacuum without a sign. */
function vacuumMeant(
  { value, unit: typed }: Shown,
  { unit }: Figures,
  { low }: PointRange,
): Shown | undefined {
  const likely = { value: -value, unit: typed };
  const meant = convertUnit(likely.value, typed, unit);
  const isVacuum = typed === inchesOfMercury && value > 0 && meant !== undefined && meant >= low;
  return isVacuum ? likely : undefined;
}

function print({ value, unit }: Shown): string {
  return `${value} ${printedUnit[unit]}`;
}

/** In the unit that was typed first, because that is the one in front of the reader. */
function rangeInWords({ low, high }: PointRange, unit: Unit, typed: GaugeUnit): string {
  const kept = `${low} to ${high} ${printedUnit[unit]}`;
  if (typed === unit) return kept;
  const lowTyped = roundedInward(low, unit, typed, Math.ceil);
  const highTyped = roundedInward(high, unit, typed, Math.floor);
  return `${lowTyped} to ${highTyped} ${printedUnit[typed]}, which is ${kept}`;
}

/** To four figures and never outward: what the message allows is not refused the next time. */
function roundedInward(
  bound: number,
  unit: Unit,
  typed: GaugeUnit,
  inward: (value: number) => number,
): number {
  const converted = convertUnit(bound, unit, typed) ?? bound;
  if (converted === 0) return 0;
  const digits = 3 - Math.floor(Math.log10(Math.abs(converted)));
  const rounded = inward(Number(`${converted}e${digits}`));
  return Number(`${rounded}e${-digits}`);
}

type Slip = { likely: Shown; how: string };

/** The usual slips that turn the figure into one the point usually shows, one of each kind. */
function likelySlips({ quantity, unit }: Figures, shown: Shown, range: PointRange): Slip[] {
  const { value, unit: typed } = shown;
  const lost = ', with the decimal point lost';
  const kinds: Slip[][] = [
    [{ likely: { value: -value, unit: typed }, how: ', with the minus sign by mistake' }],
    [
      { likely: { value: shifted(value, 10), unit: typed }, how: lost },
      { likely: { value: shifted(value, 100), unit: typed }, how: lost },
    ],
    // Nobody reads a gauge in kelvins.
    unitsOf(quantity)
      .filter((other) => other !== typed && other !== 'K')
      .map((other) => ({ likely: { value, unit: other }, how: '' })),
  ];
  return kinds.flatMap((kind) => {
    const first = kind.find(({ likely }) => isUsual(likely, unit, range));
    return first === undefined ? [] : [first];
  });
}

function isUsual({ value, unit }: Shown, kept: Unit, { usualLow, usualHigh }: PointRange): boolean {
  const meant = convertUnit(value, unit, kept);
  return meant !== undefined && meant >= usualLow && meant <= usualHigh;
}

/** Without the tail that a binary division may leave: 70.13, not 70.13000000000001. */
function shifted(value: number, by: 10 | 100): number {
  return Number((value / by).toPrecision(12));
}
