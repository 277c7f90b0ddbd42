import { type Access, anyStaff } from '../platform/access/actor.ts';
import { idParam } from '../platform/http/formats.ts';
import { pageOf } from '../platform/http/page.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { answerCheck } from './answer-check.ts';
import { answerQuestion } from './answer-question.ts';
import { answerCallBack } from './call-back-body.ts';
import { checksOf } from './checks-of.ts';
import {
  callBackResultSchema,
  callBackSchema,
  dangerOverSchema,
  newPhoneAnswerSchema,
  newPhoneCheckSchema,
  phoneCheckEndSchema,
  phoneCheckSchema,
  phoneChecksSchema,
} from './contract.ts';
import { endPhoneCheck } from './end-phone-check.ts';
import { callBackListQuery, listCallBacks } from './list-call-backs.ts';
import { makeCallBack } from './make-call-back.ts';
import { recordDangerOver } from './record-danger-over.ts';
import { startPhoneCheck } from './start-phone-check.ts';

const office: Access = ['dispatcher', 'owner'];

export const phoneCheckRoutes: readonly Route[] = [
  act({
    operationId: 'startPhoneCheck',
    summary: 'Begin the phone checks of a ticket',
    description: 'The newest script, fixed from now on. The answer carries the first question.',
    tag: 'phone checks',
    method: 'POST',
    path: '/v1/tickets/:ticketId/phone-checks',
    access: office,
    params: idParam('ticketId'),
    body: newPhoneCheckSchema,
    response: phoneCheckSchema,
    status: 201,
    problems: ['not-allowed-now', 'already-exists'],
    handle: async (context, { params, body }) => ({
      ...answerCheck(await startPhoneCheck(context, params.ticketId, body)),
      location: `/v1/tickets/${params.ticketId}/phone-checks`,
    }),
  }),
  read({
    operationId: 'listPhoneChecks',
    summary:
      'The phone checks of a ticket, and the next question; a technician’s of own sites only',
    tag: 'phone checks',
    path: '/v1/tickets/:ticketId/phone-checks',
    access: anyStaff,
    params: idParam('ticketId'),
    response: phoneChecksSchema,
    versioned: true,
    handle: (context, { params }) => checksOf(context, params.ticketId),
  }),
  act({
    operationId: 'answerPhoneCheck',
    summary: 'Keep one answer; the next question comes back',
    description:
      'To the question that is asked now, or once more to one that was: then the path is walked ' +
      'again, and what is not on the way any more is kept and does not count. An answer in danger ' +
      'is taken at any time, and ends the phone checks at once.',
    tag: 'phone checks',
    method: 'POST',
    path: '/v1/tickets/:ticketId/phone-checks/answers',
    access: office,
    params: idParam('ticketId'),
    body: newPhoneAnswerSchema,
    response: phoneCheckSchema,
    ifMatch: true,
    problems: ['not-allowed-now', 'unknown-reference'],
    handle: async (context, { params, body }) =>
      answerCheck(await answerQuestion(context, params.ticketId, body)),
  }),
  act({
    operationId: 'endPhoneCheck',
    summary: 'End the phone checks: solved at no charge, not solved, or broken off',
    description:
      'Solved closes the ticket, and a call back is due within a day. What was told of the ' +
      'equipment is kept as reported observations of the ticket.',
    tag: 'phone checks',
    method: 'POST',
    path: '/v1/tickets/:ticketId/phone-checks/end',
    access: office,
    params: idParam('ticketId'),
    body: phoneCheckEndSchema,
    response: phoneCheckSchema,
    ifMatch: true,
    problems: ['not-allowed-now'],
    handle: async (context, { params, body }) =>
      answerCheck(await endPhoneCheck(context, params.ticketId, body)),
  }),
  act({
    operationId: 'recordDangerOver',
    summary: 'Record how we know that the danger is over; nobody is sent before',
    tag: 'phone checks',
    method: 'POST',
    path: '/v1/tickets/:ticketId/phone-checks/danger-over',
    access: office,
    params: idParam('ticketId'),
    body: dangerOverSchema,
    response: phoneCheckSchema,
    ifMatch: true,
    problems: ['not-allowed-now'],
    handle: async (context, { params, body }) =>
      answerCheck(await recordDangerOver(context, params.ticketId, body.note)),
  }),
  read({
    operationId: 'listCallBacks',
    summary: 'Whom to call back after a ticket was solved by phone, due first',
    tag: 'phone checks',
    path: '/v1/call-backs',
    access: office,
    query: callBackListQuery,
    response: pageOf(callBackSchema),
    problems: ['cursor-invalid'],
    handle: async (context, { query }) => ({ body: await listCallBacks(context, query) }),
  }),
  act({
    operationId: 'makeCallBack',
    summary: 'Record what a call back came to',
    description: '`back_again` opens a ticket of the same trouble, named in `nextTicketId`.',
    tag: 'phone checks',
    method: 'POST',
    path: '/v1/call-backs/:callBackId/made',
    access: office,
    params: idParam('callBackId'),
    body: callBackResultSchema,
    response: callBackSchema,
    ifMatch: true,
    problems: ['not-allowed-now'],
    handle: async (context, { params, body }) =>
      answerCallBack(await makeCallBack(context, params.callBackId, body)),
  }),
];
