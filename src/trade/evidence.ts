import { z } from 'zod';
import { equipmentKindSchema } from './words/equipment-kinds.ts';
import { methodCodeSchema } from './words/methods.ts';
import { observationCodeSchema } from './words/observations.ts';
import { pointCodeSchema } from './words/points.ts';
import { quantitySchema, unitSchema } from './words/quantities.ts';

export const answerSchema = z.enum(['yes', 'no', 'unknown']);
export const readingSourceSchema = z.enum(['measured', 'reported']);
export const observationSourceSchema = z.enum(['observed', 'reported']);

/** `found` is before any work, `left` is after it: only what was found can prove a fault. */
export const phaseSchema = z.enum(['found', 'left']);

export const meteringDeviceSchema = z.enum(['fixed_orifice', 'txv', 'eev']);
export const compressorMotorSchema = z.enum(['psc', 'csr', 'three_phase', 'inverter']);
export const fanMotorSchema = z.enum(['psc', 'ecm']);

/** A value from an instrument (measured) or from somebody's mouth (reported, never evidence). */
export const readingSchema = z.strictObject({
  id: z.string().min(1),
  equipmentId: z.string().min(1),
  quantity: quantitySchema,
  point: pointCodeSchema,
  value: z.number(),
  unit: unitSchema,
  method: methodCodeSchema,
  source: readingSourceSchema,
  phase: phaseSchema,
  takenAt: z.iso.datetime(),
});
export type Reading = z.infer<typeof readingSchema>;

/**
 * A coded yes, no or unknown. Without an equipment it concerns the whole visit. A meter that shows
 * OL shows no number, so an open circuit is an observation (`..._reads_open`), not a reading.
 */
export const observationSchema = z.strictObject({
  id: z.string().min(1),
  equipmentId: z.string().min(1).optional(),
  code: observationCodeSchema,
  answer: answerSchema,
  source: observationSourceSchema,
  phase: phaseSchema,
  photoSha256: z
    .string()
    .regex(/^[0-9a-f]{64}$/)
    .optional(),
  at: z.iso.datetime(),
});
export type Observation = z.infer<typeof observationSchema>;

const positive = z.number().positive();

/** As printed on the plate: R-22, R-410A, R-1234ze(E). */
const refrigerantSchema = z.string().regex(/^R-?[0-9A-Za-z()-]{2,16}$/, {
  error: 'a refrigerant such as R-410A',
});

/** What the manufacturer's plate says; everything may be missing, nothing is ever guessed. */
export const nameplateSchema = z.strictObject({
  phase: z.union([z.literal(1), z.literal(3)]).optional(),
  supplyVoltsMin: positive.optional(),
  supplyVoltsMax: positive.optional(),
  compressorRlaAmps: positive.optional(),
  compressorLraAmps: positive.optional(),
  fanFlaAmps: positive.optional(),
  capacitorHermUf: positive.optional(),
  capacitorFanUf: positive.optional(),
  capacitorVolts: positive.optional(),
  capacitorTolerancePercent: positive.max(50).optional(),
  contactorPoles: z.union([z.literal(1), z.literal(2), z.literal(3)]).optional(),
  mcaAmps: positive.optional(),
  mocpAmps: positive.optional(),
  refrigerant: refrigerantSchema.optional(),
  meteringDevice: meteringDeviceSchema.optional(),
  compressorMotor: compressorMotorSchema.optional(),
  fanMotor: fanMotorSchema.optional(),
  stages: z.int().min(1).max(20).optional(),
  factoryChargeOz: positive.optional(),
  tons: positive.optional(),
  controlFuseAmps: positive.optional(),
});
export type Nameplate = z.infer<typeof nameplateSchema>;

/** Everything a verdict on one piece of equipment may rest on; a finding freezes it whole. */
export const evidenceSchema = z.strictObject({
  equipment: z.strictObject({
    id: z.string().min(1),
    kind: equipmentKindSchema,
    nameplate: nameplateSchema,
  }),
  readings: z.array(readingSchema),
  observations: z.array(observationSchema),
});
export type Evidence = z.infer<typeof evidenceSchema>;
