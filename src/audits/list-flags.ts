import type { ReadContext } from '../platform/http/route.ts';
import { type WholeFlag, wholeFlag, withAnswer } from './flag-of.ts';
import type { Period } from './summarize-audit.ts';

/** Flags, the newest first, by state, rule, the period in which their ticket ended, and who was there. */
export async function listFlags(
  { prisma, sql }: Pick<ReadContext, 'prisma' | 'sql'>,
  filter: Period & {
    state?: string[] | undefined;
    rule?: string | undefined;
    technicianId?: string | undefined;
    after: string | undefined;
    limit: number;
  },
): Promise<WholeFlag[]> {
  const { rows } = await sql.query<{ id: string }>(LIST, [
    filter.state ?? null,
    filter.rule ?? null,
    filter.from ?? null,
    filter.to ?? null,
    filter.technicianId ?? null,
    filter.after ?? null,
    filter.limit,
  ]);
  const flags = await prisma.auditFlag.findMany({
    where: { id: { in: rows.map(({ id }) => id) } },
    include: withAnswer,
    orderBy: { id: 'desc' },
  });
  return flags.map(wholeFlag);
}

const LIST = `
  SELECT f.id
  FROM audit_flag f
  JOIN audit_flag_state s ON s.flag_id = f.id
  JOIN audit_judgement j ON j.ticket_id = f.ticket_id
  CROSS JOIN company c
  WHERE ($1::text[] IS NULL OR s.state = ANY ($1))
    AND ($2::text IS NULL OR f.rule_code = $2)
    AND ($3::date IS NULL OR j.ended_at >= ($3::date::timestamp AT TIME ZONE c.time_zone))
    AND ($4::date IS NULL OR j.ended_at < (($4::date + 1)::timestamp AT TIME ZONE c.time_zone))
    AND ($5::uuid IS NULL OR EXISTS (SELECT 1 FROM visit v WHERE v.ticket_id = f.ticket_id
      AND v.technician_id = $5 AND v.arrived_at IS NOT NULL))
    AND ($6::uuid IS NULL OR f.id < $6)
  ORDER BY f.id DESC LIMIT $7`;
