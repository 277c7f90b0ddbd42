import { companyOf } from '../company/index.ts';
import type { Database } from '../platform/database/database.ts';
import { boardEvents, concernOf, homeEvents } from './board-events.ts';
import type { BoardEventBody } from './contract.ts';
import { daysOf } from './days-of.ts';

/** A sealed change of the board, and which technicians are told of it besides the office. */
export interface BoardEvent extends BoardEventBody {
  technicianIds: readonly string[] | 'everybody';
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
  const found = await pool.query<Row>(READ, [after, entriesMax, boardEvents, homeEvents]);
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
  visit: { technicianId: string; start: string; end: string } | null;
  ticketId: string | null;
  /** Who has live visits at the home that it is of. */
  visitorIds: string[] | null;
}

interface Changes {
  before?: Fields;
  after?: Fields;
}
interface Fields {
  technicianId?: string;
  helperId?: string;
  plannedStart?: string | null;
  plannedEnd?: string | null;
}

function eventOf(row: Row, timeZone: string): BoardEvent {
  const { position, at, event, visit, ticketId } = row;
  const { before, after } = JSON.parse(row.changes ?? '{}') as Changes;
  const technicianId = visit?.technicianId ?? technicianOf(row, after);
  return {
    position,
    at: at.toISOString(),
    event,
    ...(visit && { visitId: row.subjectId }),
    ...(ticketId !== null && { ticketId }),
    ...(technicianId !== undefined && { technicianId }),
    days: visit === null ? [] : daysSeen(visit, [before, after], timeZone),
    technicianIds: toldOf(row, technicianId, after?.helperId),
  };
}

/** Which technicians are told; see `Concern`. */
function toldOf(
  { event, visitorIds }: Row,
  technicianId: string | undefined,
  helperId: string | undefined,
): BoardEvent['technicianIds'] {
  switch (concernOf(event)) {
    case 'visit':
    case 'technician':
      return [technicianId, helperId].flatMap((id) => (id === undefined ? [] : [id]));
    case 'ticket':
    case 'household':
      return visitorIds ?? [];
    case 'everybody':
      return 'everybody';
    case 'office':
    case null:
      return [];
  }
}

/** Whose hours, profile or helper changed. */
function technicianOf({ event, subjectKind, subjectId }: Row, after: Fields | undefined) {
  if (subjectKind === 'staff' && event !== 'staff.added') return subjectId;
  return concernOf(event) === 'technician' ? after?.technicianId : undefined;
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

// A subject is looked up only where its kind says that its identifier is one of that table. Who has
// live visits is read as of now, which leaves nobody out: a visit booked, moved or ended since then
// has an entry of its own, further on. A ticket with a live visit has not ended, so the partial index
// finds it among all that ever were at the home.
const READ = `
  SELECT s.position::float8 AS position, e.at, e.event, e.subject_kind AS "subjectKind",
    e.subject_id AS "subjectId", CASE WHEN e.event = ANY ($3) THEN e.changes END AS changes,
    CASE WHEN v.id IS NOT NULL THEN json_build_object('technicianId', v.technician_id,
      'start', coalesce(v.planned_start, v.window_start),
      'end', coalesce(v.planned_end, v.window_end)) END AS visit,
    told."ticketId", h.ids AS "visitorIds"
  FROM (SELECT position, entry_id FROM journal_seal j
    WHERE j.position > $1::bigint ORDER BY j.position LIMIT $2) s
  JOIN journal_entry e ON e.id = s.entry_id
  LEFT JOIN visit v
    ON v.id = CASE WHEN e.subject_kind = 'visit' AND e.event = ANY ($3) THEN e.subject_id::uuid END
  LEFT JOIN phone_check p
    ON p.id = CASE WHEN e.subject_kind = 'phone_check' THEN e.subject_id::uuid END
  LEFT JOIN call_back b
    ON b.id = CASE WHEN e.subject_kind = 'call_back' THEN e.subject_id::uuid END
  CROSS JOIN LATERAL (
    SELECT coalesce(v.ticket_id, p.ticket_id, b.ticket_id,
      CASE WHEN e.subject_kind = 'ticket' THEN e.subject_id::uuid
        WHEN e.event = ANY ($3) THEN (e.changes::json -> 'after' ->> 'ticketId')::uuid END
      ) AS "ticketId") told
  LEFT JOIN LATERAL (
    SELECT array_agg(DISTINCT live.technician_id) AS ids
    FROM (
      SELECT CASE WHEN e.event = 'site.changed' THEN e.subject_id::uuid END AS id
      UNION ALL
      SELECT id FROM site
      WHERE occupant_id = CASE WHEN e.event = 'customer.changed' THEN e.subject_id::uuid END
      UNION ALL
      SELECT site_id FROM ticket WHERE id = told."ticketId"
    ) at_home
    JOIN ticket t ON t.site_id = at_home.id
      AND t.state NOT IN ('closed', 'resolved_by_phone', 'cancelled')
    JOIN visit live ON live.ticket_id = t.id AND live.state IN ('booked', 'on_the_way', 'on_site')
    WHERE e.event = ANY ($4)
    ) h ON e.event = ANY ($4)
  ORDER BY s.position`;

const LAST = `
  SELECT j.position::float8 AS position FROM journal_seal j ORDER BY j.position DESC LIMIT 1`;
