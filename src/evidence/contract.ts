import { z } from 'zod';
import { instant, text } from '../platform/http/formats.ts';
import { measuredSchema } from '../pricing/index.ts';
import {
  answerSchema,
  criterionSchema,
  faultCodeSchema,
  gaugeUnitSchema,
  methodCodeSchema,
  observationCodeSchema,
  phaseSchema,
  pointCodeSchema,
  quantitySchema,
  readingSourceSchema,
  remedyClassSchema,
  standingSchema,
  taskCodeSchema,
  unitSchema,
  writtenUnitSchema,
} from '../trade/index.ts';
import { photoMediaTypes } from './photo-media-type.ts';
import { photoSubjects } from './photo-subjects.ts';

export const sha256Hex = z.string().regex(/^[0-9a-f]{64}$/, { error: 'a SHA-256 in hexadecimal' });

export const newReadingSchema = z.strictObject({
  equipmentId: z.uuid(),
  quantity: quantitySchema,
  point: pointCodeSchema,
  value: z.number(),
  unit: writtenUnitSchema,
  method: methodCodeSchema,
  instrument: text(120).optional().meta({ description: 'Which meter, as written on it.' }),
  source: readingSourceSchema.default('measured').meta({
    description: '`reported` is kept and never counts as evidence.',
  }),
  phase: phaseSchema.default('found').meta({
    description: '`found` before the work, `left` after it.',
  }),
  takenAt: instant.optional().meta({
    description: 'Now when absent; never before the arrival and never in the future.',
  }),
  photoSha256: sha256Hex.optional().meta({
    description: 'The photo of the meter’s face, sent to this visit before.',
  }),
});

export const newReadingsSchema = z.strictObject({
  readings: z.array(newReadingSchema).min(1).max(50),
});

export const readingAnswerSchema = newReadingSchema.extend({
  id: z.uuid(),
  visitId: z.uuid(),
  value: z.number().meta({ description: 'In `unit`, the one this quantity is kept in.' }),
  unit: unitSchema,
  shownValue: z.number().nullable().meta({
    description: 'As the gauge showed it. Null for readings kept before this was.',
  }),
  shownUnit: gaugeUnitSchema.nullable().meta({ description: 'The unit of the gauge.' }),
  instrument: z.string().nullable(),
  source: readingSourceSchema,
  phase: phaseSchema,
  photoSha256: z.string().nullable(),
  takenAt: instant,
  recordedAt: instant,
});

export const newObservationSchema = z.strictObject({
  equipmentId: z.uuid().optional().meta({ description: 'The whole visit when absent.' }),
  code: observationCodeSchema,
  answer: answerSchema,
  phase: phaseSchema.default('found'),
  photoSha256: sha256Hex.optional().meta({
    description: 'The photo that shows it, sent to this visit before.',
  }),
  note: text(1_000).optional(),
  observedAt: instant.optional().meta({ description: 'As `takenAt` of a reading.' }),
});

export const newObservationsSchema = z.strictObject({
  observations: z.array(newObservationSchema).min(1).max(50),
});

export const observationAnswerSchema = z.strictObject({
  id: z.uuid(),
  visitId: z.uuid().nullable(),
  equipmentId: z.uuid().nullable(),
  code: observationCodeSchema,
  answer: answerSchema,
  source: z.enum(['observed', 'reported']),
  phase: phaseSchema,
  photoSha256: z.string().nullable(),
  note: z.string().nullable(),
  observedAt: instant,
  recordedAt: instant,
});

const sidePx = z.int().min(1).nullable().meta({
  description:
    'As stored, before any turn its metadata asks for. Null for photos kept before sizes were read.',
});

export const visitPhotoSchema = z.strictObject({
  sha256: sha256Hex,
  shows: z.enum(photoSubjects),
  mediaType: z.enum(photoMediaTypes),
  widthPx: sidePx,
  heightPx: sidePx,
  recordedAt: instant,
  recordedById: z.uuid().meta({ description: 'The member of staff who sent it.' }),
});

export const newPhotoQuerySchema = z.strictObject({
  shows: z.enum(photoSubjects).default('other'),
});

export const photoSchema = visitPhotoSchema.extend({
  bytes: z.int().min(1).meta({ description: 'How many.' }),
});

export const evidenceAnswerSchema = z.strictObject({
  readings: z.array(readingAnswerSchema),
  observations: z.array(observationAnswerSchema),
});

/** A part that a task takes: so many pieces, or so much of what is sold by measure. */
export const partUseSchema = z
  .strictObject({
    partCode: text(60),
    quantity: z.int().min(1).max(10).optional().meta({ description: 'Of what is sold in pieces.' }),
    measured: measuredSchema.optional().meta({
      description: 'Of what is sold by measure, in the unit of the price book: `2.5`.',
    }),
  })
  .refine(({ quantity, measured }) => (quantity === undefined) !== (measured === undefined), {
    error: 'give either `quantity`, in pieces, or `measured`, in the unit it is sold in',
  });

export const newFindingSchema = z.strictObject({
  equipmentId: z.uuid(),
  faultCode: faultCodeSchema,
  taskCode: taskCodeSchema,
  parts: z.array(partUseSchema).max(10).default([]),
});

export const findingSchema = z.strictObject({
  id: z.uuid(),
  visitId: z.uuid(),
  equipmentId: z.uuid(),
  faultCode: faultCodeSchema,
  faultName: z.string(),
  taskCode: taskCodeSchema,
  remedyClass: remedyClassSchema.meta({ description: 'From the catalog; no request carries it.' }),
  standing: standingSchema,
  reason: z.string(),
  doubts: z.array(z.string()),
  criteria: z.array(criterionSchema),
  exclusionsMissing: z
    .array(z.string())
    .meta({ description: 'To be done before the finding carries a price.' }),
  cautions: z.array(z.string()).meta({
    description:
      'For whoever does the work: those of the fault and, where it moves refrigerant, those of the refrigerant on the nameplates of the system.',
  }),
  causeSearch: z.enum(['recorded', 'missing', 'not_due']).meta({
    description: '`missing`: a reset without a recorded look for its cause is incomplete.',
  }),
  priceable: z.boolean().meta({ description: 'Whether the evidence carries a price.' }),
  override: z.strictObject({ reason: z.string(), grantedAt: instant }).nullable(),
  parts: z.array(partUseSchema),
  rulesetVersion: z.string(),
  foundAt: instant,
});

export const overrideSchema = z.strictObject({ reason: text(1_000) });
