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
  observationWords,
  pointWords,
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
 * Everything recorded at a visit that a verdict on each of these machines may rest on: its own
 * readings and observations, those of its system's other machines that tell of the whole system,
 * what was seen of the house, the nameplates of the system as they stand now, and the altitude.
 * Four statements, however many machines.
 * @returns by the identifier of the machine; one that is not at the site of the visit is not there
 */
export async function gatherEvidence(
  tx: Pick<Tx, 'equipment' | 'site' | 'reading' | 'observation'>,
  visitId: string,
  equipmentIds: readonly string[],
): Promise<ReadonlyMap<string, Evidence>> {
  const ofVisit = { tickets: { some: { visits: { some: { id: visitId } } } } };
  const site = await tx.site.findFirst({ where: ofVisit, select: { altitudeFt: true } });
  const machines = await tx.equipment.findMany({
    where: { system: { site: ofVisit, equipment: { some: { id: { in: [...equipmentIds] } } } } },
    orderBy: { id: 'asc' },
  });
  const all = await gatherSystemEvidence(tx, visitId, {
    site: { altitudeFt: site?.altitudeFt ?? null },
    equipment: machines,
  });
  const wanted = machines.filter(({ id }) => equipmentIds.includes(id));
  return new Map(
    wanted.map(({ id, systemId }) => [
      id,
      evidenceOn(
        id,
        machines.filter((each) => each.systemId === systemId),
        all,
      ),
    ]),
  );
}

/** What of it may stand in a verdict on one machine, and no more: a finding keeps it for ever. */
function evidenceOn(
  id: string,
  system: readonly Equipment[],
  { machines, readings, observations, ...place }: SystemEvidence,
): Evidence {
  const ids = new Set(system.map((each) => each.id));
  const own = machines.find((each) => each.id === id);
  if (own === undefined) throw new Error(`${id} is not among the machines of its system`);
  return {
    equipment: own,
    system: machines.filter((each) => each.id !== id && ids.has(each.id)),
    ...place,
    readings: readings.filter(
      ({ equipmentId, point }) =>
        equipmentId === id || (ids.has(equipmentId) && pointWords[point].scope === 'system'),
    ),
    observations: observations.filter(
      ({ equipmentId = id, code }) =>
        equipmentId === id || (ids.has(equipmentId) && observationWords[code].about !== 'machine'),
    ),
  };
}

/**
 * Everything recorded at a visit about one system: all of its machines as their nameplates stand
 * now, what was read and seen on them, and what was seen of the whole visit.
 */
export async function gatherSystemEvidence(
  prisma: Pick<Tx, 'reading' | 'observation'>,
  visitId: string,
  { site: { altitudeFt }, equipment }: Pick<WholeSystem, 'site' | 'equipment'>,
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
