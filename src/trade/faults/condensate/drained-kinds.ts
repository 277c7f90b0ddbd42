import type { EquipmentKind } from '../../words/equipment-kinds.ts';

/** What water runs off from. */
export const drainedKinds = [
  'air_handler',
  'evaporator_coil',
  'furnace',
  'package_unit',
  'mini_split',
] as const satisfies readonly EquipmentKind[];
