import { z } from 'zod';
import { cutPageByKey, startAfterKey } from '../platform/http/page.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { acceptedBeforeCents } from './accepted-before.ts';
import type { followUpSchema } from './contract.ts';
import { followUpDays } from './follow-up-steps.ts';

type FollowUpBody = z.input<typeof followUpSchema>;

/**
 * Quotes that wait for an answer, with whom to call and when, the step that is due soonest first;
 * those with no step left come last. A quote that ran out while its ticket waits for the answer is
 * due since it did, unless there is something newer to act on: nobody may be left waiting unseen.
 * @throws ProblemError 400 for a cursor of another list
 */
export async function listFollowUps(
  { prisma, sql, now }: Pick<ReadContext, 'prisma' | 'sql' | 'now'>,
  { limit, cursor }: { limit: number; cursor?: string | undefined },
): Promise<{ items: FollowUpBody[]; nextCursor: string | null }> {
  const filter = { list: 'follow-ups' };
  const after = startAfterKey(cursor, filter, keySchema)?.split(' ');
  const { rows } = await sql.query<Row>(LIST, [
    now,
    followUpDays,
    after?.[0] ?? null,
    after?.[1] ?? null,
    limit + 1,
  ]);
  const page = cutPageByKey(rows, limit, filter, keyOf);
  const items: FollowUpBody[] = [];
  for (const row of page.items) items.push(toBody(row, await askOf(prisma, row), now));
  return { ...page, items };
}

/**
 * The approver is asked, and nobody else, where there is an option that the approver may agree to;
 * an approver without one would have to pass it on.
 */
async function askOf(prisma: ReadContext['prisma'], row: Row): Promise<FollowUpBody['ask']> {
  const { quoteId: id, ticketId, approverLimitCents, totalFromCents } = row;
  const approver = { as: 'approver', name: row.approverName, phone: row.approverPhone } as const;
  if (approverLimitCents === null) return approver;
  const leastCents = totalFromCents + (await acceptedBeforeCents(prisma, { id, ticketId }));
  if (leastCents <= approverLimitCents) return approver;
  return { as: 'payer', name: row.payerName, phone: row.payerPhone };
}

interface Row {
  quoteId: string;
  number: number;
  revision: number;
  ticketId: string;
  ticketNumber: number;
  approverName: string;
  approverPhone: string;
  approverLimitCents: number | null;
  payerName: string;
  payerPhone: string;
  totalFromCents: number;
  totalToCents: number;
  issuedAt: Date;
  validUntil: Date;
  isExpired: boolean;
  nextStep: number | null;
  dueAt: Date | null;
  lastStep: number | null;
  lastWay: NonNullable<FollowUpBody['last']>['way'] | null;
  lastNote: string | null;
  lastAt: Date | null;
}

const keySchema = z.string().regex(/^(infinity|\d{4}-\d{2}-\d{2}T[\d:.]+Z) [0-9a-f-]{36}$/);

function keyOf({ dueAt, quoteId }: Row): string {
  return `${dueAt?.toISOString() ?? 'infinity'} ${quoteId}`;
}

function toBody(row: Row, ask: FollowUpBody['ask'], now: Date): FollowUpBody {
  const { nextStep, dueAt, lastStep, lastWay, lastAt } = row;
  return {
    quoteId: row.quoteId,
    number: row.number,
    revision: row.revision,
    ticketId: row.ticketId,
    ticketNumber: row.ticketNumber,
    approver: { name: row.approverName, phone: row.approverPhone },
    ask,
    totalFromCents: row.totalFromCents,
    totalToCents: row.totalToCents,
    issuedAt: row.issuedAt.toISOString(),
    validUntil: row.validUntil.toISOString(),
    todo: row.isExpired ? 'issue_again_or_close' : 'follow_up',
    next:
      nextStep === null || dueAt === null
        ? null
        : { step: nextStep, dueAt: dueAt.toISOString(), overdue: dueAt <= now },
    last:
      lastStep === null || lastWay === null || lastAt === null
        ? null
        : { step: lastStep, way: lastWay, note: row.lastNote, followedAt: lastAt.toISOString() },
  };
}

// Something newer to act on, on a ticket that waits: another paper that came later, or an answer
// that the list of answers shows.
const OVERTAKEN = `
  EXISTS (SELECT 1 FROM quote other
    LEFT JOIN quote_state os ON os.quote_id = other.id AND os.state = 'issued'
    LEFT JOIN quote_issue oi ON oi.quote_id = os.quote_id AND oi.revision = os.revision
    LEFT JOIN quote_decline d ON d.quote_id = other.id
    LEFT JOIN quote_acceptance a ON a.quote_id = other.id
    LEFT JOIN acceptance_cancellation x ON x.quote_id = other.id
    CROSS JOIN LATERAL sold_findings(a.option_id) AS sold
    WHERE other.ticket_id = t.id AND other.id <> q.id
      AND ((oi.issued_at, other.id) > (i.issued_at, q.id)
        OR d.declined_at >= i.issued_at
        OR x.cancelled_at >= i.issued_at
        OR a.accepted_at >= i.issued_at AND (sold = '{}' OR NOT sold <@ ARRAY(
          SELECT w.finding_id FROM standing_outcome w WHERE w.quote_id = a.quote_id))))`;

// Whole days of 24 hours, whatever the clock of the session does meanwhile. A step that would come
// after the quote has expired never comes. What was quoted before the ticket was last closed is
// not issued again. Identifiers are in the order of time.
const LIST = `
  SELECT * FROM (
    SELECT q.id AS "quoteId", q.number, s.revision, t.id AS "ticketId",
      t.number AS "ticketNumber", c.name AS "approverName", c.phone AS "approverPhone",
      site.approver_limit_cents AS "approverLimitCents",
      payer.name AS "payerName", payer.phone AS "payerPhone",
      o.least AS "totalFromCents", o.most AS "totalToCents",
      i.issued_at AS "issuedAt", i.valid_until AS "validUntil",
      i.valid_until <= $1 AS "isExpired", next.step AS "nextStep",
      CASE WHEN i.valid_until <= $1 THEN i.valid_until ELSE next.due_at END AS "dueAt",
      last.step AS "lastStep", last.way AS "lastWay", last.note AS "lastNote",
      last.followed_at AS "lastAt"
    FROM quote_state s
    JOIN quote q ON q.id = s.quote_id
    JOIN quote_issue i ON i.quote_id = s.quote_id AND i.revision = s.revision
    JOIN ticket t ON t.id = q.ticket_id
    JOIN site ON site.id = t.site_id
    JOIN customer c ON c.id = site.approver_id
    JOIN customer payer ON payer.id = site.payer_id
    JOIN LATERAL (
      SELECT min(total_cents) AS least, max(total_cents) AS most
      FROM quote_option JOIN quote_revision r ON r.id = revision_id
      WHERE r.quote_id = s.quote_id AND r.number = s.revision) o ON true
    LEFT JOIN LATERAL (
      SELECT * FROM quote_follow_up f
      WHERE f.quote_id = s.quote_id AND f.revision = s.revision
      ORDER BY f.step DESC LIMIT 1) last ON true
    LEFT JOIN LATERAL (
      SELECT step::int, i.issued_at + make_interval(hours => 24 * days) AS due_at
      FROM unnest($2::int[]) WITH ORDINALITY AS steps(days, step)
      WHERE step > coalesce(last.step, 0)
      ORDER BY step LIMIT 1) next
      ON next.due_at < i.valid_until AND i.valid_until > $1
    WHERE s.state = 'issued' AND CASE WHEN i.valid_until > $1
      THEN t.state NOT IN ('closed', 'cancelled', 'resolved_by_phone')
      ELSE t.state = 'waiting_for_answer' AND NOT ${OVERTAKEN}
        AND NOT EXISTS (SELECT 1 FROM ticket_closing closed
          WHERE closed.ticket_id = t.id AND closed.id > q.id) END) open
  WHERE $3::text IS NULL
    OR (coalesce("dueAt", 'infinity'), "quoteId") > ($3::timestamptz, $4::uuid)
  ORDER BY coalesce("dueAt", 'infinity'), "quoteId" LIMIT $5`;
