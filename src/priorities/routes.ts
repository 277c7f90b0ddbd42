import { z } from 'zod';
import { companyOf } from '../company/index.ts';
import { dateOfDay, dayText } from '../platform/calendar-day.ts';
import { sqlOf } from '../platform/database/database.ts';
import type { DayWeather } from '../platform/database/generated/client.ts';
import { day, idParam } from '../platform/http/formats.ts';
import { notFound } from '../platform/http/problem.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { feltHeat } from '../priority/index.ts';
import {
  dayWeatherSchema,
  newWeatherSchema,
  priorityOverrideSchema,
  prioritySchema,
  waitingTicketSchema,
} from './contract.ts';
import { listWaiting } from './list-waiting.ts';
import { overridePriority } from './override-priority.ts';
import { priorityBody } from './priority-body.ts';
import { priorityOf, type Reader } from './priority-of.ts';
import { recordWeather } from './record-weather.ts';

const dayParam = z.strictObject({ day });

export const priorityRoutes: readonly Route[] = [
  read({
    operationId: 'listWaiting',
    summary: 'Tickets that nobody is booked for, most urgent first, each with why',
    tag: 'priorities',
    path: '/v1/waiting',
    access: ['dispatcher', 'owner'],
    query: z.strictObject({
      limit: z.coerce.number().int().min(1).max(200).default(50),
    }),
    response: z.strictObject({
      items: z.array(waitingTicketSchema),
      waiting: z.int().meta({ description: 'How many there are.' }),
      weighed: z.int().meta({ description: 'How many of them were weighed: the oldest thousand.' }),
    }),
    handle: async (context, { query }) => {
      const { timeZone } = await companyOf(context.prisma);
      return { body: await listWaiting({ ...context, timeZone }, query.limit) };
    },
  }),
  read({
    operationId: 'getPriority',
    summary: 'How urgent a ticket is, by which rules, and whether somebody ranked it by hand',
    tag: 'priorities',
    path: '/v1/tickets/:ticketId/priority',
    access: ['dispatcher', 'owner'],
    params: idParam('ticketId'),
    response: prioritySchema,
    handle: async (context, { params }) => ({ body: await bodyOf(context, params.ticketId) }),
  }),
  act({
    operationId: 'overridePriority',
    summary: 'Rank a waiting ticket by hand, with the reason; null gives it back to the rules',
    tag: 'priorities',
    method: 'POST',
    path: '/v1/tickets/:ticketId/priority',
    access: ['dispatcher', 'owner'],
    params: idParam('ticketId'),
    body: priorityOverrideSchema,
    response: prioritySchema,
    problems: ['not-allowed-now'],
    handle: async (context, { params: { ticketId }, body }) => {
      await overridePriority(context, ticketId, body);
      const { tx, now } = context;
      return { body: await bodyOf({ prisma: tx, sql: sqlOf(tx), now }, ticketId) };
    },
  }),
  act({
    operationId: 'recordWeather',
    summary: 'Note how hot a day is, so that tickets are ranked by it',
    tag: 'priorities',
    method: 'POST',
    path: '/v1/days/:day/weather',
    access: ['dispatcher', 'owner'],
    params: dayParam,
    body: newWeatherSchema,
    response: dayWeatherSchema,
    handle: async (context, { params, body }) => ({
      body: weatherBody(await recordWeather(context, params.day, body)),
    }),
  }),
  read({
    operationId: 'getWeather',
    summary: 'How hot a day is, as somebody noted it',
    tag: 'priorities',
    path: '/v1/days/:day/weather',
    access: ['dispatcher', 'owner'],
    params: dayParam,
    response: dayWeatherSchema,
    handle: async ({ prisma }, { params }) => {
      const weather = await prisma.dayWeather.findUnique({
        where: { day: dateOfDay(params.day) },
      });
      if (weather === null) throw notFound('weather of that day');
      return { body: weatherBody(weather) };
    },
  }),
];

async function bodyOf(reader: Reader, ticketId: string) {
  const priority = (await priorityOf(reader, [ticketId])).get(ticketId);
  if (priority === undefined) throw notFound('ticket');
  return priorityBody(priority);
}

function weatherBody({
  day,
  highDegF,
  relativeHumidityPercent,
}: DayWeather): z.input<typeof dayWeatherSchema> {
  const { degF, category } = feltHeat({ tempDegF: highDegF, relativeHumidityPercent });
  return {
    day: dayText(day),
    ...{ highDegF, relativeHumidityPercent, category },
    feelsLikeDegF: Math.round(degF),
  };
}
