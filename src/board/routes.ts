import { z } from 'zod';
import { companyOf, localDay } from '../company/index.ts';
import { anyStaff } from '../platform/access/actor.ts';
import { plannableDay } from '../platform/http/formats.ts';
import { type ReadContext, type Route, read, stream } from '../platform/http/route.ts';
import { sha256 } from '../platform/sha256.ts';
import { boardOf } from './board-of.ts';
import { boardSchema } from './contract.ts';

export const boardRoutes: readonly Route[] = [
  read({
    operationId: 'getBoard',
    summary: 'The board of a day: every technician’s hours and visits, and what waits beside them',
    description:
      'A technician sees the own column. The ETag is made of all that is shown, so that asking again ' +
      'costs nothing until something is another. Nothing cancelled is shown.',
    tag: 'board',
    path: '/v1/board',
    access: anyStaff,
    query: z.strictObject({
      day: plannableDay
        .optional()
        .meta({ description: 'On the company’s calendar; today unless given.' }),
    }),
    response: boardSchema,
    versioned: true,
    handle: async (context, { query }) => {
      const body = await boardOf(context, query.day ?? (await today(context)));
      // Put together the same way each time, so that what is alike reads alike.
      return { body, etag: `"${sha256(JSON.stringify(body))}"` };
    },
  }),
  stream({
    operationId: 'followBoard',
    summary: 'What changes on the board, as it happens; a technician follows the own column',
    description:
      'Server-sent events (WHATWG HTML living standard, 9.2). `changed` says by its data, ' +
      '`{position, at, event, visitId?, ticketId?, technicianId?, days[]}`, which days to read again; ' +
      '`days` is empty for what shows on every day. `reload` says that it is not known what was ' +
      'missed: read the board again; it also begins every stream that resumes nothing, so open the ' +
      'stream first and read the board then. Whoever comes back with the `id` of the last event in ' +
      '`Last-Event-ID`, or in `after`, is told every change since, once and in order. One person has ' +
      'three streams: a fourth takes the place of the oldest, which is told `replaced` and ended. ' +
      'Whoever is told so closes it instead of coming back.',
    tag: 'board',
    path: '/v1/board/events',
    access: anyStaff,
    query: z.strictObject({
      after: z.coerce
        .number()
        .int()
        .min(0)
        .max(Number.MAX_SAFE_INTEGER)
        .optional()
        .meta({ description: 'For whoever cannot send `Last-Event-ID`, which goes before it.' }),
    }),
    handle: ({ board, actor, lastEventId }, { query }) =>
      board.follow(actor, lastEventId ? placeIn(lastEventId) : query.after),
  }),
];

async function today({ prisma, now }: ReadContext): Promise<string> {
  return localDay(now, (await companyOf(prisma)).timeZone);
}

/** The place that an identifier of ours names; none for one that we never gave. */
function placeIn(lastEventId: string): number | undefined {
  return /^\d{1,15}$/.test(lastEventId) ? Number(lastEventId) : undefined;
}
