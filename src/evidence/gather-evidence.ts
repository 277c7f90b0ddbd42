import { nameplateOf } from '../equipment/index.ts';
import type { Tx } from '../platform/database/database.ts';
import type {
  Equipment,
  Observation as ObservationRow,
  Reading as ReadingRow,
} from '../platform/database/generated/client.ts';
import {
  type Evidence,
  equipmentKindSchema,
  type Observation,
  observationSchema,
  type Reading,
  readingSchema,
} from '../trade/index.ts';

/**
 * Everything recorded at a visit that a verdict on one machine may rest on: its readings, its
 * observations and those of the whole visit, its nameplate as it stands now.
 */
export async function gatherEvidence(
  prisma: Pick<Tx, 'reading' | 'observation'>,
  visitId: string,
  equipment: Equipment,
): Promise<Evidence> {
  const [readings, observations] = [
    await prisma.reading.findMany({
      where: { visitId, equipmentId: equipment.id },
      orderBy: { id: 'asc' },
    }),
    await prisma.observation.findMany({
      where: { visitId, OR: [{ equipmentId: equipment.id }, { equipmentId: null }] },
      orderBy: { id: 'asc' },
    }),
  ];
  return {
    equipment: {
      id: equipment.id,
      kind: equipmentKindSchema.parse(equipment.kind),
      nameplate: nameplateOf(equipment),
    },
    readings: readings.map(toReading),
    observations: observations.map(toObservation),
  };
}

/** A stored reading as the trade core reads it. */
export function toReading(row: ReadingRow): Reading {
  return readingSchema.parse({
    id: row.id,
    equipmentId: row.equipmentId,
    quantity: row.quantity,
    point: row.point,
    value: row.value,
    unit: row.unit,
    method: row.method,
    source: row.source,
    phase: row.phase,
    takenAt: row.takenAt.toISOString(),
  });
}

/** A stored observation as the trade core reads it. */
export function toObservation(row: ObservationRow): Observation {
  return observationSchema.parse({
    id: row.id,
    ...(row.equipmentId !== null && { equipmentId: row.equipmentId }),
    code: row.code,
    answer: row.answer,
    source: row.source,
    phase: row.phase,
    ...(row.photoSha256 !== null && { photoSha256: row.photoSha256 }),
    at: row.observedAt.toISOString(),
  });
}
