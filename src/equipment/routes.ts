import type { z } from 'zod';
import { anyStaff } from '../platform/access/actor.ts';
import type { Equipment } from '../platform/database/generated/client.ts';
import { versionTag } from '../platform/http/etag.ts';
import { idParam } from '../platform/http/formats.ts';
import { notFound } from '../platform/http/problem.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { ownSites } from '../staff/index.ts';
import { addEquipment } from './add-equipment.ts';
import { changeEquipment } from './change-equipment.ts';
import { equipmentChangeSchema, equipmentSchema, newEquipmentSchema } from './contract.ts';
import { describeMachine } from './describe-machine.ts';

export const equipmentRoutes: readonly Route[] = [
  act({
    operationId: 'addEquipment',
    summary: 'Add a machine with its nameplate; a technician at own sites only',
    tag: 'equipment',
    method: 'POST',
    path: '/v1/systems/:systemId/equipment',
    access: anyStaff,
    params: idParam('systemId'),
    body: newEquipmentSchema,
    response: equipmentSchema,
    status: 201,
    handle: async (context, { params, body }) => {
      const equipment = await addEquipment(context, params.systemId, body);
      return answer(equipment, `/v1/equipment/${equipment.id}`);
    },
  }),
  read({
    operationId: 'getEquipment',
    summary: 'One machine with its nameplate; a technician sees those of own sites only',
    tag: 'equipment',
    path: '/v1/equipment/:equipmentId',
    access: anyStaff,
    params: idParam('equipmentId'),
    response: equipmentSchema,
    versioned: true,
    handle: async ({ prisma, actor }, { params }) => {
      const equipment = await prisma.equipment.findUnique({
        where: { id: params.equipmentId, system: { site: ownSites(actor) } },
      });
      if (equipment === null) throw notFound('equipment');
      return answer(equipment);
    },
  }),
  act({
    operationId: 'changeEquipment',
    summary: 'Correct a machine or its nameplate; a technician at own sites only',
    description:
      'Merged field by field, in the nameplate too: absent leaves a field, null erases it.',
    tag: 'equipment',
    method: 'PATCH',
    path: '/v1/equipment/:equipmentId',
    access: anyStaff,
    params: idParam('equipmentId'),
    body: equipmentChangeSchema,
    response: equipmentSchema,
    ifMatch: true,
    handle: async (context, { params, body }) =>
      answer(await changeEquipment(context, params.equipmentId, body)),
  }),
];

function answer(equipment: Equipment, location?: string) {
  return {
    body: toBody(equipment),
    etag: versionTag(equipment.version),
    ...(location !== undefined && { location }),
  };
}

function toBody(equipment: Equipment): z.input<typeof equipmentSchema> {
  return {
    id: equipment.id,
    systemId: equipment.systemId,
    ...describeMachine(equipment),
    version: equipment.version,
    createdAt: equipment.createdAt.toISOString(),
  };
}
