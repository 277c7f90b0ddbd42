import { z } from 'zod';
import { type Access, anyStaff } from '../platform/access/actor.ts';
import { sqlOf } from '../platform/database/database.ts';
import { idParam } from '../platform/http/formats.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { answerTicket, ticketSchema } from '../tickets/index.ts';
import { outcomeBody, partLeftOverBody, partUseBody, refrigerantMoveBody } from './answer-work.ts';
import { closeTicket } from './close-ticket.ts';
import { closingsOf } from './closings-of.ts';
import {
  closeTicketSchema,
  closingSchema,
  newOutcomeSchema,
  newPartLeftOverSchema,
  newPartUseSchema,
  newRefrigerantMoveSchema,
  partLeftOverSchema,
  partUseSchema,
  refrigerantMoveSchema,
  reopenTicketSchema,
  strikeSchema,
  struckPartUseSchema,
  visitWorkSchema,
  workOutcomeSchema,
} from './contract.ts';
import { moveRefrigerant } from './move-refrigerant.ts';
import { recordOutcome } from './record-outcome.ts';
import { recordPartLeftOver } from './record-part-left-over.ts';
import { recordPartUse } from './record-part-use.ts';
import { reopenTicket } from './reopen-ticket.ts';
import { strikeOutcome } from './strike-outcome.ts';
import { strikePartLeftOver } from './strike-part-left-over.ts';
import { strikePartUse } from './strike-part-use.ts';
import { strikeRefrigerantMove } from './strike-refrigerant-move.ts';
import { workOfVisit } from './work-of-visit.ts';

/** What was done may be written down at the desk too, when the technician says it by phone. */
const fieldStaff: Access = ['technician', 'dispatcher', 'owner'];

export const workRoutes: readonly Route[] = [
  act({
    operationId: 'recordWorkOutcome',
    summary: 'Whether accepted work was done',
    description:
      'Said once for each finding that an accepted quote sells work for, unless that is struck out.',
    tag: 'work',
    method: 'POST',
    path: '/v1/visits/:visitId/work-outcomes',
    access: fieldStaff,
    params: idParam('visitId'),
    body: newOutcomeSchema,
    response: workOutcomeSchema,
    status: 201,
    problems: ['not-allowed-now', 'already-exists', 'unknown-reference'],
    handle: async (context, { params, body }) => ({
      body: outcomeBody(await recordOutcome(context, params.visitId, body), null),
      location: workOf(params.visitId),
    }),
  }),
  act({
    operationId: 'recordPartUse',
    summary: 'A part that went in, and what became of the old one',
    description:
      'Only parts that the accepted quote sells, and no more of them. The old part is offered to ' +
      'the customer (California Business and Professions Code 7159.14), or kept where its maker ' +
      'wants it back.',
    tag: 'work',
    method: 'POST',
    path: '/v1/visits/:visitId/part-uses',
    access: fieldStaff,
    params: idParam('visitId'),
    body: newPartUseSchema,
    response: partUseSchema,
    status: 201,
    problems: ['not-allowed-now', 'unknown-reference'],
    handle: async (context, { params, body }) => ({
      body: partUseBody(await recordPartUse(context, params.visitId, body), null),
      location: workOf(params.visitId),
    }),
  }),
  act({
    operationId: 'recordPartLeftOver',
    summary: 'A part that was sold and did not go in',
    description:
      'It comes off the bill: goods sold by measure at the price of what was used, by the rules of ' +
      'the quote. It is said once; what is needed after all takes a change order.',
    tag: 'work',
    method: 'POST',
    path: '/v1/visits/:visitId/parts-left-over',
    access: fieldStaff,
    params: idParam('visitId'),
    body: newPartLeftOverSchema,
    response: partLeftOverSchema,
    status: 201,
    problems: ['not-allowed-now', 'unknown-reference'],
    handle: async (context, { params, body }) => ({
      body: partLeftOverBody(await recordPartLeftOver(context, params.visitId, body), null),
      location: workOf(params.visitId),
    }),
  }),
  act({
    operationId: 'moveRefrigerant',
    summary: 'Refrigerant that went in or came out, by the weight of its cylinder',
    description:
      'Asks for the Section 608 certificate of whoever records it (40 CFR 82.161), and keeps it ' +
      'with the record. What comes out is recovered, never let into the air (40 CFR 82.154).',
    tag: 'work',
    method: 'POST',
    path: '/v1/visits/:visitId/refrigerant-moves',
    access: ['technician', 'owner'],
    params: idParam('visitId'),
    body: newRefrigerantMoveSchema,
    response: refrigerantMoveSchema,
    status: 201,
    problems: [
      'already-exists',
      'certificate-missing',
      'does-not-fit',
      'not-allowed-now',
      'unknown-reference',
    ],
    handle: async (context, { params, body }) => ({
      body: refrigerantMoveBody(await moveRefrigerant(context, params.visitId, body), null),
      location: workOf(params.visitId),
    }),
  }),
  act({
    operationId: 'strikeWorkOutcome',
    summary: 'Strike out that work was done, or was not, when it was written down wrongly',
    description:
      'The record stays readable and counts nowhere; then say again what became of the work. Until ' +
      'the ticket is closed, or something is sold by it.',
    tag: 'work',
    method: 'POST',
    path: '/v1/work-outcomes/:workOutcomeId/strike',
    access: fieldStaff,
    params: idParam('workOutcomeId'),
    body: strikeSchema,
    response: workOutcomeSchema,
    problems: ['already-exists', 'not-allowed-now'],
    handle: async (context, { params, body }) => {
      const { row, strike } = await strikeOutcome(context, params.workOutcomeId, body.reason);
      return { body: outcomeBody(row, strike) };
    },
  }),
  act({
    operationId: 'strikePartUse',
    summary: 'Strike out a part that was written down wrongly',
    description:
      'The record stays readable and counts nowhere; what was taken from stock for it lies there ' +
      'again, unless it came back or was counted meanwhile. Then record what is true. Until the ' +
      'ticket is closed.',
    tag: 'work',
    method: 'POST',
    path: '/v1/part-uses/:partUseId/strike',
    access: fieldStaff,
    params: idParam('partUseId'),
    body: strikeSchema,
    response: struckPartUseSchema,
    problems: ['already-exists', 'not-allowed-now'],
    handle: async (context, { params, body }) => {
      const { partUseId } = params;
      const { row, strike, stock } = await strikePartUse(context, partUseId, body.reason);
      return { body: { ...partUseBody(row, strike), stock } };
    },
  }),
  act({
    operationId: 'strikePartLeftOver',
    summary: 'Strike out a part left over that was written down wrongly',
    description:
      'The record stays readable and counts nowhere: say again whether the part went in or was ' +
      'left over. Until the ticket is closed.',
    tag: 'work',
    method: 'POST',
    path: '/v1/parts-left-over/:partLeftOverId/strike',
    access: fieldStaff,
    params: idParam('partLeftOverId'),
    body: strikeSchema,
    response: partLeftOverSchema,
    problems: ['already-exists', 'not-allowed-now'],
    handle: async (context, { params, body }) => {
      const { row, strike } = await strikePartLeftOver(context, params.partLeftOverId, body.reason);
      return { body: partLeftOverBody(row, strike) };
    },
  }),
  act({
    operationId: 'strikeRefrigerantMove',
    summary: 'Strike out a weighing that was written down wrongly',
    description:
      'The record stays readable and counts nowhere. Refrigerant recorded as used keeps its ' +
      'weighing: record the right weights first. Until the ticket is closed.',
    tag: 'work',
    method: 'POST',
    path: '/v1/refrigerant-moves/:refrigerantMoveId/strike',
    access: fieldStaff,
    params: idParam('refrigerantMoveId'),
    body: strikeSchema,
    response: refrigerantMoveSchema,
    problems: ['already-exists', 'not-allowed-now'],
    handle: async (context, { params, body }) => {
      const { refrigerantMoveId } = params;
      const { row, strike } = await strikeRefrigerantMove(context, refrigerantMoveId, body.reason);
      return { body: refrigerantMoveBody(row, strike) };
    },
  }),
  read({
    operationId: 'getVisitWork',
    summary: 'What was done at a visit, with which parts and refrigerant',
    tag: 'work',
    path: '/v1/visits/:visitId/work',
    access: anyStaff,
    params: idParam('visitId'),
    response: visitWorkSchema,
    handle: async (context, { params }) => ({
      body: await workOfVisit(context.prisma, context, params.visitId),
    }),
  }),
  act({
    operationId: 'closeTicket',
    summary: 'Close a ticket and draft its invoice',
    description:
      'Everything must be on record: an answer to each quote, an outcome of all accepted work, the ' +
      'parts and the refrigerant of what was done, and how the system was left.',
    tag: 'tickets',
    method: 'POST',
    path: '/v1/tickets/:ticketId/close',
    access: fieldStaff,
    params: idParam('ticketId'),
    body: closeTicketSchema,
    response: ticketSchema,
    ifMatch: true,
    problems: ['not-allowed-now', 'work-not-recorded', 'unknown-reference'],
    handle: async (context, { params, body }) =>
      answerTicket(sqlOf(context.tx), await closeTicket(context, params.ticketId, body)),
  }),
  act({
    operationId: 'reopenTicket',
    summary: 'The same trouble is back: reopen a ticket as a callback',
    description: 'Until the end of the thirtieth day after it was closed. Its visits have no fee.',
    tag: 'tickets',
    method: 'POST',
    path: '/v1/tickets/:ticketId/reopen',
    access: ['dispatcher', 'owner'],
    params: idParam('ticketId'),
    body: reopenTicketSchema,
    response: ticketSchema,
    ifMatch: true,
    problems: ['not-allowed-now'],
    handle: async (context, { params, body }) =>
      answerTicket(sqlOf(context.tx), await reopenTicket(context, params.ticketId, body)),
  }),
  read({
    operationId: 'listClosings',
    summary: 'How a ticket was closed, each time, and what reopened it',
    tag: 'tickets',
    path: '/v1/tickets/:ticketId/closings',
    access: anyStaff,
    params: idParam('ticketId'),
    response: z.strictObject({ items: z.array(closingSchema) }),
    handle: async (context, { params }) => ({
      body: { items: await closingsOf(context.prisma, context, params.ticketId) },
    }),
  }),
];

function workOf(visitId: string): string {
  return `/v1/visits/${visitId}/work`;
}
