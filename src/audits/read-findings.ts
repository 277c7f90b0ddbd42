import type { JobFinding } from '../auditing/index.ts';
import { coveredUntil } from '../repair-or-replace/index.ts';
import { causeSearch, faultCodeSchema, type Observation } from '../trade/index.ts';
import type { BookShelf, ShelvedBook } from './book-shelf.ts';
import { instantOf } from './instant-of.ts';

/** A finding with the ticket it is of. */
export interface ReadFinding {
  readonly ticketId: string;
  readonly finding: JobFinding;
}

/**
 * What was found on tickets, in the order of time. Which category a part is of, and which warranty
 * replaces it, is said by the price book that was in force when it was found.
 */
export async function readFindings(
  rows: readonly FindingRow[],
  books: BookShelf,
): Promise<ReadFinding[]> {
  const read: ReadFinding[] = [];
  for (const row of rows) {
    const { ticketId, foundAt, lastReadingAt, looks, partCodes, warranty, ...same } = row;
    const book = partCodes.length === 0 ? undefined : await books.inForce(new Date(foundAt));
    read.push({
      ticketId,
      finding: {
        ...same,
        foundAt: instantOf(foundAt),
        ...(lastReadingAt !== null && { lastReadingAt }),
        ...lookedFor(row),
        parts: partCodes.map((code) => partOf(code, book, warranty)),
      },
    });
  }
  return read;
}

export interface FindingRow extends Omit<JobFinding, 'lastReadingAt' | 'parts'> {
  ticketId: string;
  lastReadingAt: string | null;
  /** What was seen at its visit, of a reset. */
  looks: readonly Pick<Observation, 'code' | 'answer' | 'source'>[] | null;
  partCodes: string[];
  warranty: { unit: string | null; compressor: string | null };
}

/** Nothing is due behind a fault that is a cause itself. */
function lookedFor({ faultCode, looks }: FindingRow): Pick<JobFinding, 'causeLookedFor'> {
  const fault = faultCodeSchema.safeParse(faultCode);
  if (looks === null || !fault.success) return {};
  const search = causeSearch(fault.data, looks);
  return search === 'not_due' ? {} : { causeLookedFor: search === 'recorded' };
}

function partOf(
  code: string,
  book: ShelvedBook | undefined,
  { unit, compressor }: FindingRow['warranty'],
): JobFinding['parts'][number] {
  const part = book?.partFacts.get(code);
  const until = part && {
    ...(unit !== null && { partsWarrantyUntil: unit }),
    ...(compressor !== null && { compressorWarrantyUntil: compressor }),
  };
  const warrantedUntil = part && until && coveredUntil(part, until);
  return { code, category: part?.category ?? code, warrantedUntil: warrantedUntil ?? null };
}

// A verdict rests on what was measured before any work.
export const FINDINGS = `
  SELECT v.ticket_id AS "ticketId", f.id, f.visit_id AS "visitId", e.system_id AS "systemId",
    f.fault_code AS "faultCode", f.task_code AS "taskCode", f.remedy_class AS "remedyClass",
    f.standing, f.priceable, o.finding_id IS NOT NULL AS "isOverridden", f.found_at AS "foundAt",
    (f.found_at AT TIME ZONE c.time_zone)::date::text AS "foundOn",
    (SELECT max(r ->> 'takenAt') FROM json_array_elements(f.evidence -> 'readings') r
      WHERE r ->> 'source' = 'measured' AND r ->> 'phase' = 'found') AS "lastReadingAt",
    CASE WHEN f.remedy_class = 'reset' THEN (
      SELECT coalesce(json_agg(json_build_object('code', b.code, 'answer', b.answer,
        'source', b.source)), '[]')
      FROM observation b WHERE b.visit_id = f.visit_id AND b.source = 'observed') END AS looks,
    array_to_json(ARRAY(SELECT p.part_code FROM finding_part p WHERE p.finding_id = f.id ORDER BY 1))
      AS "partCodes",
    json_build_object('unit', e.parts_warranty_until, 'compressor', e.compressor_warranty_until)
      AS warranty
  FROM visit v
  JOIN finding f ON f.visit_id = v.id
  JOIN equipment e ON e.id = f.equipment_id
  CROSS JOIN company c
  LEFT JOIN finding_override o ON o.finding_id = f.id
  WHERE v.ticket_id = ANY ($1)
  ORDER BY f.id`;
