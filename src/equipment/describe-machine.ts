import type { z } from 'zod';
import { dayText } from '../platform/calendar-day.ts';
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
    installedOn: dayOrNull(equipment.installedOn),
    partsWarrantyUntil: dayOrNull(equipment.partsWarrantyUntil),
    compressorWarrantyUntil: dayOrNull(equipment.compressorWarrantyUntil),
    laborWarrantyUntil: dayOrNull(equipment.laborWarrantyUntil),
    nameplate: nameplateOf(equipment),
  };
}

function dayOrNull(date: Date | null): string | null {
  return date && dayText(date);
}
