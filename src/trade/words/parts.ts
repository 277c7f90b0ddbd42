import { z } from 'zod';

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
]);
export type Part = z.infer<typeof partSchema>;

export const partCategorySchema = z.enum(
  partSchema.options.map((option) => option.shape.category.value),
);
export type PartCategory = z.infer<typeof partCategorySchema>;
