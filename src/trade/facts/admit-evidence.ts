import { checkReading } from '../check-reading.ts';
import type { Evidence, Observation, Reading } from '../evidence.ts';
import { observationWords } from '../words/observations.ts';

/** The part of the evidence that counts, in one fixed order. */
export type Facts = {
  equipment: Evidence['equipment'];
  readings: readonly Reading[];
  observations: readonly Observation[];
};

/**
 * Keeps what may prove something: measured or observed by a technician, found before any work, on
 * this equipment, possible, and answered. Sorting by time and id makes every later rule blind to
 * the order in which things were written down.
 */
export function admitEvidence({ equipment, readings, observations }: Evidence): Facts {
  return {
    equipment,
    readings: readings
      .filter((each) => each.source === 'measured' && each.phase === 'found')
      .filter((each) => each.equipmentId === equipment.id)
      .filter((each) => checkReading(each) === undefined)
      .sort((a, b) => byTime(a.takenAt, b.takenAt) || byText(a.id, b.id)),
    observations: observations
      .filter((each) => each.source === 'observed' && each.phase === 'found')
      .filter((each) => isAbout(each, equipment.id))
      .filter((each) => each.answer !== 'unknown')
      .sort((a, b) => byTime(a.at, b.at) || byText(a.id, b.id)),
  };
}

/** What is seen on one machine proves nothing of another; unsaid, it may have been either. */
function isAbout({ code, equipmentId }: Observation, id: string): boolean {
  if (equipmentId !== undefined) return equipmentId === id;
  return observationWords[code].about === 'house';
}

/** Instants are compared as instants: as texts, 10:00:00.5Z would sort before 10:00:00Z. */
function byTime(a: string, b: string): number {
  return Date.parse(a) - Date.parse(b);
}

function byText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
