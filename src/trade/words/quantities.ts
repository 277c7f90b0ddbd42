import { z } from 'zod';
import { keysOf } from './keys-of.ts';

/** Every quantity that is read, with the one UCUM unit code it is stored in. */
export const unitOfQuantity = {
  voltage: 'V',
  current: 'A',
  capacitance: 'uF',
  resistance: 'Ohm',
  temperature: '[degF]',
} as const;

export const quantitySchema = z.enum(keysOf(unitOfQuantity));
export type Quantity = z.infer<typeof quantitySchema>;

export const unitSchema = z.enum(['V', 'A', 'uF', 'Ohm', '[degF]']);
export type Unit = z.infer<typeof unitSchema>;

/** How a unit is written for people; UCUM codes are for machines. */
export const printedUnit: Record<Unit, string> = {
  V: 'V',
  A: 'A',
  uF: 'uF',
  Ohm: 'ohm',
  '[degF]': 'F',
};
