import type { z } from 'zod';
import { companyOf, localDay } from '../company/index.ts';
import { notFound } from '../platform/http/problem.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { ownSites } from '../staff/index.ts';
import type { baselineSchema } from './contract.ts';

type Baseline = z.input<typeof baselineSchema>;

/**
 * What the machines of a system measured when they were last looked after: each quantity at each
 * point as the last maintenance visit that measured it left it, else as it was found there.
 * @throws ProblemError 404 for a system that is not there, or not at a site of theirs
 */
export async function baselineOf(
  { prisma, sql, actor }: ReadContext,
  systemId: string,
): Promise<Baseline> {
  const system = await prisma.comfortSystem.findFirst({
    where: { id: systemId, site: ownSites(actor) },
    select: { id: true },
  });
  if (system === null) throw notFound('system');
  const { timeZone } = await companyOf(prisma);
  const { rows } = await sql.query<FoundReading>(BASELINE, [systemId]);
  const readings = rows.map(({ arrivedAt, takenAt, ...reading }) => ({
    ...reading,
    takenAt: takenAt.toISOString(),
    day: localDay(arrivedAt, timeZone),
  }));
  return { systemId, readings };
}

type FoundReading = Omit<Baseline['readings'][number], 'day' | 'takenAt'> & {
  takenAt: Date;
  arrivedAt: Date;
};

const BASELINE = `
  SELECT DISTINCT ON (r.equipment_id, r.point, r.quantity)
    r.equipment_id AS "equipmentId", e.kind AS "equipmentKind", r.point, r.quantity, r.value,
    r.unit, r.phase, r.taken_at AS "takenAt", r.visit_id AS "visitId", v.arrived_at AS "arrivedAt"
  FROM equipment e
  JOIN reading r ON r.equipment_id = e.id
  JOIN visit v ON v.id = r.visit_id
  WHERE e.system_id = $1 AND v.purpose = 'maintenance' AND v.arrived_at IS NOT NULL
  ORDER BY r.equipment_id, r.point, r.quantity, v.arrived_at DESC, v.id DESC,
    r.phase = 'left' DESC, r.taken_at DESC, r.id DESC`;
