import { z } from 'zod';
import { refrigerantSchema } from './refrigerant.ts';

/** Parts that follow from the maker's list for the model: no figure of the plate decides the fit. */
const chosenByModel = [
  'disconnect_fuse',
  'thermostat',
  'thermostat_batteries',
  'indoor_board',
  'outdoor_board',
  'sensor',
  'float_switch',
  'condensate_pump',
  'drain_pan',
  'start_device',
  'compressor',
  'outdoor_fan_motor',
  'blower_motor',
  'blower_module',
  'filter',
  'filter_drier',
  'metering_device',
  'reversing_valve',
  'reversing_valve_coil',
  'defrost_board',
] as const;

/**
 * A part of the price book with the figures that decide whether it fits. Volts and amperes of a
 * part are what it may bear at most; `coilVolts` is what its coil is made for.
 */
export const partSchema = z.discriminatedUnion('category', [
  z.strictObject({
    category: z.literal('run_capacitor'),
    specs: z.strictObject({ microfarads: z.number().positive(), voltsMax: z.number().positive() }),
  }),
  z.strictObject({
    category: z.literal('dual_run_capacitor'),
    specs: z.strictObject({
      hermUf: z.number().positive(),
      fanUf: z.number().positive(),
      voltsMax: z.number().positive(),
    }),
  }),
  z.strictObject({
    category: z.literal('contactor'),
    specs: z.strictObject({
      poles: z.int().min(1).max(4),
      ampsMax: z.number().positive(),
      coilVolts: z.number().positive(),
    }),
  }),
  z.strictObject({
    category: z.literal('control_fuse'),
    specs: z.strictObject({ amps: z.number().positive() }),
  }),
  z.strictObject({
    category: z.literal('transformer'),
    specs: z.strictObject({ va: z.number().positive(), secondaryVolts: z.number().positive() }),
  }),
  z.strictObject({
    category: z.literal('refrigerant'),
    specs: z.strictObject({ refrigerant: refrigerantSchema }),
  }),
  z.strictObject({
    category: z.literal('outdoor_unit'),
    specs: z.strictObject({ refrigerant: refrigerantSchema, tons: z.number().positive() }),
  }),
  z.strictObject({ category: z.enum(chosenByModel), specs: z.strictObject({}) }),
]);
export type Part = z.infer<typeof partSchema>;

export const partCategorySchema = z.enum([
  'run_capacitor',
  'dual_run_capacitor',
  'contactor',
  'control_fuse',
  'transformer',
  'refrigerant',
  'outdoor_unit',
  ...chosenByModel,
]);
export type PartCategory = z.infer<typeof partCategorySchema>;
