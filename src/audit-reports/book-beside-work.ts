import {
  type BookPart,
  type BookTask,
  minutesBesideJobs,
  type OwnJob,
  partCostsBesideBills,
} from '../auditing/index.ts';
import { localDay } from '../company/index.ts';
import { bookInForce } from '../pricebook/index.ts';
import { cents } from '../pricing/index.ts';
import { billedCosts } from '../supplies/index.ts';
import type { AuditReport } from './contract.ts';
import { inSlices } from './in-slices.ts';
import type { Period } from './period.ts';
import type { ReportStore } from './report-store.ts';

/**
 * The price book in force beside the jobs of a period, and beside what suppliers billed within a year
 * of its end, or of today where it goes on.
 */
export async function bookBesideWork(
  { prisma, sql, now }: ReportStore,
  period: Period,
): Promise<AuditReport['book']> {
  const { id, number, policy } = await bookInForce(prisma, now);
  const tasks = await prisma.priceBookTask.findMany({ where: { versionId: id } });
  const parts = await prisma.priceBookPart.findMany({ where: { versionId: id } });
  const jobs = await inSlices<OwnJob>(sql, period, {
    text: OWN_JOBS,
    values: [policy.causeSearchMinutes],
  });
  const today = localDay(now, period.timeZone);
  const [last = today] = [period.lastDay, today].sort();
  const bills = await billedCosts(sql, id, { from: dayYearBefore(last), to: last });
  return {
    number,
    tasks: minutesBesideJobs(jobs, new Map(tasks.map((task) => [task.code, taskOf(task)]))),
    parts: partCostsBesideBills(
      bills.map(({ unitCostCents, ...bill }) => ({ ...bill, unitCostCents: cents(unitCostCents) })),
      new Map(parts.map((part) => [part.code, partOf(part)])),
    ),
  };
}

function taskOf({ name, minutes, accessMinutes }: BookTask): BookTask {
  return { name, minutes, accessMinutes };
}

function partOf({ name, costCents }: { name: string; costCents: number }): BookPart {
  return { name, costCents: cents(costCents) };
}

/** The same day a year before; of February 29 the day before it. */
function dayYearBefore(day: string): string {
  const [year = '', ...rest] = day.split('-');
  const before = [String(Number(year) - 1), ...rest].join('-');
  return before.endsWith('-02-29') ? before.replace('-29', '-28') : before;
}

// Jobs where one task was done and no other, on trips of which each tells how long it was.
const OWN_JOBS = `
  SELECT done.task_code AS "taskCode", spent.minutes::float8 AS "onSiteMinutes",
    $3::int AS "causeSearchMinutes"
  FROM audit_judgement j
  JOIN LATERAL (
    SELECT min(f.task_code) AS task_code, count(DISTINCT f.task_code) AS tasks
    FROM visit v JOIN standing_outcome w ON w.visit_id = v.id AND w.outcome = 'done'
    JOIN finding f ON f.id = w.finding_id WHERE v.ticket_id = j.ticket_id) done ON done.tasks = 1
  JOIN LATERAL (
    SELECT sum(extract(epoch FROM v.left_at - v.arrived_at) / 60) AS minutes,
      bool_and(v.left_at IS NOT NULL) AS is_known
    FROM visit v WHERE v.ticket_id = j.ticket_id AND v.state = 'finished') spent ON spent.is_known
  WHERE j.ended_at >= $1 AND j.ended_at < $2`;
