import type { FastifyInstance } from 'fastify';
import { companyOf } from '../company/index.ts';
import { hashOfToken } from '../platform/access/token.ts';
import type { Clock } from '../platform/clock.ts';
import type { Database } from '../platform/database/database.ts';
import { isUnchanged } from '../platform/http/etag.ts';
import { noteAsker } from '../platform/http/note-asker.ts';
import { notFound } from '../platform/http/problem.ts';
import { sha256 } from '../platform/sha256.ts';
import { visitsOfCalendar } from './visits-of-calendar.ts';
import { writeCalendar } from './write-calendar.ts';

/**
 * The calendar behind an address that was made for it. One that never was, one that was revoked and
 * one of somebody who has left are the same: nothing is there, after the same one look into the
 * database. Nobody guesses 256 bits, so guesses are not counted.
 */
export function servesCalendars(
  app: FastifyInstance,
  { db, clock }: { db: Database; clock: Clock },
): void {
  const open = { schema: { hide: true }, config: { access: 'public' } } as const;
  app.get('/calendar/:token.ics', open, async (request, reply) => {
    reply.headers({ 'referrer-policy': 'no-referrer', 'x-robots-tag': 'noindex, nofollow' });
    const { token } = request.params as { token: string };
    const feed = await db.prisma.calendarFeed.findUnique({
      where: { tokenHash: hashOfToken(token) },
      include: { technician: { select: { disabledAt: true } } },
    });
    if (feed === null || feed.revokedAt !== null || feed.technician.disabledAt !== null) {
      throw notFound('calendar');
    }
    noteAsker(request, { kind: 'calendar_feed', id: feed.id });
    const { timeZone } = await companyOf(db.prisma);
    const visits = await visitsOfCalendar(db.pool, feed.technicianId, clock.now());
    const text = writeCalendar(visits, timeZone);
    const etag = `"${sha256(text)}"`;
    // It may be kept, and is asked for anew each time: a revoked address ends with the next look.
    reply.header('etag', etag).header('cache-control', 'private, no-cache');
    if (isUnchanged(request.headers['if-none-match'], etag)) return reply.code(304).send();
    return reply
      .type('text/calendar; charset=utf-8')
      .header('content-disposition', 'inline; filename="visits.ics"')
      .send(text);
  });
}
