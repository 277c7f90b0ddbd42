import type { EquipmentKind } from '../words/equipment-kinds.ts';

/** What each kind of machine is called in Spanish. */
export const equipmentKindsInSpanish: Record<EquipmentKind, string> = {
  condensing_unit: 'unidad exterior (condensadora)',
  heat_pump: 'bomba de calor',
  air_handler: 'manejadora de aire',
  evaporator_coil: 'serpentín evaporador',
  furnace: 'calefactor (furnace)',
  package_unit: 'unidad paquete',
  mini_split: 'minisplit',
  thermostat: 'termostato',
};
