import { z } from 'zod';
import { keysOf } from './keys-of.ts';

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
} as const;

export const quantitySchema = z.enum(keysOf(unitOfQuantity));
export type Quantity = z.infer<typeof quantitySchema>;

export const unitSchema = z.enum([
  'V',
  'A',
  'uF',
  'Ohm',
  '[degF]',
  '%',
  '[psi]',
  "[in_i'H2O]",
  'um[Hg]',
  '[cft_i]/min',
  '[oz_av]',
  '[ft_i]',
]);
export type Unit = z.infer<typeof unitSchema>;

/**
 * Every way to write a unit that meters, labels and people use, and the code it is stored as. Two
 * signs look like a micro and two like an ohm; Unicode has both of each.
 */
const unitWritten = {
  V: 'V',
  A: 'A',
  uF: 'uF',
  '\u00b5F': 'uF',
  '\u03bcF': 'uF',
  mfd: 'uF',
  MFD: 'uF',
  Ohm: 'Ohm',
  ohm: 'Ohm',
  '\u03a9': 'Ohm',
  '\u2126': 'Ohm',
  '[degF]': '[degF]',
  '\u00b0F': '[degF]',
  F: '[degF]',
} as const satisfies Record<string, Unit>;

/** A unit as people write it; it comes out as its code. */
export const writtenUnitSchema = z
  .enum(keysOf(unitWritten))
  .transform((written): Unit => unitWritten[written])
  .meta({ description: 'Kept as V, A, uF, Ohm or [degF].' });

/** How a unit is written for people; UCUM codes are for machines. */
export const printedUnit: Record<Unit, string> = {
  V: 'V',
  A: 'A',
  uF: 'uF',
  Ohm: 'ohm',
  '[degF]': 'F',
  '%': '%',
  '[psi]': 'psi',
  "[in_i'H2O]": 'in. w.c.',
  'um[Hg]': 'microns',
  '[cft_i]/min': 'CFM',
  '[oz_av]': 'oz',
  '[ft_i]': 'ft',
};
