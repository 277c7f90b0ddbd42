import { companyOf, localDay, startOfLocalMonth } from '../company/index.ts';
import type { Sql, Tx } from '../platform/database/database.ts';
import {
  type FaultCode,
  faultCatalog,
  faultCodeSchema,
  type Priors,
  priorsFrom,
} from '../trade/index.ts';

/** How common each fault is for this company, and up to which day its own tickets were counted. */
export type OwnPriors = { priors: Priors; until: string };

/**
 * How common each fault is, from the company's own tickets once there are enough. Tickets first
 * closed before this local month count, so that a question gets the same answer all month, and
 * the same again when it is asked about a month long past.
 */
export async function ownPriors({
  prisma,
  sql,
  now,
}: {
  prisma: Pick<Tx, 'company'>;
  sql: Sql;
  now: Date;
}): Promise<OwnPriors> {
  const { timeZone } = await companyOf(prisma);
  const month = startOfLocalMonth(now, timeZone);
  const until = localDay(month, timeZone);
  const known = counts.get(sql);
  if (known?.until === until) return { priors: await known.priors, until };
  const priors = countProven(sql, month).then(priorsFrom);
  counts.set(sql, { priors, until });
  // A count that failed is made again when next it is asked for.
  priors.catch(() => counts.delete(sql));
  return { priors: await priors, until };
}

// Counting reads every finding ever proven: once a month for each process and database will do, and
// whoever asks meanwhile waits for the same count.
const counts = new WeakMap<Sql, { priors: Promise<Priors>; until: string }>();

/**
 * How many closed tickets had each fault proven as a cause; those without a proven cause count for
 * the symptoms that were proven. A ticket counts once for a fault, however often it was found.
 */
async function countProven(sql: Sql, before: Date): Promise<Partial<Record<FaultCode, number>>> {
  const causes = faultCatalog.filter(({ role }) => role === 'cause').map(({ code }) => code);
  const { rows } = await sql.query<{ fault_code: string; tickets: number }>(COUNT, [
    before,
    causes,
  ]);
  return Object.fromEntries(
    rows
      // A fault that has left the catalog is none that anybody could suspect.
      .filter(({ fault_code }) => faultCodeSchema.safeParse(fault_code).success)
      .map(({ fault_code, tickets }) => [fault_code, tickets]),
  );
}

// What was found later, at a callback, counts from the month after: findings never change, and
// neither does a first closing, so the counts up to a day stay what they are.
const COUNT = `
  WITH proven AS (
    SELECT DISTINCT v.ticket_id, f.fault_code, f.fault_code = ANY ($2) AS is_cause
    FROM finding f
    JOIN visit v ON v.id = f.visit_id
    JOIN ticket t ON t.id = v.ticket_id
    WHERE f.standing = 'proven' AND f.found_at < $1 AND t.first_closed_at < $1
  ), of_ticket AS (
    SELECT fault_code, is_cause, bool_or(is_cause) OVER (PARTITION BY ticket_id) AS has_cause
    FROM proven
  )
  SELECT fault_code, count(*)::int AS tickets
  FROM of_ticket
  WHERE is_cause OR NOT has_cause
  GROUP BY fault_code`;
