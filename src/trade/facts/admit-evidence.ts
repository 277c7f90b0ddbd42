import { checkReading } from '../check-reading.ts';
import type { Evidence, Machine, Observation, Reading } from '../evidence.ts';
import type { EquipmentKind } from '../words/equipment-kinds.ts';
import { outdoorKinds } from '../words/kinds.ts';
import { type ObservationCode, observationWords } from '../words/observations.ts';
import { pointWords } from '../words/points.ts';

/** The part of the evidence that counts, in one fixed order. */
export type Facts = {
  equipment: Machine;
  /** The other machines of its system. */
  system: readonly Machine[];
  altitudeFt: number;
  readings: readonly Reading[];
  observations: readonly Observation[];
  /** Looked at and said to be unknown: no evidence, and no use asking again at once. */
  unknown: ReadonlySet<ObservationCode>;
};

/**
 * Keeps what may prove something: measured or observed by a technician, found before any work, on
 * this equipment or what tells of its whole system, possible, and answered. Sorting by time and id
 * makes every later rule blind to the order in which things were written down.
 */
export function admitEvidence(evidence: Evidence): Facts {
  const { equipment, system = [], altitudeFt = 0, readings, observations } = evidence;
  const seen = inOrder(
    observations
      .filter((each) => each.source === 'observed' && each.phase === 'found')
      .filter((each) => isAbout(each, equipment, system)),
    ({ at }) => at,
  );
  return {
    equipment,
    system,
    altitudeFt,
    readings: inOrder(
      readings
        .filter((each) => each.source === 'measured' && each.phase === 'found')
        .filter((each) => isReadHere(each, equipment, system))
        .filter((each) => checkReading(each) === undefined),
      ({ takenAt }) => takenAt,
    ),
    observations: seen.filter((each) => each.answer !== 'unknown'),
    unknown: new Set(seen.filter((each) => each.answer === 'unknown').map(({ code }) => code)),
  };
}

/** Air, refrigerant and the call are one through a system; all else belongs to one machine. */
function isReadHere(
  { equipmentId, point }: Reading,
  equipment: Machine,
  system: readonly Machine[],
): boolean {
  if (equipmentId === equipment.id) return true;
  return pointWords[point].scope === 'system' && isOfOneCircuit(equipmentId, equipment, system);
}

/**
 * What is seen on one machine proves nothing of another, but for what tells of the whole system or
 * of the house. Where no machine was said, it may have been any.
 */
function isAbout(
  { code, equipmentId }: Observation,
  equipment: Machine,
  system: readonly Machine[],
): boolean {
  const { about } = observationWords[code];
  if (about === 'house' || equipmentId === equipment.id) return true;
  return about === 'system' && isOfOneCircuit(equipmentId, equipment, system);
}

/** Another machine of the system; of two outdoor units each has a circuit of its own. */
function isOfOneCircuit(
  equipmentId: string | undefined,
  equipment: Machine,
  system: readonly Machine[],
): boolean {
  const other = system.find(({ id }) => id === equipmentId);
  if (other === undefined || !isOutdoor(other)) return other !== undefined;
  return [equipment, ...system].filter(isOutdoor).length === 1;
}

function isOutdoor({ kind }: Machine): boolean {
  return outdoorKinds.some((each: EquipmentKind) => each === kind);
}

/** Instants are compared as instants: as texts, 10:00:00.5Z would sort before 10:00:00Z. */
function inOrder<Each extends { id: string }>(
  all: readonly Each[],
  takenAt: (each: Each) => string,
): Each[] {
  return all
    .map((each) => ({ each, time: Date.parse(takenAt(each)) }))
    .sort((a, b) => a.time - b.time || byText(a.each.id, b.each.id))
    .map(({ each }) => each);
}

function byText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
