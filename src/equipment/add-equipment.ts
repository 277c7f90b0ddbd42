import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { dateOfDay } from '../platform/calendar-day.ts';
import type { Equipment } from '../platform/database/generated/client.ts';
import { notFound } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { ownSites } from '../staff/index.ts';
import type { newEquipmentSchema } from './contract.ts';
import { describeMachine } from './describe-machine.ts';
import { nameplateColumns } from './nameplate.ts';
import { refuseImpossiblePlate } from './refuse-impossible-plate.ts';

/**
 * Adds a machine with its nameplate to a system.
 * @throws ProblemError 400 for a figure that no plate says, 404 for a system that is unknown or
 *   not theirs
 */
export async function addEquipment(
  act: ActContext,
  systemId: string,
  input: z.output<typeof newEquipmentSchema>,
): Promise<Equipment> {
  const system = await act.tx.comfortSystem.findUnique({
    where: { id: systemId, site: ownSites(act.actor) },
  });
  if (system === null) throw notFound('system');
  refuseImpossiblePlate(input.nameplate);
  const equipment = await act.tx.equipment.create({
    data: {
      id: act.newId(),
      systemId,
      kind: input.kind,
      maker: input.maker ?? null,
      model: input.model ?? null,
      serial: input.serial ?? null,
      installedOn: dayOrNull(input.installedOn),
      partsWarrantyUntil: dayOrNull(input.partsWarrantyUntil),
      compressorWarrantyUntil: dayOrNull(input.compressorWarrantyUntil),
      laborWarrantyUntil: dayOrNull(input.laborWarrantyUntil),
      ...nameplateColumns(input.nameplate),
      createdAt: act.now,
    },
  });
  await appendJournal(act, {
    event: 'equipment.added',
    subject: { kind: 'equipment', id: equipment.id },
    after: { systemId, ...describeMachine(equipment) },
  });
  return equipment;
}

function dayOrNull(day: string | undefined): Date | null {
  return day === undefined ? null : dateOfDay(day);
}
