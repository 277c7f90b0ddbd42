import { type Access, anyStaff } from '../platform/access/actor.ts';
import { sqlOf } from '../platform/database/database.ts';
import { idParam } from '../platform/http/formats.ts';
import { pageOf } from '../platform/http/page.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { answerTicket, ticketSchema } from '../tickets/index.ts';
import { baselineOf } from './baseline-of.ts';
import {
  baselineSchema,
  dueMaintenanceSchema,
  newMaintenanceSchema,
  newScheduleSchema,
  scheduleSchema,
} from './contract.ts';
import { dueListQuery, listDue } from './list-due.ts';
import { openMaintenance } from './open-maintenance.ts';
import { answerSchedule, scheduleOf } from './schedule-of.ts';
import { setSchedule } from './set-schedule.ts';

const office: Access = ['dispatcher', 'owner'];
const tag = 'maintenance';

export const maintenanceRoutes: readonly Route[] = [
  read({
    operationId: 'getMaintenance',
    summary: 'In which months maintenance is due under an agreement',
    tag,
    path: '/v1/agreements/:agreementId/maintenance',
    access: office,
    params: idParam('agreementId'),
    response: scheduleSchema,
    versioned: true,
    handle: async ({ prisma, actor }, { params }) =>
      answerSchedule(await scheduleOf(prisma, actor, params.agreementId)),
  }),
  act({
    operationId: 'setMaintenance',
    summary: 'Set in which months maintenance is due under an agreement, and how long it takes',
    tag,
    method: 'POST',
    path: '/v1/agreements/:agreementId/maintenance',
    access: office,
    params: idParam('agreementId'),
    body: newScheduleSchema,
    response: scheduleSchema,
    ifMatch: true,
    handle: async (context, { params, body }) =>
      answerSchedule(await setSchedule(context, params.agreementId, body)),
  }),
  read({
    operationId: 'listMaintenanceDue',
    summary: 'Maintenance that is due and has no ticket yet, the longest overdue first',
    description:
      'Under agreements that have not ended, or did so within 90 days. Of months that are over the ' +
      'latest of each agreement, with how many there are.',
    tag,
    path: '/v1/maintenance-due',
    access: office,
    query: dueListQuery,
    response: pageOf(dueMaintenanceSchema),
    problems: ['cursor-invalid'],
    handle: async (context, { query }) => ({ body: await listDue(context, query) }),
  }),
  act({
    operationId: 'openMaintenance',
    summary: 'Open the ticket of a month in which maintenance is due',
    description: 'Its visits are booked for the purpose `maintenance`, which has no fee.',
    tag,
    method: 'POST',
    path: '/v1/maintenance-due',
    access: office,
    body: newMaintenanceSchema,
    response: ticketSchema,
    status: 201,
    problems: ['unknown-reference', 'already-exists'],
    handle: async (context, { body }) => {
      const ticket = await openMaintenance(context, body);
      return {
        ...(await answerTicket(sqlOf(context.tx), ticket)),
        location: `/v1/tickets/${ticket.id}`,
      };
    },
  }),
  read({
    operationId: 'getBaseline',
    summary: 'What a system measured when it was last looked after; a technician’s own sites only',
    tag,
    path: '/v1/systems/:systemId/baseline',
    access: anyStaff,
    params: idParam('systemId'),
    response: baselineSchema,
    handle: async (context, { params }) => ({ body: await baselineOf(context, params.systemId) }),
  }),
];
