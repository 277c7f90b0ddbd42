import type { JobCount } from './job-count.ts';
import type { Dimension } from './measures.ts';

/**
 * The kind of a job, for comparing like with like: what was called for, the season, and how old the
 * system is. What is compared stays out of its own kind, or there would be no others: months
 * without the season, tasks and parts without what was called for.
 */
export function kindOfJob({ work, month, systemAgeYears }: JobCount, by: Dimension): string {
  const season = by === 'month' ? 'any season' : seasonOf(month);
  const called = by === 'task' || by === 'part_category' ? 'any call' : work;
  return `${called}, ${season}, ${ageClassOf(systemAgeYears)}`;
}

/** Seasons of the trade where it is hot in summer and freezes in winter: common practice, no source. */
function seasonOf(month: string): string {
  const at = Number(month.slice(5));
  if (at >= 5 && at <= 9) return 'cooling';
  return at >= 11 || at <= 2 ? 'heating' : 'between';
}

/** Ages at which other things fail, about as long as makers warrant parts: common practice, no source. */
function ageClassOf(years: number | null): string {
  if (years === null) return 'age unknown';
  if (years < 5) return 'under 5 years';
  return years < 10 ? '5 to 9 years' : '10 years or more';
}
