import { z } from 'zod';
import {
  type Evidence,
  evidenceSchema,
  machineSchema,
  observationSchema,
  readingSchema,
} from './evidence.ts';

/** Everything recorded at a visit about one system: what to check next is asked of the whole. */
export const systemEvidenceSchema = z.strictObject({
  machines: z.array(machineSchema).min(1).max(20),
  altitudeFt: evidenceSchema.shape.altitudeFt,
  readings: z.array(readingSchema),
  observations: z.array(observationSchema),
});
export type SystemEvidence = z.infer<typeof systemEvidenceSchema>;

/** The evidence of each machine of the system, in the order of the machines. */
export function evidenceOfMachines({
  machines,
  altitudeFt,
  readings,
  observations,
}: SystemEvidence): Evidence[] {
  return machines.map((equipment) => ({
    equipment,
    system: machines.filter(({ id }) => id !== equipment.id),
    ...(altitudeFt !== undefined && { altitudeFt }),
    readings,
    observations,
  }));
}
