import { nameplateOf } from '../equipment/index.ts';
import type { Tx } from '../platform/database/database.ts';
import type {
  Equipment,
  Observation as ObservationRow,
  Prisma,
  Reading as ReadingRow,
} from '../platform/database/generated/client.ts';
import {
  type Evidence,
  equipmentKindSchema,
  type Machine,
  type Observation,
  observationSchema,
  type Reading,
  readingSchema,
  type SystemEvidence,
} from '../trade/index.ts';

/** What is read with a system to gather its evidence. */
export const withMachines = {
  site: { select: { altitudeFt: true } },
  equipment: { orderBy: { id: 'asc' } },
} as const satisfies Prisma.ComfortSystemInclude;

/** A system with its machines and how high they stand. */
export type WholeSystem = Prisma.ComfortSystemGetPayload<{ include: typeof withMachines }>;

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
    equipment: toMachine(equipment),
    readings: readings.map(toReading),
    observations: observations.map(toObservation),
  };
}

/**
 * Everything recorded at a visit about one system: all of its machines as their nameplates stand
 * now, what was read and seen on them, and what was seen of the whole visit.
 */
export async function gatherSystemEvidence(
  prisma: Pick<Tx, 'reading' | 'observation'>,
  visitId: string,
  { site: { altitudeFt }, equipment }: WholeSystem,
): Promise<SystemEvidence> {
  const equipmentId = { in: equipment.map(({ id }) => id) };
  const [readings, observations] = [
    await prisma.reading.findMany({ where: { visitId, equipmentId }, orderBy: { id: 'asc' } }),
    await prisma.observation.findMany({
      where: { visitId, OR: [{ equipmentId }, { equipmentId: null }] },
      orderBy: { id: 'asc' },
    }),
  ];
  return {
    machines: equipment.map(toMachine),
    ...(altitudeFt !== null && { altitudeFt }),
    readings: readings.map(toReading),
    observations: observations.map(toObservation),
  };
}

/** A stored machine as the trade core reads it. */
export function toMachine(equipment: Equipment): Machine {
  return {
    id: equipment.id,
    kind: equipmentKindSchema.parse(equipment.kind),
    nameplate: nameplateOf(equipment),
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
