import { z } from 'zod';
import { companyOf, localDay } from '../company/index.ts';
import { cutPageByKey, startAfterKey } from '../platform/http/page.ts';
import type { ReadContext } from '../platform/http/route.ts';
import type { partWaitSchema } from './contract.ts';

type PartWaitBody = z.input<typeof partWaitSchema>;

/**
 * Tickets that wait for a part with the latest promise of each, soonest day first, until somebody is
 * there with it. A ticket without any promise comes before all others: nobody there was told a day.
 * @throws ProblemError 400 for a cursor of another list
 */
export async function listPartWaits(
  { prisma, sql, now }: Pick<ReadContext, 'prisma' | 'sql' | 'now'>,
  { limit, cursor }: { limit: number; cursor?: string | undefined },
): Promise<{ items: PartWaitBody[]; nextCursor: string | null }> {
  const filter = { list: 'part-waits' };
  const after = startAfterKey(cursor, filter, keySchema)?.split(' ');
  const rows = await sql.query<Row>(LIST, [after?.[0] ?? null, after?.[1] ?? null, limit + 1]);
  const { timeZone } = await companyOf(prisma);
  const page = cutPageByKey(rows.rows, limit, filter, ({ day, ticketId }) => `${day} ${ticketId}`);
  return { ...page, items: page.items.map((row) => toBody(row, now, timeZone)) };
}

interface Row {
  ticketId: string;
  ticketNumber: number;
  siteId: string;
  /** The day promised, or '-infinity'. */
  day: string;
  id: string | null;
  visitId: string | null;
  what: string;
  partCode: string | null;
  toldTo: string;
  recordedAt: Date;
  name: string;
  phone: string;
  returnAt: Date | null;
}

const keySchema = z.string().regex(/^(-infinity|\d{4}-\d{2}-\d{2}) [0-9a-f-]{36}$/);

function toBody(row: Row, now: Date, timeZone: string): PartWaitBody {
  const { ticketId, ticketNumber, siteId, day, id, recordedAt, ...told } = row;
  const { name, phone, returnAt } = row;
  const { visitId, what, partCode, toldTo } = told;
  const promise =
    id === null
      ? null
      : {
          id,
          ticketId,
          visitId,
          what,
          partCode,
          promisedOn: day,
          toldTo,
          recordedAt: recordedAt.toISOString(),
        };
  return {
    ticketId,
    ticketNumber,
    siteId,
    promise,
    overdue: promise === null || day < localDay(now, timeZone),
    occupant: { name, phone },
    returnBookedFor: returnAt?.toISOString() ?? null,
    late: promise !== null && returnAt !== null && localDay(returnAt, timeZone) > day,
  };
}

const LIST = `
  SELECT *, until::text AS day FROM (
    SELECT t.id AS "ticketId", t.number AS "ticketNumber", t.site_id AS "siteId",
      coalesce(w.promised_on, '-infinity'::date) AS until,
      w.id, w.visit_id AS "visitId", w.waiting_for AS what, w.part_code AS "partCode",
      w.told_to AS "toldTo", w.recorded_at AS "recordedAt", o.name, o.phone,
      back.window_start AS "returnAt"
    FROM ticket t
    JOIN site s ON s.id = t.site_id
    JOIN customer o ON o.id = s.occupant_id
    LEFT JOIN visit back ON back.ticket_id = t.id AND back.state IN ('booked', 'on_the_way')
    LEFT JOIN LATERAL (
      SELECT * FROM part_wait p WHERE p.ticket_id = t.id
      ORDER BY p.recorded_at DESC, p.id DESC LIMIT 1) w ON true
    WHERE t.state = 'waiting_for_part' OR (t.state = 'scheduled' AND w.id IS NOT NULL
      AND back.purpose = 'return' AND NOT EXISTS (SELECT 1 FROM ticket_closing c
        WHERE c.ticket_id = t.id AND c.closed_at >= w.recorded_at))) waiting
  WHERE $1::date IS NULL OR (until, "ticketId") > ($1::date, $2::uuid)
  ORDER BY until, "ticketId" LIMIT $3`;
