import { z } from 'zod';
import type { Access } from '../platform/access/actor.ts';
import { idParam, plannableDay } from '../platform/http/formats.ts';
import { notFound } from '../platform/http/problem.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { changedSincePlan, dayPlanBody } from './answer-day-plan.ts';
import {
  dayPlanSchema,
  planContentSchema,
  planOffersSchema,
  usedDayPlanSchema,
} from './contract.ts';
import { offersOf } from './offers-of.ts';
import { proposeDayPlan } from './propose-day-plan.ts';
import { useDayPlan } from './use-day-plan.ts';

const access: Access = ['dispatcher', 'owner'];

export const dayPlanRoutes: readonly Route[] = [
  act({
    operationId: 'proposeDayPlan',
    summary: 'Plan a day anew, as a proposal',
    description:
      'Promised windows stay. Nothing on the board changes until the plan is used, and nobody new is ' +
      'booked by it.',
    tag: 'day plans',
    method: 'POST',
    path: '/v1/days/:day/plans',
    access,
    params: z.strictObject({ day: plannableDay }),
    response: dayPlanSchema,
    status: 201,
    problems: ['no-price-book'],
    handle: async (context, { params }) => {
      const plan = await proposeDayPlan(context, params.day);
      return {
        body: dayPlanBody({ ...plan, use: null }, []),
        location: `/v1/day-plans/${plan.id}`,
      };
    },
  }),
  read({
    operationId: 'getDayPlan',
    summary: 'A plan of a day, and what of it is otherwise by now',
    tag: 'day plans',
    path: '/v1/day-plans/:dayPlanId',
    access,
    params: idParam('dayPlanId'),
    response: dayPlanSchema,
    handle: async (context, { params }) => {
      const plan = await context.prisma.dayPlan.findUnique({
        where: { id: params.dayPlanId },
        include: { use: true },
      });
      if (plan === null) throw notFound('day plan');
      const changed = plan.use === null ? await changedSincePlan(context, plan) : [];
      return { body: dayPlanBody(plan, changed) };
    },
  }),
  read({
    operationId: 'listDayPlanOffers',
    summary: 'Whom to call about the room that a plan has for them, and the fee to tell',
    tag: 'day plans',
    path: '/v1/day-plans/:dayPlanId/offers',
    access,
    params: idParam('dayPlanId'),
    response: planOffersSchema,
    problems: ['no-price-book'],
    handle: async (context, { params }) => {
      const id = params.dayPlanId;
      const plan = await context.prisma.dayPlan.findUnique({ where: { id } });
      if (plan === null) throw notFound('day plan');
      const { placed } = planContentSchema.parse(plan.content);
      return { body: { items: await offersOf(context, placed) } };
    },
  }),
  act({
    operationId: 'useDayPlan',
    summary: 'Carry out a plan of a day, whole or not at all',
    description: 'Nobody new is booked by it: `/offers` tells whom to call.',
    tag: 'day plans',
    method: 'POST',
    path: '/v1/day-plans/:dayPlanId/use',
    access,
    params: idParam('dayPlanId'),
    response: usedDayPlanSchema,
    problems: ['not-allowed-now', 'window-taken', 'no-price-book', 'unknown-reference'],
    handle: async (context, { params }) => ({ body: await useDayPlan(context, params.dayPlanId) }),
  }),
];
