import { z } from 'zod';

export const remedyClassSchema = z.enum([
  'reset',
  'clean',
  'adjust',
  'repair',
  'replace',
  'accessory',
  'diagnose',
  'advise',
]);
export type RemedyClass = z.infer<typeof remedyClassSchema>;

export const partOfSystemSchema = z.enum([
  'power',
  'control',
  'condensate',
  'contactor',
  'capacitor',
  'compressor',
  'outdoor_fan',
  'blower',
  'airflow',
  'refrigerant',
  'heat_pump',
]);
export type PartOfSystem = z.infer<typeof partOfSystemSchema>;
