import { type DecisiveReading, readingPatterns, type TakenValue } from '../auditing/index.ts';
import type { Sql } from '../platform/database/database.ts';
import { besideOthers } from './beside-others.ts';
import type { AuditReport } from './contract.ts';
import { inSlices } from './in-slices.ts';
import type { Period } from './period.ts';

/**
 * The readings of the jobs of a period, each technician beside the others. What was read after its
 * quote is a rule of its own, job by job.
 */
export async function readingsOfPeriod(
  sql: Sql,
  period: Pick<Period, 'from' | 'to'>,
  nameOf: (technicianId: string) => string,
): Promise<AuditReport['readings']> {
  const decisive = await inSlices<DecisiveReading>(sql, period, { text: DECISIVE });
  const taken = await inSlices<TakenValue>(sql, period, { text: TAKEN });
  const patterns = readingPatterns({ decisive, taken, quoted: [] });
  return patterns
    .filter(({ what }) => what !== 'after_quote')
    .map(({ what, rows }) => ({
      what,
      rows: rows.map((row) => ({
        ...besideOthers(row, nameOf(row.subject)),
        standing: row.standing,
        readingIds: [...row.readingIds],
      })),
    }));
}

// A reading decides where it lies below its limit by more than its own uncertainty; the verdict
// that was frozen with the finding says by which limit and rating.
const DECISIVE = `
  SELECT f.id, f.recorded_by_id AS "technicianId", f.fault_code AS kind,
    (m ->> 'value')::float8 AS value, (m ->> 'low')::float8 - (m ->> 'uncertainty')::float8 AS "decidesAt",
    (m ->> 'rated')::float8 AS rating
  FROM audit_judgement j
  JOIN visit v ON v.ticket_id = j.ticket_id
  JOIN finding f ON f.visit_id = v.id AND f.fault_code LIKE 'run\\_capacitor\\_%'
  CROSS JOIN LATERAL json_array_elements(f.verdict -> 'criteria') c
  CROSS JOIN LATERAL (SELECT c -> 'measurement' AS m) measured
  WHERE j.ended_at >= $1 AND j.ended_at < $2 AND c ->> 'direction' = 'for'
    AND c ->> 'weight' = 'decisive' AND c ->> 'outcome' = 'met'
    AND m ->> 'low' IS NOT NULL AND m ->> 'rated' IS NOT NULL
  ORDER BY f.found_at, f.id`;

// As the gauge showed it, where it did; only what was found counts, for what was left is meant to be
// alike.
const TAKEN = `
  SELECT r.id, r.recorded_by_id AS "technicianId", t.site_id AS "siteId",
    concat_ws(' ', r.quantity, r.point, e.capacitor_herm_uf) AS kind,
    coalesce(r.shown_value, r.value)::text AS value
  FROM audit_judgement j
  JOIN ticket t ON t.id = j.ticket_id
  JOIN visit v ON v.ticket_id = t.id
  JOIN reading r ON r.visit_id = v.id AND r.phase = 'found' AND r.source <> 'reported'
  JOIN equipment e ON e.id = r.equipment_id
  WHERE j.ended_at >= $1 AND j.ended_at < $2
  ORDER BY r.taken_at, r.id`;
