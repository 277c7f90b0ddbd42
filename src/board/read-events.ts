import { companyOf } from '../company/index.ts';
import type { Database } from '../platform/database/database.ts';
import { boardEvents, concernOf } from './board-events.ts';
import type { BoardEventBody } from './contract.ts';
import { daysOf } from './days-of.ts';

/** A sealed change of the board, and which technicians see it in their own column. */
export interface BoardEvent extends BoardEventBody {
  technicianIds: readonly string[];
}

/** A piece of the sealed journal: what of it concerns boards, and up to which place it was read. */
export interface ReadEvents {
  events: BoardEvent[];
  readTo: number;
}

/**
 * Reads on in the sealed journal, at most so many entries of every kind. Places are given in the
 * order of commits and without gaps, so that whoever has read to one has missed nothing before it.
 */
export async function readEvents(
  { pool, prisma }: Pick<Database, 'pool' | 'prisma'>,
  after: number,
  entriesMax: number,
): Promise<ReadEvents> {
  const found = await pool.query<Row>(READ, [after, entriesMax, boardEvents]);
  const readTo = found.rows.at(-1)?.position ?? after;
  const concerning = found.rows.filter(({ changes }) => changes !== null);
  if (concerning.length === 0) return { events: [], readTo };
  const { timeZone } = await companyOf(prisma);
  return { events: concerning.map((row) => eventOf(row, timeZone)), readTo };
}

/** The last place of the sealed journal; 0 before the first. */
export async function lastSealed({ pool }: Pick<Database, 'pool'>): Promise<number> {
  const found = await pool.query<{ position: number }>(LAST);
  return found.rows[0]?.position ?? 0;
}

interface Row {
  position: number;
  at: Date;
  event: string;
  subjectKind: string;
  subjectId: string;
  /** Null of what concerns no board. */
  changes: string | null;
  visit: { ticketId: string; technicianId: string; start: string; end: string } | null;
  /** Of a phone check or a call back. */
  callTicketId: string | null;
  /** Who has live visits at a household. */
  visitorIds: string[] | null;
}

interface Changes {
  before?: Fields;
  after?: Fields;
}
interface Fields {
  ticketId?: string;
  technicianId?: string;
  plannedStart?: string | null;
  plannedEnd?: string | null;
}

function eventOf(row: Row, timeZone: string): BoardEvent {
  const { position, at, event, visit } = row;
  const { before, after } = JSON.parse(row.changes ?? '{}') as Changes;
  const ticketId = visit?.ticketId ?? ticketOf(row, after);
  const technicianId = visit?.technicianId ?? technicianOf(row, after);
  return {
    position,
    at: at.toISOString(),
    event,
    ...(visit && { visitId: row.subjectId }),
    ...(ticketId !== undefined && { ticketId }),
    ...(technicianId !== undefined && { technicianId }),
    days: visit === null ? [] : daysSeen(visit, [before, after], timeZone),
    technicianIds: row.visitorIds ?? (technicianId === undefined ? [] : [technicianId]),
  };
}

function ticketOf(row: Row, after: Fields | undefined): string | undefined {
  if (row.subjectKind === 'ticket') return row.subjectId;
  return row.callTicketId ?? after?.ticketId;
}

/** Whose hours, profile or helper changed. */
function technicianOf(row: Row, after: Fields | undefined): string | undefined {
  if (concernOf(row.event) !== 'technician') return undefined;
  return after?.technicianId ?? (row.subjectKind === 'staff' ? row.subjectId : undefined);
}

/** The days of its work as it is now, as it was, and as it was to be by this change. */
function daysSeen(
  now: { start: string; end: string },
  changed: readonly (Fields | undefined)[],
  timeZone: string,
): string[] {
  const spans = [
    { start: new Date(now.start), end: new Date(now.end) },
    ...changed.flatMap((fields) =>
      fields?.plannedStart && fields.plannedEnd
        ? [{ start: new Date(fields.plannedStart), end: new Date(fields.plannedEnd) }]
        : [],
    ),
  ];
  return [...new Set(spans.flatMap(({ start, end }) => daysOf(start, end, timeZone)))].sort();
}

// A subject is looked up only where its kind says that its identifier is one of that table.
const READ = `
  SELECT s.position::float8 AS position, e.at, e.event, e.subject_kind AS "subjectKind",
    e.subject_id AS "subjectId", CASE WHEN e.event = ANY ($3) THEN e.changes::text END AS changes,
    CASE WHEN v.id IS NOT NULL THEN json_build_object('ticketId', v.ticket_id,
      'technicianId', v.technician_id, 'start', coalesce(v.planned_start, v.window_start),
      'end', coalesce(v.planned_end, v.window_end)) END AS visit,
    coalesce(p.ticket_id, b.ticket_id) AS "callTicketId", h.ids AS "visitorIds"
  FROM (SELECT position, entry_id FROM journal_seal j
    WHERE j.position > $1::bigint ORDER BY j.position LIMIT $2) s
  JOIN journal_entry e ON e.id = s.entry_id
  LEFT JOIN visit v
    ON v.id = CASE WHEN e.subject_kind = 'visit' AND e.event = ANY ($3) THEN e.subject_id::uuid END
  LEFT JOIN phone_check p
    ON p.id = CASE WHEN e.subject_kind = 'phone_check' THEN e.subject_id::uuid END
  LEFT JOIN call_back b
    ON b.id = CASE WHEN e.subject_kind = 'call_back' THEN e.subject_id::uuid END
  LEFT JOIN LATERAL (
    SELECT array_agg(DISTINCT of_household.technician_id) AS ids
    FROM (
      SELECT id FROM site WHERE id = CASE WHEN e.event = 'site.changed' THEN e.subject_id::uuid END
      UNION ALL
      SELECT id FROM site
      WHERE occupant_id = CASE WHEN e.event = 'customer.changed' THEN e.subject_id::uuid END
    ) at_site
    JOIN ticket t ON t.site_id = at_site.id
    JOIN visit of_household ON of_household.ticket_id = t.id
      AND of_household.state IN ('booked', 'on_the_way', 'on_site')
    WHERE e.event IN ('site.changed', 'customer.changed')
    ) h ON e.event IN ('site.changed', 'customer.changed')
  ORDER BY s.position`;

const LAST = `
  SELECT j.position::float8 AS position FROM journal_seal j ORDER BY j.position DESC LIMIT 1`;
