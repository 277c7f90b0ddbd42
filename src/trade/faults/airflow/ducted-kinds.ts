import type { EquipmentKind } from '../../words/equipment-kinds.ts';

/** Machines whose blower feeds ducts and registers. */
export const ductedKinds = [
  'air_handler',
  'furnace',
  'package_unit',
] as const satisfies readonly EquipmentKind[];
