import { handlesRefrigerant, taskCodeSchema } from '../trade/index.ts';

/** A finding as far as the place of its work goes. */
export interface WorkPlace {
  taskCode: string;
  equipmentId: string;
  equipment: { systemId: string };
}

/**
 * Where work is done once: on a machine, and what moves the charge in the one circuit that all
 * machines of a system share.
 */
export function placeOf({ taskCode, equipmentId, equipment }: WorkPlace): string {
  return handlesRefrigerant(taskCodeSchema.parse(taskCode)) ? equipment.systemId : equipmentId;
}

/** Whether two findings are mended at one place. */
export function isSamePlace(one: WorkPlace, other: WorkPlace): boolean {
  return one.equipmentId === other.equipmentId || placeOf(one) === placeOf(other);
}
