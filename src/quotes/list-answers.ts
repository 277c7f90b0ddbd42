import { z } from 'zod';
import { cutPageByKey, startAfterKey } from '../platform/http/page.ts';
import type { ReadContext } from '../platform/http/route.ts';
import type { answerToActOnSchema } from './contract.ts';

type AnswerBody = z.input<typeof answerToActOnSchema>;

/**
 * Answers that came while the ticket waited for them, newest first, with what to do next. A ticket
 * is listed until its next visit is booked or it is closed, and while there is something to do: a
 * no alone is not, as long as another quote of the ticket is still with the customer.
 * @throws ProblemError 400 for a cursor of another list
 */
export async function listAnswers(
  { sql, now }: Pick<ReadContext, 'sql' | 'now'>,
  { limit, cursor }: { limit: number; cursor?: string | undefined },
): Promise<{ items: AnswerBody[]; nextCursor: string | null }> {
  const filter = { list: 'answers' };
  const after = startAfterKey(cursor, filter, keySchema)?.split(' ');
  const { rows } = await sql.query<Row>(LIST, [
    now,
    after?.[0] ?? null,
    after?.[1] ?? null,
    limit + 1,
  ]);
  const page = cutPageByKey(rows, limit, filter, keyOf);
  return { ...page, items: page.items.map(toBody) };
}

type Row = Omit<AnswerBody, 'answeredAt' | 'occupant' | 'through' | 'linkMadeBy'> & {
  answeredAt: Date;
  /** The link's, and who made it when; all null where our staff recorded the answer. */
  linkMadeAt: Date | null;
  makerId: string | null;
  makerName: string | null;
  occupantName: string;
  occupantPhone: string;
};

const keySchema = z.string().regex(/^\d{4}-\d{2}-\d{2}T[\d:.]+Z [0-9a-f-]{36}$/);

function keyOf({ answeredAt, quoteId }: Row): string {
  return `${answeredAt.toISOString()} ${quoteId}`;
}

function toBody(found: Row): AnswerBody {
  const { answeredAt, linkMadeAt, makerId, makerName, occupantName, occupantPhone, ...row } = found;
  return {
    ...row,
    answeredAt: answeredAt.toISOString(),
    ...(linkMadeAt === null || makerId === null || makerName === null
      ? { through: 'staff', linkMadeBy: null }
      : {
          through: 'link',
          linkMadeBy: { staffId: makerId, staffName: makerName, madeAt: linkMadeAt.toISOString() },
        }),
    occupant: { name: occupantName, phone: occupantPhone },
  };
}

// A yes whose work has all been done, or given up, was dealt with before; so was what was answered
// before the ticket was last closed. Identifiers are in the order of time.
const LIST = `
  WITH yes AS (
    SELECT q.ticket_id, a.quote_id, sold_findings(a.option_id) AS sold,
      ARRAY(SELECT w.finding_id FROM standing_outcome w WHERE w.quote_id = a.quote_id) AS settled
    FROM ticket t
    JOIN quote q ON q.ticket_id = t.id
    JOIN quote_acceptance a ON a.quote_id = q.id
    WHERE t.state = 'waiting_for_answer'
      AND NOT EXISTS (SELECT 1 FROM acceptance_cancellation x WHERE x.quote_id = q.id)),
  waiting AS (
    SELECT t.id, t.number, t.site_id,
      EXISTS (SELECT 1 FROM yes WHERE yes.ticket_id = t.id AND NOT sold <@ settled) AS has_work,
      EXISTS (SELECT 1 FROM quote q
        JOIN quote_state s ON s.quote_id = q.id AND s.state = 'issued'
        JOIN quote_issue i ON i.quote_id = s.quote_id AND i.revision = s.revision
        WHERE q.ticket_id = t.id AND i.valid_until > $1) AS has_open
    FROM ticket t WHERE t.state = 'waiting_for_answer')
  SELECT q.id AS "quoteId", q.number, t.id AS "ticketId", t.number AS "ticketNumber",
    said.answer, said.at AS "answeredAt", said.by_name AS "answeredByName",
    l.created_at AS "linkMadeAt", maker.id AS "makerId", maker.name AS "makerName",
    CASE WHEN t.has_work THEN 'book_return' ELSE 'close_ticket' END AS next,
    c.name AS "occupantName", c.phone AS "occupantPhone"
  FROM waiting t
  JOIN site ON site.id = t.site_id
  JOIN customer c ON c.id = site.occupant_id
  JOIN quote q ON q.ticket_id = t.id
  JOIN (
    SELECT quote_id, 'taken_back' AS answer, cancelled_at AS at, cancelled_by_name AS by_name,
      link_id FROM acceptance_cancellation
    UNION ALL SELECT quote_id, 'no', declined_at, declined_by_name, link_id FROM quote_decline
    UNION ALL SELECT a.quote_id, 'yes', a.accepted_at, a.accepted_by_name, a.link_id
    FROM quote_acceptance a JOIN yes ON yes.quote_id = a.quote_id
    WHERE sold = '{}' OR NOT sold <@ settled) said ON said.quote_id = q.id
  LEFT JOIN quote_link l ON l.id = said.link_id
  LEFT JOIN staff maker ON maker.id = l.created_by_id
  WHERE (t.has_work OR NOT t.has_open)
    AND NOT EXISTS (SELECT 1 FROM ticket_closing closed
      WHERE closed.ticket_id = t.id AND closed.id > q.id)
    AND ($2::timestamptz IS NULL OR (said.at, q.id) < ($2::timestamptz, $3::uuid))
  ORDER BY said.at DESC, q.id DESC LIMIT $4`;
