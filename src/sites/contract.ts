import { z } from 'zod';
import { cents, code, instant, text, version } from '../platform/http/formats.ts';

const altitudeFt = z
  .int()
  .min(-300)
  .max(14_000)
  .meta({
    description:
      'How high the site lies, for air pressure and density: gauges read against the air around ' +
      'them, and thin air carries less heat. Sea level when absent.',
  });

/** A point on the map, as trucks find it. */
export const placeSchema = z
  .strictObject({
    latitudeDeg: z.number().min(-90).max(90),
    longitudeDeg: z.number().min(-180).max(180),
  })
  .meta({ description: 'In degrees (WGS 84); travel is reckoned from it.' });

export const newSiteSchema = z.strictObject({
  street: text(200),
  unit: text(60).optional(),
  city: text(120),
  region: text(60),
  postalCode: text(20),
  jurisdiction: code.optional().meta({
    description: 'Whose taxes and consumer law apply; the default of the company when absent.',
  }),
  accessNotes: text(2_000).optional().meta({ description: 'Gate, dog, attic, parking.' }),
  altitudeFt: altitudeFt.optional(),
  place: placeSchema.optional(),
  occupantId: z.uuid(),
  approverId: z.uuid().optional().meta({ description: 'Who says yes; the occupant when absent.' }),
  approverLimitCents: cents.optional().meta({ description: 'Up to where the approver may.' }),
  payerId: z.uuid().optional().meta({ description: 'Who pays; the occupant when absent.' }),
});

/** Absent leaves a field as it is; null empties it. */
export const siteChangeSchema = z.strictObject({
  street: text(200).optional(),
  unit: text(60).nullable().optional(),
  city: text(120).optional(),
  region: text(60).optional(),
  postalCode: text(20).optional(),
  jurisdiction: code.optional(),
  accessNotes: text(2_000).nullable().optional(),
  altitudeFt: altitudeFt.nullable().optional(),
  place: placeSchema.nullable().optional(),
  approverId: z.uuid().optional(),
  approverLimitCents: cents.nullable().optional(),
  payerId: z.uuid().optional(),
});

export const siteSchema = z.strictObject({
  id: z.uuid(),
  street: z.string(),
  unit: z.string().nullable(),
  city: z.string(),
  region: z.string(),
  postalCode: z.string(),
  jurisdiction: z.string(),
  accessNotes: z.string().nullable(),
  altitudeFt: altitudeFt.nullable(),
  place: placeSchema.nullable(),
  occupantId: z.uuid(),
  approverId: z.uuid(),
  approverLimitCents: cents.nullable(),
  payerId: z.uuid(),
  version,
  createdAt: instant,
  systems: z.array(
    z.strictObject({
      id: z.uuid(),
      name: z.string(),
      equipment: z.array(
        z.strictObject({
          id: z.uuid(),
          kind: z.string(),
          maker: z.string().nullable(),
          model: z.string().nullable(),
        }),
      ),
    }),
  ),
});

export const newSystemSchema = z.strictObject({
  name: text(80).meta({ description: 'What it serves: "Main floor", "Upstairs".' }),
});

export const systemSchema = z.strictObject({
  id: z.uuid(),
  siteId: z.uuid(),
  name: z.string(),
  version,
  createdAt: instant,
});
