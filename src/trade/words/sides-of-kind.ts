import type { EquipmentKind } from './equipment-kinds.ts';

export type Side = 'outdoor' | 'indoor';

/** On which side of a system each kind of machine stands; a package unit is both, a thermostat none. */
export const sidesOfKind: Record<EquipmentKind, readonly Side[]> = {
  condensing_unit: ['outdoor'],
  heat_pump: ['outdoor'],
  package_unit: ['outdoor', 'indoor'],
  mini_split: ['outdoor', 'indoor'],
  air_handler: ['indoor'],
  evaporator_coil: ['indoor'],
  furnace: ['indoor'],
  thermostat: [],
};

/** Whether a machine of this kind may have a thing that is on this side of a system. */
export function isFoundOn(on: Side | 'any', kind: EquipmentKind): boolean {
  const sides = sidesOfKind[kind];
  return on === 'any' ? sides.length > 0 : sides.includes(on);
}
