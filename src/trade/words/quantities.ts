import { z } from 'zod';
import { type CanonicalUnit, type UnitCode, unitCodes, unitsAccepted } from './convert-unit.ts';
import { keysOf } from './keys-of.ts';
import { writtenUnits } from './written-units.ts';

/** Every quantity that is read, with the one UCUM unit code it is kept in. */
export const unitOfQuantity = {
  voltage: 'V',
  current: 'A',
  capacitance: 'uF',
  resistance: 'Ohm',
  temperature: '[degF]',
  /** By a psychrometer, or computed by a meter that shows it. */
  wet_bulb_temperature: '[degF]',
  relative_humidity: '%',
  /** Against the air around the gauge, so negative below it; never absolute. */
  gauge_pressure: '[psi]',
  /** Of a duct against the room. */
  static_pressure: "[in_i'H2O]",
  vacuum: 'um[Hg]',
  airflow: '[cft_i]/min',
  mass: '[oz_av]',
  length: '[ft_i]',
} as const satisfies Record<string, CanonicalUnit>;

export const quantitySchema = z.enum(keysOf(unitOfQuantity));
export type Quantity = z.infer<typeof quantitySchema>;

/** The units that readings are kept in. */
export const unitSchema = z.enum(keysOf(unitsAccepted));
export type Unit = CanonicalUnit;

/** Any unit a gauge may show, by its UCUM code. */
export const gaugeUnitSchema = z.enum(unitCodes);
export type GaugeUnit = UnitCode;

/** A unit as people write it, to be read with `readUnit`. */
export const writtenUnitSchema = z
  .string()
  .min(1)
  .max(30)
  .meta({
    description:
      'The unit as the gauge or the label writes it; the vocabulary lists the ways of each ' +
      'quantity, and case, spaces and dots do not matter where they leave no doubt. The reading ' +
      'is kept in the one unit of its quantity, converted exactly.',
    examples: ['uF', 'V', 'F', 'psig', 'in. w.c.'],
  });

/** The units that a quantity may be read in, the one it is kept in first. */
export function unitsOf(quantity: Quantity): readonly GaugeUnit[] {
  return unitsAccepted[unitOfQuantity[quantity]];
}

/** The ways to write a unit. */
export function waysToWrite(unit: GaugeUnit): string[] {
  return keysOf(writtenUnits).filter((written) => writtenUnits[written] === unit);
}

/** How a unit is written for people; UCUM codes are for machines. */
export const printedUnit: Record<GaugeUnit, string> = {
  V: 'V',
  mV: 'mV',
  kV: 'kV',
  A: 'A',
  mA: 'mA',
  uF: 'uF',
  nF: 'nF',
  pF: 'pF',
  Ohm: 'ohm',
  kOhm: 'kohm',
  MOhm: 'Mohm',
  GOhm: 'Gohm',
  '[degF]': 'F',
  Cel: 'C',
  K: 'K',
  '%': '%',
  '[psi]': 'psi',
  kPa: 'kPa',
  MPa: 'MPa',
  bar: 'bar',
  mbar: 'mbar',
  Pa: 'Pa',
  "[in_i'Hg]": 'in. Hg',
  "[in_i'H2O]": 'in. w.c.',
  'um[Hg]': 'microns',
  'mm[Hg]': 'mmHg',
  '[cft_i]/min': 'CFM',
  'L/s': 'L/s',
  'm3/h': 'm3/h',
  '[oz_av]': 'oz',
  '[lb_av]': 'lb',
  g: 'g',
  kg: 'kg',
  '[ft_i]': 'ft',
  '[in_i]': 'in',
  m: 'm',
};
