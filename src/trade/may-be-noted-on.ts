import type { EquipmentKind } from './words/equipment-kinds.ts';
import { type ObservationCode, observationWords } from './words/observations.ts';
import { type PointCode, pointWords } from './words/points.ts';
import { isFoundOn, type Side } from './words/sides-of-kind.ts';

/**
 * Whether a reading of this point may be noted on a machine of this kind: a machine that cannot
 * have the point has no such reading. What tells of the whole system counts for all of its
 * machines, so that any of them may carry it.
 */
export function mayBeReadOn(point: PointCode, kind: EquipmentKind): boolean {
  const { on, scope } = pointWords[point];
  return mayCarry(point, scope === 'system' ? 'any' : on, kind);
}

/** The same for a thing that is seen, heard or tried; one of the house may be noted anywhere. */
export function mayBeSeenOn(code: ObservationCode, kind: EquipmentKind): boolean {
  const { on, about } = observationWords[code];
  return about === 'house' || mayCarry(code, about === 'system' ? 'any' : on, kind);
}

/** A thermostat stands on neither side and carries what is its own. */
function mayCarry(code: string, on: Side | 'any', kind: EquipmentKind): boolean {
  return kind === 'thermostat' ? code.startsWith('thermostat_') : isFoundOn(on, kind);
}
