import { z } from 'zod';
import { equipmentKindSchema } from './words/equipment-kinds.ts';
import { keysOf } from './words/keys-of.ts';
import { methodCodeSchema } from './words/methods.ts';
import { observationCodeSchema } from './words/observations.ts';
import { phaseWords } from './words/phases.ts';
import { pointCodeSchema } from './words/points.ts';
import { quantitySchema, unitSchema } from './words/quantities.ts';
import { refrigerantSchema } from './words/refrigerant.ts';

export const answerSchema = z.enum(['yes', 'no', 'unknown']);
export const readingSourceSchema = z.enum(['measured', 'reported']);
export const observationSourceSchema = z.enum(['observed', 'reported']);

/** `found` is before any work, `left` is after it: only what was found can prove a fault. */
export const phaseSchema = z.enum(keysOf(phaseWords));

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
  transformerVa: positive.optional(),
  capacitorBlowerUf: positive.optional(),
  startCapacitorUfMin: positive.optional(),
  startCapacitorUfMax: positive.optional(),
  /** The highest total external static pressure, in inches of water. */
  externalStaticMaxInWc: positive.optional(),
  targetSubcoolingDegF: positive.optional(),
  seer: positive.optional(),
  /** The line set that the factory charge is made for, and what each foot more takes. */
  lineSetIncludedFt: z.number().nonnegative().optional(),
  lineSetOzPerFt: positive.optional(),
  /** Made and marked for a flammable (A2L) refrigerant. */
  markedForA2l: z.boolean().optional(),
  heatInputBtuh: positive.optional(),
  heatEfficiencyPercent: positive.max(100).optional(),
  heatKw: positive.optional(),
  /** The resistance of its coil sensor at 77 F and how steeply it falls (beta). */
  sensorOhmsAt77F: positive.optional(),
  sensorBetaK: positive.optional(),
  /** In which mode the coil of the reversing valve gets its voltage. */
  reversingValveOn: z.enum(['cooling', 'heating']).optional(),
});
export type Nameplate = z.infer<typeof nameplateSchema>;

export const machineSchema = z.strictObject({
  id: z.string().min(1),
  kind: equipmentKindSchema,
  nameplate: nameplateSchema,
});
export type Machine = z.infer<typeof machineSchema>;

/** Everything a verdict on one piece of equipment may rest on; a finding freezes it whole. */
export const evidenceSchema = z.strictObject({
  equipment: machineSchema,
  /** The other machines of its system: what is read of air and refrigerant may stand with them. */
  system: z.array(machineSchema).optional(),
  /** How high the site lies, for what air pressure and air density bear on; sea level if absent. */
  altitudeFt: z.number().min(-300).max(14_000).optional(),
  readings: z.array(readingSchema),
  observations: z.array(observationSchema),
});
export type Evidence = z.infer<typeof evidenceSchema>;
