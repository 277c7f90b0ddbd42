import type { EquipmentKind } from './equipment-kinds.ts';

/** Machines that switch a compressor by a contactor; a mini split's own board drives its one. */
export const contactorKinds = [
  'condensing_unit',
  'heat_pump',
  'package_unit',
] as const satisfies readonly EquipmentKind[];

/** Machines that hold the compressor and its fan. */
export const outdoorKinds = [
  'condensing_unit',
  'heat_pump',
  'package_unit',
  'mini_split',
] as const satisfies readonly EquipmentKind[];

/** Machines that move the air of the house. */
export const blowerKinds = [
  'air_handler',
  'furnace',
  'package_unit',
  'mini_split',
] as const satisfies readonly EquipmentKind[];

/** Machines that hold the indoor coil. */
export const indoorCoilKinds = [
  'evaporator_coil',
  'air_handler',
  'package_unit',
  'mini_split',
] as const satisfies readonly EquipmentKind[];

/** Machines that are fed with line voltage. */
export const fedKinds = [
  'condensing_unit',
  'heat_pump',
  'air_handler',
  'furnace',
  'package_unit',
  'mini_split',
] as const satisfies readonly EquipmentKind[];

/** Machines whose control power comes from a transformer and a board of their own. */
export const boardKinds = [
  'air_handler',
  'furnace',
  'package_unit',
] as const satisfies readonly EquipmentKind[];
