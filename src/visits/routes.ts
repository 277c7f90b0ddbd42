import { z } from 'zod';
import { type Access, anyStaff } from '../platform/access/actor.ts';
import { idParam, instant } from '../platform/http/formats.ts';
import { pageOf } from '../platform/http/page.ts';
import type { ProblemError, ProblemExtensions } from '../platform/http/problem.ts';
import { act, nothing, type ReadContext, type Route, read } from '../platform/http/route.ts';
import { answerVisit } from './answer-visit.ts';
import { bookVisit } from './book-visit.ts';
import {
  newPlanSchema,
  newVisitSchema,
  rebookedVisitSchema,
  rebookingSchema,
  visitEndSchema,
  visitFeeQuoteSchema,
  visitReasonSchema,
  visitSchema,
} from './contract.ts';
import { finishVisit } from './finish-visit.ts';
import { listVisits, visitListQuery } from './list-visits.ts';
import { moveVisit, type VisitStep } from './move-visit.ts';
import { nearestFree, type WantedVisit } from './nearest-free.ts';
import { planVisit } from './plan-visit.ts';
import { rebookVisit } from './rebook-visit.ts';
import { tellVisitFee } from './tell-visit-fee.ts';
import { visitOf } from './visit-of.ts';
import { wantedInstead, wantedOf } from './wanted-visit.ts';

const fieldStaff: Access = ['technician', 'dispatcher', 'owner'];

/** A step of a visit as a route: POST /v1/visits/{visitId}/{verb}. */
function step<B extends z.ZodType>(definition: {
  operationId: string;
  verb: string;
  summary: string;
  access: Access;
  body: B;
  step: (body: z.output<B>) => VisitStep;
}): Route {
  return act({
    operationId: definition.operationId,
    summary: definition.summary,
    tag: 'visits',
    method: 'POST',
    path: `/v1/visits/:visitId/${definition.verb}`,
    access: definition.access,
    params: idParam('visitId'),
    body: definition.body,
    response: visitSchema,
    ifMatch: true,
    problems: ['not-allowed-now'],
    handle: async (context, { params, body }) =>
      answerVisit(await moveVisit(context, params.visitId, definition.step(body))),
  });
}

/** What a refusal for a window that is taken tells besides: what is free near it. */
async function freeNear(
  context: ReadContext,
  { slug }: ProblemError,
  wanted: () => Promise<WantedVisit | undefined>,
): Promise<ProblemExtensions> {
  if (slug !== 'window-taken') return {};
  const asked = await wanted();
  return asked === undefined ? {} : { nearestFree: await nearestFree(context, asked) };
}

export const visitRoutes: readonly Route[] = [
  act({
    operationId: 'bookVisit',
    summary: 'Book a technician into an arrival window',
    tag: 'visits',
    method: 'POST',
    path: '/v1/visits',
    access: ['dispatcher', 'owner'],
    body: newVisitSchema,
    response: visitSchema,
    status: 201,
    problems: [
      'window-taken',
      'visit-fee-differs',
      'not-allowed-now',
      'no-price-book',
      'unknown-reference',
    ],
    besides: (context, refusal, { body }) => freeNear(context, refusal, async () => wantedOf(body)),
    handle: async (context, { body }) => {
      const visit = await bookVisit(context, body);
      return { ...answerVisit(visit), location: `/v1/visits/${visit.id}` };
    },
  }),
  act({
    operationId: 'rebookVisit',
    summary: 'Book a visit anew: another technician, another window, or both',
    description:
      'The old visit is cancelled and the new one booked in one step, or neither. Where only the ' +
      'technician is another, the fee is as it was told, and all that is booked on the same trip ' +
      'goes along; another window needs a yes, and one to its fee.',
    tag: 'visits',
    method: 'POST',
    path: '/v1/visits/:visitId/rebook',
    access: ['dispatcher', 'owner'],
    params: idParam('visitId'),
    body: rebookingSchema,
    response: rebookedVisitSchema,
    status: 201,
    ifMatch: true,
    problems: [
      'window-taken',
      'visit-fee-differs',
      'not-allowed-now',
      'no-price-book',
      'unknown-reference',
    ],
    besides: (context, refusal, { params, body }) =>
      freeNear(context, refusal, () => wantedInstead(context, params.visitId, body)),
    handle: async (context, { params, body }) => {
      const { visit, along } = await rebookVisit(context, params.visitId, body);
      const answer = answerVisit(visit);
      const movedAlong = along.map(({ id, ticketId, movedFromId }) => ({
        ...{ ticketId, visitId: id, movedFromId: movedFromId ?? id },
      }));
      const location = `/v1/visits/${visit.id}`;
      return { ...answer, body: { ...answer.body, movedAlong }, location };
    },
  }),
  act({
    operationId: 'planVisit',
    summary: 'Plan the work of a booked visit anew, inside the window that was promised',
    description:
      'The fee stays. Where two trips to a site become one by it, the later visit loses its own fee.',
    tag: 'visits',
    method: 'PATCH',
    path: '/v1/visits/:visitId/plan',
    access: ['dispatcher', 'owner'],
    params: idParam('visitId'),
    body: newPlanSchema,
    response: visitSchema,
    ifMatch: true,
    problems: ['window-taken', 'not-allowed-now', 'no-price-book'],
    besides: (context, refusal, { params, body }) =>
      freeNear(context, refusal, () => wantedInstead(context, params.visitId, body)),
    handle: async (context, { params, body }) =>
      answerVisit(await planVisit(context, params.visitId, body)),
  }),
  read({
    operationId: 'getVisitFee',
    summary: 'The visit fee for an arrival window, to be told to the caller',
    description:
      'With a site, also what its maintenance agreement leaves of the fee. A visit is booked with ' +
      'both: the discount is a line of its own on the quote, and never less than was told. With the ' +
      'technician too, whether it is the trip of another visit there, which then has the only fee; ' +
      'ask with the planned work that the visit will be booked with.',
    tag: 'visits',
    path: '/v1/visit-fee',
    access: ['dispatcher', 'owner'],
    query: z.strictObject({
      windowStart: instant,
      windowEnd: instant.optional().meta({
        description: 'A trip over midnight goes on where one window ends and the next begins.',
      }),
      siteId: z.uuid().optional(),
      technicianId: z.uuid().optional(),
      plannedStart: instant.optional().meta({
        description: 'When the work is planned to start; with the window when absent.',
      }),
      minutes: z.coerce.number().int().min(5).max(1_440).optional().meta({
        description: 'How long it is planned to take.',
      }),
    }),
    response: visitFeeQuoteSchema,
    problems: ['no-price-book', 'not-found'],
    handle: async (context, { query }) => ({ body: await tellVisitFee(context, query) }),
  }),
  read({
    operationId: 'listVisits',
    summary: 'Visits in the order of their booking; a technician sees own ones only',
    tag: 'visits',
    path: '/v1/visits',
    access: anyStaff,
    query: visitListQuery,
    response: pageOf(visitSchema),
    problems: ['cursor-invalid'],
    handle: async (context, { query }) => ({ body: await listVisits(context, query) }),
  }),
  read({
    operationId: 'getVisit',
    summary: 'One visit',
    tag: 'visits',
    path: '/v1/visits/:visitId',
    access: anyStaff,
    params: idParam('visitId'),
    response: visitSchema,
    versioned: true,
    handle: async (context, { params }) =>
      answerVisit(await visitOf(context.prisma, context, params.visitId)),
  }),
  step({
    operationId: 'startTravel',
    verb: 'start-travel',
    summary: 'The technician is on the way',
    access: fieldStaff,
    body: nothing,
    step: () => ({ action: 'start_travel' }),
  }),
  step({
    operationId: 'arrive',
    verb: 'arrive',
    summary: 'The technician is on site',
    access: fieldStaff,
    body: nothing,
    step: () => ({ action: 'arrive', ticketAction: 'arrive' }),
  }),
  act({
    operationId: 'finishVisit',
    summary: 'The visit is over, and how the ticket goes on',
    description: 'Where it waits for a part: for which, and the day that the customer was told.',
    tag: 'visits',
    method: 'POST',
    path: '/v1/visits/:visitId/finish',
    access: fieldStaff,
    params: idParam('visitId'),
    body: visitEndSchema,
    response: visitSchema,
    ifMatch: true,
    problems: ['not-allowed-now', 'unknown-reference'],
    handle: async (context, { params, body }) =>
      answerVisit(await finishVisit(context, params.visitId, body)),
  }),
  step({
    operationId: 'reportNoAccess',
    verb: 'report-no-access',
    summary: 'Nobody let the technician in; the ticket can be booked again',
    access: fieldStaff,
    body: visitReasonSchema,
    step: ({ reason }) => ({ action: 'report_no_access', ticketAction: 'unbook', reason }),
  }),
  step({
    operationId: 'cancelVisit',
    verb: 'cancel',
    summary: 'Cancel a visit; the ticket can be booked again',
    access: ['dispatcher', 'owner'],
    body: visitReasonSchema,
    step: ({ reason }) => ({ action: 'cancel', ticketAction: 'unbook', reason }),
  }),
];
