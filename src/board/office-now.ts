import type { z } from 'zod';
import { localDay } from '../company/index.ts';
import { countDue } from '../maintenance/index.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { listWaiting } from '../priorities/index.ts';
import { beginningOf } from './beginning-of.ts';
import type { boardSchema, waitingSchema } from './contract.ts';
import { type HouseholdRow, householdColumns, householdOf } from './household-of.ts';

type Office = NonNullable<z.input<typeof boardSchema>['office']>;
type Waiting = z.input<typeof waitingSchema>;

/** More than anybody looks through; the rest is counted. */
const LISTED_MAX = 100;

/** What waits beside the columns as of now: tickets, calls back, maintenance. */
export async function officeNow(
  context: Pick<ReadContext, 'prisma' | 'sql' | 'now'>,
  timeZone: string,
): Promise<Office> {
  const { sql, now } = context;
  const today = localDay(now, timeZone);
  const { items, waiting } = await listWaiting({ ...context, timeZone }, LISTED_MAX);
  const beside = await besideTickets(
    sql,
    items.map(({ ticketId }) => ticketId),
  );
  const callBacks = await sql.query<Office['callBacks']>(CALL_BACKS, [now]);
  return {
    waiting: items.flatMap((item) => {
      const row = beside.get(item.ticketId);
      return row === undefined ? [] : [waitingBody(item, row, today)];
    }),
    waitingCount: waiting,
    callBacks: callBacks.rows[0] ?? { open: 0, overdue: 0 },
    maintenanceDue: await countDue(context, today, LISTED_MAX),
  };
}

type Item = Awaited<ReturnType<typeof listWaiting>>['items'][number];

interface BesideRow extends HouseholdRow {
  ticketId: string;
  what: string | null;
  promisedOn: string | null;
  isHere: boolean | null;
}

/** The household of each ticket, and the part it waits for, by one statement. */
async function besideTickets(
  sql: ReadContext['sql'],
  ticketIds: readonly string[],
): Promise<ReadonlyMap<string, BesideRow>> {
  const { rows } = await sql.query<BesideRow>(BESIDE, [ticketIds]);
  return new Map(rows.map((row) => [row.ticketId, row]));
}

function waitingBody(item: Item, row: BesideRow, today: string): Waiting {
  const { ticketId, ticketNumber, siteId, state, rank, sentence, waitingSince, symptoms } = item;
  const { what, promisedOn, isHere } = row;
  return {
    ...{ ticketId, ticketNumber, siteId, state, rank, sentence, waitingSince, symptoms },
    complaint: beginningOf(item.complaint),
    household: householdOf(row),
    part:
      state !== 'waiting_for_part' || what === null || promisedOn === null
        ? null
        : { what, promisedOn, isOverdue: promisedOn < today, isHere },
  };
}

// Of several promises the latest counts. Each home is looked up by its key: left to itself, the planner
// reads all homes there are rather than these hundred.
const BESIDE = `
  SELECT t.id AS "ticketId", home.*, w.waiting_for AS what,
    w.promised_on::text AS "promisedOn",
    CASE WHEN w.part_code IS NOT NULL THEN EXISTS (SELECT 1 FROM stock_level l
      WHERE l.part_code = w.part_code AND l.quantity > 0) END AS "isHere"
  FROM ticket t
  CROSS JOIN LATERAL (
    SELECT ${householdColumns} FROM site s JOIN customer o ON o.id = s.occupant_id
    WHERE s.id = t.site_id LIMIT 1) home
  LEFT JOIN LATERAL (
    SELECT p.waiting_for, p.promised_on, p.part_code FROM part_wait p
    WHERE p.ticket_id = t.id AND t.state = 'waiting_for_part'
    ORDER BY p.recorded_at DESC, p.id DESC LIMIT 1) w ON true
  WHERE t.id = ANY ($1::uuid[])`;

const CALL_BACKS = `
  SELECT count(*)::int AS open, (count(*) FILTER (WHERE due_at <= $1))::int AS overdue
  FROM call_back WHERE made_at IS NULL`;
