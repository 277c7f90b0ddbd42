import { z } from 'zod';
import { day, instant, text, version } from '../platform/http/formats.ts';
import { equipmentKindSchema, nameplateSchema } from '../trade/index.ts';

const identity = {
  maker: text(80).optional(),
  model: text(80).optional(),
  serial: text(80).optional(),
  installedOn: day.optional(),
  partsWarrantyUntil: day.optional().meta({ description: 'Last day of the maker’s warranty.' }),
  compressorWarrantyUntil: day.optional().meta({
    description: 'Of the compressor, where the maker gives it longer than the rest.',
  }),
  laborWarrantyUntil: day.optional(),
};

export const newEquipmentSchema = z.strictObject({
  kind: equipmentKindSchema,
  ...identity,
  nameplate: nameplateSchema.default({}),
});

/**
 * A change in the manner of a JSON Merge Patch (RFC 7396), in the nameplate too: what is absent
 * stays as it is, and null erases.
 */
export const equipmentChangeSchema = z.strictObject({
  ...erasable(identity),
  nameplate: z
    .strictObject(erasable(nameplateSchema.shape))
    .optional()
    .meta({ description: 'Merged field by field: absent leaves a field, null erases it.' }),
});

type Erasable<Shape extends z.ZodRawShape> = {
  [Field in keyof Shape]: z.ZodOptional<z.ZodNullable<Shape[Field]>>;
};

/** The same fields, each of which may be null as well. */
function erasable<Shape extends Record<string, z.ZodType>>(shape: Shape): Erasable<Shape> {
  const fields = Object.entries(shape).map(([name, field]) => [name, field.nullable().optional()]);
  return Object.fromEntries(fields) as Erasable<Shape>;
}

export const equipmentSchema = z.strictObject({
  id: z.uuid(),
  systemId: z.uuid(),
  kind: equipmentKindSchema,
  maker: z.string().nullable(),
  model: z.string().nullable(),
  serial: z.string().nullable(),
  installedOn: day.nullable(),
  partsWarrantyUntil: day.nullable(),
  compressorWarrantyUntil: day.nullable(),
  laborWarrantyUntil: day.nullable(),
  nameplate: nameplateSchema,
  version,
  createdAt: instant,
});
