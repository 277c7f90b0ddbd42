import { z } from 'zod';
import { day, instant, text, version } from '../platform/http/formats.ts';
import { equipmentKindSchema, nameplateSchema } from '../trade/index.ts';

const identity = {
  maker: text(80).optional(),
  model: text(80).optional(),
  serial: text(80).optional(),
  installedOn: day.optional(),
  partsWarrantyUntil: day.optional().meta({ description: 'Last day of the maker’s warranty.' }),
  laborWarrantyUntil: day.optional(),
};

export const newEquipmentSchema = z.strictObject({
  kind: equipmentKindSchema,
  ...identity,
  nameplate: nameplateSchema.default({}),
});

/** Absent leaves a field as it is; a given nameplate replaces the whole nameplate. */
export const equipmentChangeSchema = z.strictObject({
  ...identity,
  nameplate: nameplateSchema.optional(),
});

export const equipmentSchema = z.strictObject({
  id: z.uuid(),
  systemId: z.uuid(),
  kind: equipmentKindSchema,
  maker: z.string().nullable(),
  model: z.string().nullable(),
  serial: z.string().nullable(),
  installedOn: day.nullable(),
  partsWarrantyUntil: day.nullable(),
  laborWarrantyUntil: day.nullable(),
  nameplate: nameplateSchema,
  version,
  createdAt: instant,
});
