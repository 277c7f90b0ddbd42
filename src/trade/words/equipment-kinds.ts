import { z } from 'zod';

export const equipmentKindSchema = z.enum([
  'condensing_unit',
  'heat_pump',
  'air_handler',
  'evaporator_coil',
  'furnace',
  'package_unit',
  'mini_split',
  'thermostat',
]);
export type EquipmentKind = z.infer<typeof equipmentKindSchema>;
