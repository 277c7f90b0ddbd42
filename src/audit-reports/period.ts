import { companyOf, localDays, localDayText } from '../company/index.ts';
import { wrongQuery } from '../platform/http/problem.ts';
import type { ReportStore } from './report-store.ts';

/** Local days from the first to the last, with the instants between which they lie. */
export interface Period {
  readonly firstDay: string;
  readonly lastDay: string;
  readonly from: Date;
  readonly to: Date;
  readonly timeZone: string;
  /** `June 1, 2026 to June 30, 2026`. */
  readonly words: string;
}

/** A year of a hundred technicians; what one report reads takes some seconds for each 10,000. */
export const JOBS_MAX = 100_000;

/**
 * The period that was asked for.
 * @throws ProblemError 400 when it ends before it begins, and when more jobs ended in it than one
 *   report reads
 */
export async function periodOf(
  { prisma, sql }: Pick<ReportStore, 'prisma' | 'sql'>,
  { from: firstDay, to: lastDay }: { from: string; to: string },
  jobsMax = JOBS_MAX,
): Promise<Period> {
  if (lastDay < firstDay) throw wrongQuery('/to', 'wrong_days', 'is before from');
  const { timeZone } = await companyOf(prisma);
  const { from, to } = localDays(firstDay, lastDay, timeZone);
  const ended = await sql.query<{ jobs: number }>(JOBS_UP_TO, [from, to, jobsMax + 1]);
  if (ended.rows.some(({ jobs }) => jobs > jobsMax)) {
    const many = `more than ${jobsMax.toLocaleString('en-US')} jobs ended in this period`;
    throw wrongQuery('/to', 'too_many_jobs', `${many}; choose a shorter one`);
  }
  const inWords = (day: string) => localDayText(new Date(`${day}T12:00:00Z`), 'UTC', 'en');
  const isOneDay = firstDay === lastDay;
  const words = isOneDay ? inWords(firstDay) : `${inWords(firstDay)} to ${inWords(lastDay)}`;
  return { firstDay, lastDay, from, to, timeZone, words };
}

// Of the index alone, and never more of it than decides.
const JOBS_UP_TO = `
  SELECT count(*)::int AS jobs FROM (
    SELECT 1 FROM audit_judgement WHERE ended_at >= $1 AND ended_at < $2 LIMIT $3) ended`;
