import { sqlOf, type Tx } from '../platform/database/database.ts';
import type { AuditDeps } from './audit-deps.ts';
import { auditEvents } from './audit-events.ts';
import { holdAudit } from './hold-audit.ts';
import { judgeTickets } from './judge-tickets.ts';
import { type ReadEntry, touchedTickets } from './touched-tickets.ts';

/** So many entries are read at once, of every kind. */
const ENTRIES_MAX = 500;
/** So many tickets are judged in one transaction, so that none is long. */
const TICKETS_MAX = 100;

/**
 * Reads on in the sealed journal and judges the tickets that its changes touch. The place up to
 * which it was read moves in the transaction of the last judgement: whoever is stopped before judges
 * some of them again, and finds them as they were. Of several processes one reads at a time.
 * @returns how many entries were read
 */
export async function followJournal(deps: AuditDeps): Promise<number> {
  const { rows } = await deps.db.pool.query<Read>(READ, [ENTRIES_MAX, auditEvents]);
  const [first, last] = [rows[0], rows.at(-1)];
  if (first === undefined || last === undefined) return 0;
  const touched = await touchedTickets(
    deps.db.pool,
    rows.filter(({ touches }) => touches),
  );
  for (let at = 0; at === 0 || at < touched.length; at += TICKETS_MAX) {
    const isLast = at + TICKETS_MAX >= touched.length;
    const isOurs = await deps.db.transact(async (tx) => {
      await holdAudit(tx);
      if (!(await isStillAt(tx, first.place))) return false;
      await judgeTickets({ tx, ...deps.judging() }, touched.slice(at, at + TICKETS_MAX));
      if (isLast) await sqlOf(tx).query('UPDATE audit_place SET position = $1', [last.position]);
      return true;
    }, 'ReadCommitted');
    if (!isOurs) break;
  }
  return rows.length;
}

interface Read extends ReadEntry {
  /** Up to where it was read before. */
  place: string;
  position: string;
  touches: boolean;
}

/** Another process may have read on meanwhile. */
async function isStillAt(tx: Tx, place: string): Promise<boolean> {
  const { rows } = await sqlOf(tx).query<{ position: string }>(
    'SELECT position::text FROM audit_place',
  );
  return rows[0]?.position === place;
}

const READ = `
  SELECT p.position::text AS place, s.position::text, e.event, e.subject_kind AS "subjectKind",
    e.subject_id AS "subjectId", e.event = ANY ($2) AS touches,
    CASE WHEN e.event = 'work.struck' THEN e.changes::json -> 'after' ->> 'visitId' END AS "visitId"
  FROM audit_place p
  CROSS JOIN LATERAL (SELECT j.position, j.entry_id FROM journal_seal j
    WHERE j.position > p.position ORDER BY j.position LIMIT $1) s
  JOIN journal_entry e ON e.id = s.entry_id
  ORDER BY s.position`;
