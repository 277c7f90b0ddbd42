import type { z } from 'zod';
import type { Equipment } from '../platform/database/generated/client.ts';
import { equipmentKindSchema } from '../trade/index.ts';
import type { equipmentSchema } from './contract.ts';
import { nameplateOf } from './nameplate.ts';

type MachineBody = z.input<typeof equipmentSchema>;
type Machine = Omit<MachineBody, 'id' | 'systemId' | 'version' | 'createdAt'>;

/** What is on record about a machine itself, as the API shows it and the journal keeps it. */
export function describeMachine(equipment: Equipment): Machine {
  return {
    kind: equipmentKindSchema.parse(equipment.kind),
    maker: equipment.maker,
    model: equipment.model,
    serial: equipment.serial,
    installedOn: dayText(equipment.installedOn),
    partsWarrantyUntil: dayText(equipment.partsWarrantyUntil),
    compressorWarrantyUntil: dayText(equipment.compressorWarrantyUntil),
    laborWarrantyUntil: dayText(equipment.laborWarrantyUntil),
    nameplate: nameplateOf(equipment),
  };
}

function dayText(date: Date | null): string | null {
  return date?.toISOString().slice(0, 10) ?? null;
}
