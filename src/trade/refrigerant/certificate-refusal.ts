import { z } from 'zod';
import type { RefrigerantRefusal } from './refrigerant-refusal.ts';

export const section608TypeSchema = z.enum(['type_1', 'type_2', 'type_3', 'universal']);
export type Section608Type = z.infer<typeof section608TypeSchema>;

/**
 * A small appliance is made, charged and sealed in a factory with 5 lb or less; a split or packaged
 * unit is none, however little it holds.
 */
export type Appliance =
  | { kind: 'factory_sealed'; chargeLb: number }
  | { kind: 'split_or_packaged' };

/**
 * Refuses refrigerant work, attaching or removing gauges included, by somebody whose certificates
 * do not cover the appliance; undefined when they do. Type I covers small appliances, type II those
 * of medium, high and very high pressure except small ones, type III low pressure, universal all.
 * A certificate does not expire. The law also lets a registered apprentice work under a certified
 * person's constant eye; that is not modelled: the certified person's name goes on the work.
 * Source: 40 CFR 82.161 and the definition of technician in 82.152, as public study and compliance
 * pages report them.
 * Worked: type I alone on a split system -> refused; type II or universal -> allowed.
 */
export function certificateRefusal(
  certificates: readonly Section608Type[],
  appliance: Appliance,
): RefrigerantRefusal | undefined {
  const isSmall = appliance.kind === 'factory_sealed' && appliance.chargeLb <= smallApplianceLbMax;
  const covering: Section608Type = isSmall ? 'type_1' : 'type_2';
  if (certificates.some((held) => held === covering || held === 'universal')) return undefined;
  const needed = isSmall ? 'type I or universal' : 'type II or universal';
  return certificates.length === 0
    ? {
        code: 'certificate_missing',
        message: `No Section 608 certificate on record. Gauges and refrigerant on this unit need ${needed}.`,
        source,
      }
    : {
        code: 'certificate_of_other_type',
        message: `This Section 608 certificate does not cover this unit. Gauges and refrigerant here need ${needed}.`,
        source,
      };
}

const smallApplianceLbMax = 5;
const source = '40 CFR 82.161';
